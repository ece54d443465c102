//! Rules to write on.

use super::fonts::{BODY, SMALL};
use super::page::Sheets;

/// Above each rule to write on.
const WRITING: f32 = 23.0;
/// Between two blanks beside each other.
const GAP: f32 = 14.0;
/// Above what stands on a rule.
const ABOVE: f32 = 4.0;

/// Rows of rules to write on, each with its label under it.
pub(super) fn blanks(sheets: &mut Sheets, rows: &[&[&str]]) {
    for labels in rows {
        let row: Vec<(&str, &str)> = labels.iter().map(|label| (*label, "")).collect();
        filled(sheets, &row);
    }
}

/// A row of rules with labels under them, and on them what is known already. What is too
/// wide for its rule takes more lines above it.
pub(super) fn filled(sheets: &mut Sheets, row: &[(&str, &str)]) {
    let (left, right) = (sheets.left(), sheets.right());
    let step = (right - left + GAP) / f32::from(u16::try_from(row.len()).unwrap_or(1));
    let wrap = |value: &str| match value {
        "" => Vec::new(),
        value => sheets.fonts.wrap(BODY, value, step - GAP),
    };
    let values: Vec<Vec<String>> = row.iter().map(|(_, value)| wrap(value)).collect();
    let most = values.iter().map(Vec::len).max().unwrap_or(0);
    let above = if most > 0 { ABOVE } else { 0.0 };
    let more = (1..most).fold(above, |sum, _| sum + BODY.leading);
    sheets.need(WRITING + more + SMALL.leading + 2.0);
    sheets.advance(WRITING + more - SMALL.leading);
    let mut x = left;
    for ((label, _), lines) in row.iter().zip(&values) {
        let up = lines.iter().fold(1.0, |sum, _| sum + BODY.leading);
        sheets.advance(-up);
        for line in lines {
            sheets.text(BODY, x, line);
            sheets.advance(BODY.leading);
        }
        sheets.advance(1.0);
        sheets.rule(x, x + step - GAP);
        sheets.advance(1.5);
        sheets.text(SMALL, x, label);
        sheets.advance(-1.5);
        x += step;
    }
    sheets.advance(1.5 + SMALL.leading);
}
