//! The first page: what, when, and what the job is.

use crate::output::pdf::blocks::{BLOCK_GAP, block, facts, heading};
use crate::output::pdf::fonts::{BODY, LARGE, TITLE};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::pdf::words::day;
use crate::output::words::INCOMPLETE;
use pricing::quote::Quote;

/// What paper this is, of which job, revision and day.
pub(super) fn name(sheets: &mut Sheets, quote: &Quote) {
    let (left, inner) = (sheets.left(), sheets.inner());
    sheets.text(TITLE, left, "Quote");
    // The smaller title stands on the same line of type.
    sheets.advance(6.2);
    sheets.paragraph(LARGE, inner, &quote.title);
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
    sheets.gap(BLOCK_GAP);
    let (left, right) = (sheets.left() + 10.0, sheets.right() - 10.0);
    sheets.open_frame();
    sheets.banner(LARGE, INCOMPLETE);
    sheets.advance(5.0);
    for work in &quote.unrated {
        sheets.paragraph(BODY, left, work);
    }
    if quote.missing.is_empty() {
        sheets.advance(4.0);
        sheets.close_frame();
        return;
    }
    sheets.text(
        BODY,
        left,
        "These parts have no price yet, so there is no total:",
    );
    sheets.advance(BODY.leading + 3.0);
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
    .draw(sheets, left, right);
    sheets.advance(4.0);
    sheets.close_frame();
}

pub(super) fn scope(sheets: &mut Sheets, quote: &Quote) {
    if quote.scope.is_empty() {
        return;
    }
    block(sheets, "Scope");
    let inner = sheets.inner();
    for (at, text) in quote.scope.iter().enumerate() {
        if at > 0 {
            sheets.gap(4.0);
        }
        sheets.paragraph(BODY, inner, text);
    }
}

pub(super) fn outlets(sheets: &mut Sheets, quote: &Quote) {
    if quote.outlets.is_empty() {
        return;
    }
    heading(sheets, "Outlets");
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
    let (left, right) = (sheets.left(), sheets.right());
    Table {
        columns: &columns,
        rows,
        ruled: true,
    }
    .draw(sheets, left, right);
}
