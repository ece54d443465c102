//! What the papers that a customer signs are made of: who and whom, facts, blocks
//! with their headings, lists, signatures.

use super::fonts::{BODY, LARGE, SMALL, STRONG, TITLE};
use super::page::Sheets;
use super::table::Table;
use pricing::quote::Company;

/// Between two blocks.
pub(super) const BLOCK_GAP: f32 = 13.0;

/// Above each rule to write on.
const WRITING: f32 = 22.0;

/// How tall the two signatures are.
const SIGNATURE: f32 = STRONG.leading + 3.0 * (WRITING + 1.5 + SMALL.leading);

/// Who offers and who is offered, side by side.
pub(super) fn parties(sheets: &mut Sheets, company: &Company, customer: &str) {
    let (left, right) = (sheets.left(), sheets.right());
    let middle = f32::midpoint(left, right) + 7.0;
    let top = sheets.down();
    let below = company.lines.join("\n");
    party(sheets, left, middle - 14.0, "From", &company.name, &below);
    let end = sheets.down();
    sheets.go_to(top);
    party(sheets, middle, right, "For", customer, "");
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

/// Short facts beside each other, each with its share of the width: a fingerprint
/// is never broken.
pub(super) fn facts(sheets: &mut Sheets, facts: &[(&str, String, f32)]) {
    let (inner, right) = (sheets.inner(), sheets.right());
    sheets.need(SMALL.leading + 6.0 * BODY.leading);
    let top = sheets.down();
    let mut bottom = top;
    let mut x = inner;
    for (label, value, share) in facts {
        let step = share * (right - inner);
        sheets.go_to(top);
        sheets.text(SMALL, x, label);
        sheets.advance(SMALL.leading);
        for line in sheets.fonts.wrap_within(BODY, value, step - 8.0, 6) {
            sheets.text(BODY, x, &line);
            sheets.advance(BODY.leading);
        }
        bottom = bottom.max(sheets.down());
        x += step;
    }
    sheets.go_to(bottom);
}

/// The word for the paper, and the job beside it on the same line of type.
pub(super) fn name(sheets: &mut Sheets, kind: &str, title: &str) {
    let left = sheets.left();
    sheets.bookmark(0, kind);
    sheets.text(TITLE, left, kind);
    sheets.advance(6.2);
    let x = left + sheets.fonts.width(TITLE, kind) + 14.0;
    sheets.paragraph(LARGE, x.max(sheets.inner()), title);
}

/// A loud hole in a paper: what it lacks, in a frame.
pub(super) fn hole(sheets: &mut Sheets, banner: &str, draw: impl FnOnce(&mut Sheets, f32)) {
    sheets.gap(BLOCK_GAP);
    sheets.need(LARGE.leading + 4.0 * BODY.leading);
    sheets.open_frame();
    sheets.banner(LARGE, banner);
    sheets.advance(5.0);
    let left = sheets.left() + 10.0;
    draw(sheets, left);
    sheets.advance(4.0);
    sheets.close_frame();
}

/// Begins a block whose heading stands beside its text.
pub(super) fn block(sheets: &mut Sheets, label: &str) {
    block_of(sheets, label, 3.0 * BODY.leading);
}

/// The same, for a block that needs `height` on one sheet.
pub(super) fn block_of(sheets: &mut Sheets, label: &str, height: f32) {
    sheets.gap(BLOCK_GAP);
    sheets.need(height + 6.0);
    let (left, right) = (sheets.left(), sheets.right());
    if !sheets.at_top() {
        sheets.rule(left, right);
        sheets.advance(6.0);
    }
    sheets.bookmark(0, label);
    sheets.text(STRONG, left, label);
}

/// Begins a block whose heading stands above it.
pub(super) fn heading(sheets: &mut Sheets, label: &str) {
    heading_of(sheets, label, 5.0 * BODY.leading);
}

/// The same, for what needs `height` on one sheet.
pub(super) fn heading_of(sheets: &mut Sheets, label: &str, height: f32) {
    block_of(sheets, label, height + STRONG.leading + 4.0);
    sheets.advance(STRONG.leading + 4.0);
}

/// A table under its heading, as wide as the page's text.
pub(super) fn table(sheets: &mut Sheets, label: &str, table: &Table) {
    let (left, right) = (sheets.left(), sheets.right());
    heading_of(sheets, label, table.beginning(sheets, left, right));
    table.draw(sheets, left, right);
}

/// A table beside its heading, on one sheet where a sheet holds it.
pub(super) fn amounts(sheets: &mut Sheets, label: &str, table: &Table) {
    let (inner, right) = (sheets.inner(), sheets.right());
    sheets.together(|sheets| {
        block_of(sheets, label, table.beginning(sheets, inner, right));
        // The first line stands level with the heading.
        sheets.advance(-table.pad());
        table.draw(sheets, inner, right);
    });
}

/// Room for both parties to sign.
pub(super) fn signatures(sheets: &mut Sheets, customer: &str, company: &str) {
    sheets.need(SIGNATURE);
    let (inner, right) = (sheets.inner(), sheets.right());
    let middle = f32::midpoint(inner, right);
    let top = sheets.down();
    let customer = match customer.trim() {
        "" => "The customer",
        customer => customer,
    };
    signature(sheets, inner, middle - 10.0, customer);
    let end = sheets.down();
    sheets.go_to(top);
    signature(sheets, middle + 10.0, right, company);
    sheets.go_to(sheets.down().max(end));
}

fn signature(sheets: &mut Sheets, left: f32, right: f32, party: &str) {
    let line = sheets.fonts.shorten(STRONG, party, right - left);
    sheets.text(STRONG, left, &line);
    sheets.advance(STRONG.leading);
    for label in ["Name", "Signature", "Date"] {
        sheets.advance(WRITING);
        sheets.rule(left, right);
        sheets.advance(1.5);
        sheets.text(SMALL, left, label);
        sheets.advance(SMALL.leading);
    }
}
