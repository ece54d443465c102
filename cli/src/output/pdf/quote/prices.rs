//! Sums and lines. Every figure is printed as the quote holds it.

use super::{block_of, heading};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use pricing::money::Money;
use pricing::quote::{Quote, Section, Tax};

/// The price by section.
pub(super) fn summary(sheets: &mut Sheets, quote: &Quote) {
    let mut rows: Vec<_> = quote
        .sections
        .iter()
        .map(|section| {
            let words = with_hole(section, &section.title);
            Row::Line(vec![words, section.subtotal.show()])
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
                price(line.unit_price),
                price(line.amount),
            ]));
        }
        rows.push(Row::Sum(
            with_hole(section, "Subtotal"),
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
fn sums(quote: &Quote) -> [Row; 3] {
    let currency = quote.subtotal.currency();
    let code = currency.code();
    let (before, total) = match quote.total {
        Some(total) => ("Total before tax", total.show()),
        None => ("Priced so far, before tax", "incomplete".to_owned()),
    };
    [
        Row::Sum(before.to_owned(), quote.subtotal.show()),
        Row::Sum(tax_words(&quote.tax), quote.tax.amount.show()),
        Row::Total(format!("Total {code}"), total),
    ]
}

fn tax_words(tax: &Tax) -> String {
    format!("{}, {} % of {}", tax.label, tax.percent, tax.base.show())
}

/// The words of a section's sum, which say so where a price is missing in it.
fn with_hole(section: &Section, words: &str) -> String {
    if section.lines.iter().any(|line| line.amount.is_none()) {
        format!("{words}, without its missing prices")
    } else {
        words.to_owned()
    }
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
    table.draw(sheets, inner, right);
}

fn price(money: Option<Money>) -> String {
    money.map_or_else(|| "no price".to_owned(), |money| money.show())
}
