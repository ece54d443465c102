//! The first page: who, what, when, and what the job is.

use super::{BLOCK_GAP, block, day, heading};
use crate::output::pdf::fonts::{BODY, LARGE, SMALL, STRONG, TITLE};
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words::INCOMPLETE;
use pricing::quote::Quote;

/// Who offers and who is offered, side by side.
pub(super) fn parties(sheets: &mut Sheets, quote: &Quote) {
    let (left, right) = (sheets.left(), sheets.right());
    let middle = f32::midpoint(left, right) + 7.0;
    let top = sheets.down();
    let company = quote.company.lines.join("\n");
    party(
        sheets,
        left,
        middle - 14.0,
        "From",
        &quote.company.name,
        &company,
    );
    let end = sheets.down();
    sheets.go_to(top);
    party(sheets, middle, right, "For", &quote.customer, "");
    sheets.go_to(sheets.down().max(end));
    sheets.gap(22.0);
}

/// A name and the lines under it, between two edges.
fn party(sheets: &mut Sheets, left: f32, right: f32, label: &str, name: &str, below: &str) {
    if name.trim().is_empty() && below.trim().is_empty() {
        return;
    }
    for (style, text) in [(SMALL, label), (STRONG, name), (BODY, below)] {
        for line in sheets.fonts.wrap_within(style, text, right - left, 12) {
            sheets.text(style, left, &line);
            sheets.advance(style.leading);
        }
    }
}

/// What paper this is, of which job, revision and day.
pub(super) fn name(sheets: &mut Sheets, quote: &Quote) {
    let (left, inner, right) = (sheets.left(), sheets.inner(), sheets.right());
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
    // Each with its share of the width: the fingerprint is never broken.
    let facts = [
        ("Revision", revision.to_owned(), 0.16),
        ("Date", day(quote.date), 0.26),
        ("Valid until", day(quote.valid_until), 0.26),
        ("Fingerprint", quote.fingerprint.clone(), 0.32),
    ];
    sheets.need(SMALL.leading + 6.0 * BODY.leading);
    let top = sheets.down();
    let mut bottom = top;
    let mut x = inner;
    for (label, value, share) in facts {
        let step = share * (right - inner);
        sheets.go_to(top);
        sheets.text(SMALL, x, label);
        sheets.advance(SMALL.leading);
        for line in sheets.fonts.wrap_within(BODY, &value, step - 8.0, 6) {
            sheets.text(BODY, x, &line);
            sheets.advance(BODY.leading);
        }
        bottom = bottom.max(sheets.down());
        x += step;
    }
    sheets.go_to(bottom);
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
