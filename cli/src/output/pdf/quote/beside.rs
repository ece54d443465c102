//! What is offered beside the work: options, alternates, one more drop.

use crate::output::pdf::blocks::heading;
use crate::output::pdf::fonts::{BODY, SMALL};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words::quote as said;
use pricing::quote::Quote;

/// The same work in several ways, on a sheet of its own unless half of one is free.
pub(super) fn options(sheets: &mut Sheets, quote: &Quote) {
    let Some(options) = &quote.options else {
        return;
    };
    sheets.need(sheets.whole() / 2.0);
    heading(sheets, said::OPTIONS);
    let left = sheets.left();
    sheets.paragraph(BODY, left, &options.scope);
    sheets.gap(6.0);
    let days = said::has_days(&options.options);
    let rows = options.options.iter().map(|option| {
        let mut cells = vec![option.name.clone(), said::option(option)];
        if days {
            cells.push(said::days(option));
        }
        cells.extend([said::adds(&option.total), said::difference(option)]);
        Row::Line(cells)
    });
    let total = format!("Total {}", quote.subtotal.currency().code());
    let mut columns = vec![("Option", Align::Left), ("What", Align::Left)];
    if days {
        columns.push(("Days on site", Align::Right));
    }
    columns.extend([(total.as_str(), Align::Right), ("Difference", Align::Right)]);
    draw(sheets, &columns, rows.collect());
}

/// What is not in the total until it is asked for.
pub(super) fn alternates(sheets: &mut Sheets, quote: &Quote) {
    if quote.alternates.is_empty() {
        return;
    }
    heading(sheets, said::ALTERNATES);
    let adds = format!("Adds {}", quote.subtotal.currency().code());
    let columns = [
        ("Alternate", Align::Left),
        ("What", Align::Left),
        (adds.as_str(), Align::Right),
    ];
    let rows = quote.alternates.iter().map(|one| {
        Row::Line(vec![
            one.name.clone(),
            said::alternate(one),
            said::adds(&one.price),
        ])
    });
    draw(sheets, &columns, rows.collect());
    sheets.gap(4.0);
    let left = sheets.left();
    sheets.paragraph(SMALL, left, said::EACH_ALONE);
}

/// What one more drop of each kind would add.
pub(super) fn added(sheets: &mut Sheets, quote: &Quote) {
    let Some(added) = &quote.added else {
        return;
    };
    heading(sheets, said::ADDED);
    let adds = format!("Adds {}", quote.subtotal.currency().code());
    let columns = [
        ("Drop", Align::Left),
        ("What", Align::Left),
        (adds.as_str(), Align::Right),
    ];
    let rows = added.drops.iter().map(|drop| {
        Row::Line(vec![
            drop.kind.clone(),
            said::reasoned([drop.text.clone()], &drop.price),
            said::adds(&drop.price),
        ])
    });
    draw(sheets, &columns, rows.collect());
    sheets.gap(4.0);
    let left = sheets.left();
    sheets.paragraph(SMALL, left, &added.basis.join(" "));
}

fn draw(sheets: &mut Sheets, columns: &[(&str, Align)], rows: Vec<Row>) {
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns,
        rows,
        ruled: true,
    }
    .draw(sheets, left, right);
}
