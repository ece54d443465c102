//! Rules to write on.

use super::fonts::SMALL;
use super::page::Sheets;

/// Above each rule to write on.
const WRITING: f32 = 23.0;
/// Between two blanks beside each other.
const GAP: f32 = 14.0;

/// Rows of rules to write on, each with its label under it.
pub(super) fn blanks(sheets: &mut Sheets, rows: &[&[&str]]) {
    let (left, right) = (sheets.left(), sheets.right());
    for labels in rows {
        sheets.need(WRITING + SMALL.leading + 2.0);
        sheets.advance(WRITING - SMALL.leading);
        let mut x = left;
        let step = (right - left + GAP) / f32::from(u16::try_from(labels.len()).unwrap_or(1));
        for label in *labels {
            sheets.rule(x, x + step - GAP);
            sheets.advance(1.5);
            sheets.text(SMALL, x, label);
            sheets.advance(-1.5);
            x += step;
        }
        sheets.advance(1.5 + SMALL.leading);
    }
}
