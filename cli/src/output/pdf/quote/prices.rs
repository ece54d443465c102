//! Sums and lines. Every figure is printed as the quote holds it.

use crate::output::pdf::blocks;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words::{self, quote as said};
use pricing::quote::{Level, Prices, Quote};
use pricing::rates::Provisional;

/// The price, by section where that is wanted and shown.
pub(super) fn summary(sheets: &mut Sheets, quote: &Quote, by_section: bool) {
    let prices = quote.prices();
    let sections = prices.sections.iter().filter(|_| by_section);
    let sections = sections.filter_map(|section| {
        let title = said::section_sum(section, &section.title);
        Some(Row::Line(vec![title, section.subtotal?.show()]))
    });
    let mut rows: Vec<Row> = sections.collect();
    rows.extend(provisional(quote, |one| one.in_total));
    rows.extend(sums(quote, &prices));
    amounts(sheets, "Price", rows);
    let choices = said::choices(quote);
    if !choices.is_empty() {
        let rows = choices.into_iter();
        let rows = rows.map(|(words, sum)| Row::Line(vec![words, sum.show()]));
        amounts(sheets, "To choose", rows.collect());
    }
    let rows: Vec<Row> = provisional(quote, |one| !one.in_total).collect();
    if !rows.is_empty() {
        amounts(sheets, "Beside it", rows);
    }
}

fn provisional(quote: &Quote, wanted: fn(&Provisional) -> bool) -> impl Iterator<Item = Row> {
    let wanted = quote.provisional.iter().filter(move |one| wanted(one));
    wanted.map(|one| {
        let words = format!("{}: {}", said::PROVISIONAL, said::provisional(one));
        Row::Line(vec![words, one.price.show()])
    })
}

/// Every line of every section, with the prices that are shown.
pub(super) fn lines(sheets: &mut Sheets, quote: &Quote) {
    if quote.sections.is_empty() {
        return;
    }
    let prices = quote.prices();
    let shown = match quote.level {
        Level::Lines => 5,
        Level::Sections => 4,
        Level::Sum => 3,
    };
    // The lines begin on a sheet of their own unless a third of this one is free.
    sheets.need(sheets.whole() / 3.0);
    let mut rows = Vec::new();
    for section in &prices.sections {
        rows.push(Row::Title(section.title.clone()));
        for line in &section.lines {
            let mut cells = vec![line.text.clone(), line.how_much(), line.unit.clone()];
            match quote.level {
                Level::Lines => {
                    cells.extend([words::price(line.unit_price), words::price(line.amount)]);
                }
                Level::Sections => cells.push(String::new()),
                Level::Sum => {}
            }
            rows.push(Row::Line(cells));
        }
        if let Some(subtotal) = section.subtotal {
            let words = said::section_sum(section, "Subtotal");
            rows.push(Row::Sum(words, subtotal.show()));
        }
    }
    if quote.level > Level::Sum {
        if !quote.provisional.is_empty() {
            rows.push(Row::Title(said::PROVISIONAL.to_owned()));
            rows.extend(quote.provisional.iter().map(|one| {
                let mut cells = vec![said::provisional(one)];
                cells.resize(shown - 1, String::new());
                cells.push(one.price.show());
                Row::Line(cells)
            }));
        }
        rows.push(Row::Gap);
        rows.extend(sums(quote, &prices));
    }
    let unit_price = ("Unit price", Align::Right);
    let all = [
        ("What", Align::Left),
        ("Quantity", Align::Point),
        ("Unit", Align::Left),
        unit_price,
        ("Amount", Align::Right),
    ];
    let columns: Vec<(&str, Align)> = match quote.level {
        Level::Sections => all
            .into_iter()
            .filter(|column| column.0 != unit_price.0)
            .collect(),
        Level::Lines | Level::Sum => all.into_iter().take(shown).collect(),
    };
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    blocks::table(sheets, said::lines_head(quote), &table);
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
fn sums(quote: &Quote, prices: &Prices) -> Vec<Row> {
    let mut sums = said::quote_sums(quote, prices, "Total");
    let total = sums.pop();
    let sums = sums
        .into_iter()
        .map(|(words, figure)| Row::Sum(words, figure));
    sums.chain(total.map(|(words, figure)| Row::Total(words, figure)))
        .collect()
}

/// A block of words and sums.
fn amounts(sheets: &mut Sheets, label: &str, rows: Vec<Row>) {
    let table = Table {
        columns: &[("", Align::Left), ("", Align::Right)],
        rows,
        ruled: false,
    };
    blocks::amounts(sheets, label, &table);
}
