//! The first page: when, what is missing, and what to do next; and the outlets.

use crate::output::pdf::blocks::{self, facts, hole};
use crate::output::pdf::fonts::BODY;
use crate::output::pdf::lists::List;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::pdf::words::day;
use crate::output::words::{INCOMPLETE, quote as said};
use pricing::quote::Quote;

/// Of which revision and day it is, and how long it holds.
pub(super) fn dates(sheets: &mut Sheets, quote: &Quote) {
    sheets.gap(6.0);
    let revision = if quote.revision.trim().is_empty() {
        "–"
    } else {
        &quote.revision
    };
    let facts_of = [
        ("Revision", revision.to_owned(), 0.16),
        ("Date", day(quote.date), 0.26),
        ("Valid until", day(quote.valid_until), 0.26),
        ("Fingerprint", quote.fingerprint.clone(), 0.32),
    ];
    facts(sheets, &facts_of);
}

/// The loud hole: every part that has no price.
pub(super) fn missing(sheets: &mut Sheets, quote: &Quote) {
    if quote.total.is_some() {
        return;
    }
    hole(sheets, INCOMPLETE, |sheets, left| {
        for work in &quote.unrated {
            sheets.paragraph(BODY, left, work);
        }
        parts(sheets, quote, left);
    });
}

fn parts(sheets: &mut Sheets, quote: &Quote, left: f32) {
    if quote.missing.is_empty() {
        return;
    }
    let words = "These parts have no price yet, so there is no total:";
    sheets.paragraph(BODY, left, words);
    sheets.advance(3.0);
    let rows = quote
        .missing
        .iter()
        .map(|part| {
            Row::Line(vec![
                format!("{}\n{}", part.words, part.reason)
                    .trim_end()
                    .to_owned(),
                part.key.size.to_string(),
                part.quantity.to_string(),
                part.unit.clone(),
            ])
        })
        .collect();
    let columns = [
        ("Part", Align::Left),
        ("Size", Align::Left),
        ("Quantity", Align::Point),
        ("Unit", Align::Left),
    ];
    Table {
        columns: &columns,
        rows,
        ruled: false,
    }
    .draw(sheets, left, sheets.right() - 10.0);
}

/// What the customer does next.
pub(super) fn next(sheets: &mut Sheets, quote: &Quote) {
    let steps = said::next_steps(quote);
    let list = List {
        label: said::NEXT,
        items: &steps,
        counted: true,
    };
    sheets.together(|sheets| list.draw(sheets));
}

/// The outlets, on one sheet where a sheet holds them.
pub(super) fn outlets(sheets: &mut Sheets, quote: &Quote) {
    if quote.outlets.is_empty() {
        return;
    }
    let rows = quote
        .outlets
        .iter()
        .map(|outlet| {
            Row::Line(vec![
                outlet.number.to_string(),
                outlet.name.clone(),
                outlet.height.clone(),
                outlet.drop.clone(),
                outlet.sides.join("\n"),
                outlet.drain.clone(),
            ])
        })
        .collect();
    let columns = [
        ("No.", Align::Right),
        ("Outlet", Align::Left),
        ("Above the floor", Align::Right),
        ("Drop", Align::Left),
        ("A line for each side", Align::Left),
        ("Drain", Align::Left),
    ];
    let table = Table {
        columns: &columns,
        rows,
        ruled: true,
    };
    sheets.together(|sheets| blocks::table(sheets, "Outlets", &table));
}
