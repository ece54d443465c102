//! What is offered beside the work: options, alternates, one more drop.

use crate::output::pdf::blocks::{self, heading};
use crate::output::pdf::fonts::{BODY, SMALL};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words::quote as said;
use pricing::quote::Quote;

/// The same work in several ways.
pub(super) fn options(sheets: &mut Sheets, quote: &Quote) {
    let Some(options) = &quote.options else {
        return;
    };
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
    let table = ruled(&columns, rows.collect());
    sheets.together(|sheets| {
        heading(sheets, said::OPTIONS);
        let (left, right) = (sheets.left(), sheets.right());
        sheets.paragraph(BODY, left, &options.scope);
        sheets.gap(6.0);
        table.draw(sheets, left, right);
    });
}

/// What is not in the total until it is asked for.
pub(super) fn alternates(sheets: &mut Sheets, quote: &Quote) {
    if quote.alternates.is_empty() {
        return;
    }
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
    let table = ruled(&columns, rows.collect());
    with_basis(sheets, said::ALTERNATES, &table, said::EACH_ALONE);
}

/// What one more drop of each kind would add.
pub(super) fn added(sheets: &mut Sheets, quote: &Quote) {
    let Some(added) = &quote.added else {
        return;
    };
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
    let table = ruled(&columns, rows.collect());
    with_basis(sheets, said::ADDED, &table, &added.basis.join(" "));
}

const fn ruled<'a>(columns: &'a [(&'a str, Align)], rows: Vec<Row>) -> Table<'a> {
    Table {
        columns,
        rows,
        ruled: true,
    }
}

/// A table with what it stands on under it.
fn with_basis(sheets: &mut Sheets, label: &str, table: &Table, basis: &str) {
    sheets.together(|sheets| {
        blocks::table(sheets, label, table);
        sheets.gap(4.0);
        let left = sheets.left();
        sheets.paragraph(SMALL, left, basis);
    });
}
