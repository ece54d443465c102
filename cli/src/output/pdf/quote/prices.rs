//! Sums and lines. Every figure is printed as the quote holds it.

use crate::output::pdf::blocks::{block_of, heading};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words;
use pricing::quote::Quote;

/// The price by section.
pub(super) fn summary(sheets: &mut Sheets, quote: &Quote) {
    let mut rows: Vec<_> = quote
        .sections
        .iter()
        .map(|section| {
            let title = words::section_sum(section, &section.title);
            Row::Line(vec![title, section.subtotal.show()])
        })
        .collect();
    rows.extend(sums(quote));
    amounts(sheets, "Price", rows);
}

/// Every line of every section.
pub(super) fn lines(sheets: &mut Sheets, quote: &Quote) {
    if quote.sections.is_empty() {
        return;
    }
    // The lines begin on a sheet of their own unless half of this one is free.
    sheets.need(sheets.whole() / 2.0);
    heading(sheets, "Itemised");
    let mut rows = Vec::new();
    for section in &quote.sections {
        rows.push(Row::Title(section.title.clone()));
        for line in &section.lines {
            rows.push(Row::Line(vec![
                line.text.clone(),
                line.quantity.to_string(),
                line.unit.clone(),
                words::price(line.unit_price),
                words::price(line.amount),
            ]));
        }
        rows.push(Row::Sum(
            words::section_sum(section, "Subtotal"),
            section.subtotal.show(),
        ));
    }
    rows.push(Row::Gap);
    rows.extend(sums(quote));
    let columns = [
        ("What", Align::Left),
        ("Quantity", Align::Point),
        ("Unit", Align::Left),
        ("Unit price", Align::Right),
        ("Amount", Align::Right),
    ];
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns: &columns,
        rows,
        ruled: false,
    }
    .draw(sheets, left, right);
}

pub(super) fn payment(sheets: &mut Sheets, quote: &Quote) {
    if quote.payment.is_empty() {
        return;
    }
    let rows = quote
        .payment
        .iter()
        .map(|step| Row::Line(vec![step.when.clone(), step.amount.show()]))
        .collect();
    amounts(sheets, "Payment", rows);
}

/// The sums of the whole quote.
fn sums(quote: &Quote) -> Vec<Row> {
    let currency = quote.subtotal.currency();
    let total = format!("Total {}", currency.code());
    let rounding = quote.rounding;
    let rounding = rounding.map(|sum| Row::Sum("Rounding".to_owned(), sum.show()));
    let sums = [
        Row::Sum(words::before_tax(quote).to_owned(), quote.subtotal.show()),
        Row::Sum(words::tax(&quote.tax), quote.tax.amount.show()),
        Row::Total(total, words::total(quote)),
    ];
    rounding.into_iter().chain(sums).collect()
}

/// A block of words and sums, on one sheet if that wastes less than half of it.
fn amounts(sheets: &mut Sheets, label: &str, rows: Vec<Row>) {
    let columns = [("", Align::Left), ("", Align::Right)];
    let (inner, right) = (sheets.inner(), sheets.right());
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    let height = table.whole_height(sheets.fonts, inner, right);
    block_of(sheets, label, height.min(sheets.whole() / 2.0));
    // The first line stands level with the heading.
    sheets.advance(-table.pad());
    table.draw(sheets, inner, right);
}
