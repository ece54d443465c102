//! Lengths in cells: feet and inches in two, or millimetres in one.

use super::columns::{Column, Columns};
use super::dates;
use super::grid::Cell;
use crate::finding::Finding;
use crate::quantity::{Length, Units};
use crate::source::{Source, Span};
use crate::survey::as_written;

/// A length as the sheet has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Reading {
    /// As the job file writes it.
    pub(super) text: String,
    /// How long it is; none if it is not measured.
    pub(super) length: Option<Length>,
    /// Whether it was measured, neither left open nor paced.
    pub(super) measured: bool,
    /// Where it stands.
    pub(super) span: Span,
}

/// What is wrong with a cell, and how to mend it.
pub(super) type Wrong = (String, String);

/// The row and the column of a cell, as messages name them.
pub(super) fn place(source: &Source, cell: &Cell, column: Column) -> String {
    let row = source.line(cell.span.start);
    format!("row {row}, column {}: ", column.head())
}

/// Reads the length of a row; none if its cells are empty.
pub(super) fn read(
    row: &[Cell],
    columns: &Columns,
    source: &Source,
    findings: &mut Vec<Finding>,
) -> Result<Option<Reading>, ()> {
    let before = findings.len();
    let mut number = |column: Column| {
        let cell = columns.cell(row, column)?;
        let read = Number::read(cell, column);
        let wrong = |(message, help): Wrong| {
            let message = format!("{}{message}", place(source, cell, column));
            findings.push(Finding::unreadable(
                "sheet-length",
                cell.span,
                message,
                help,
            ));
        };
        Some((read.map_err(wrong).ok()?, cell.span))
    };
    let cells = match columns.units {
        Units::Feet => [number(Column::Ft), number(Column::In)],
        Units::Metric => [number(Column::Mm), None],
    };
    if findings.len() > before {
        return Err(());
    }
    let mut said = cells.iter().flatten();
    let Some(first) = said.next() else {
        return Ok(None);
    };
    let span = Span {
        start: first.1.start,
        end: said.next().unwrap_or(first).1.end,
    };
    let numbers: Vec<&Number> = cells.iter().flatten().map(|(number, _)| number).collect();
    let open = numbers
        .iter()
        .filter(|number| number.length.is_none())
        .count();
    if open > 0 && open < numbers.len() {
        findings.push(Finding::unreadable(
            "sheet-length",
            span,
            format!(
                "row {}: one half of the length is a figure, the other is not measured",
                source.line(span.start)
            ),
            "write ? in ft alone, or what was paced with a ~ before it, like ~12",
        ));
        return Err(());
    }
    let length = (open == 0).then(|| numbers.iter().filter_map(|number| number.length).sum());
    let paced = numbers.iter().any(|number| number.paced);
    let text = match length {
        None => "?".to_owned(),
        Some(length) if paced => format!("~{}", as_written(length, columns.units)),
        Some(length) => as_written(length, columns.units),
    };
    Ok(Some(Reading {
        text,
        length,
        measured: length.is_some() && !paced,
        span,
    }))
}

/// One cell of a length.
struct Number {
    /// How long; none for `?`.
    length: Option<Length>,
    paced: bool,
}

/// A longer one is a mistake: no shop is.
const LONGEST: Length = Length::from_feet(3_000);

impl Number {
    fn read(cell: &Cell, column: Column) -> Result<Self, Wrong> {
        let written = cell.text.as_str();
        if written == "?" {
            return Ok(Self {
                length: None,
                paced: false,
            });
        }
        if let Some(pairs) = dates::typed(written) {
            return Err(dates::told(written, column, &pairs));
        }
        if written.starts_with(['=', '@']) {
            return Err((
                format!("`{written}` is a formula, and none is worked out"),
                "write the figure itself".to_owned(),
            ));
        }
        if written.starts_with(['-', '−', '+']) {
            return Err((
                format!("a length has no sign, and this one is `{written}`"),
                "write the distance, and turn the way round instead".to_owned(),
            ));
        }
        let paced = written.strip_prefix('~');
        let bare = paced.unwrap_or(written).trim();
        let length = match column {
            Column::In => inches(bare),
            Column::Mm => millimetres(bare),
            _ => feet(bare),
        }?;
        if length > LONGEST {
            return Err((
                format!("`{written}` is longer than any shop"),
                "check the figure: spreadsheets also keep a date as such a number".to_owned(),
            ));
        }
        Ok(Self {
            length: Some(length),
            paced: paced.is_some(),
        })
    }
}

/// Whole feet; a spreadsheet may write noughts behind them.
fn feet(text: &str) -> Result<Length, Wrong> {
    let bare = without(text, &["ft", "feet", "'", "′", "’"]);
    let (whole, rest) = split(bare).unwrap_or((bare, ""));
    let number = whole.parse::<i64>().ok().filter(|_| digits(whole));
    match number.filter(|number| *number < 1_000_000) {
        Some(number) if rest.chars().all(|digit| digit == '0') => Ok(Length::from_feet(number)),
        Some(_) if digits(rest) => Err((
            format!("`{text}` is not whole feet"),
            "write whole feet here, and the inches in their own column".to_owned(),
        )),
        _ => Err((
            format!("`{text}` is not whole feet"),
            match bare.split_once(['-', '\'', ' ', '/']) {
                Some((feet, inches))
                    if digits(feet) && inches.trim().starts_with(|c: char| c.is_ascii_digit()) =>
                {
                    format!(
                        "write {feet} in ft and {} in in",
                        inches.trim().trim_end_matches(['"', '″'])
                    )
                }
                _ => {
                    "write a whole number like 12, ~12 if it was paced, or ? if it is not measured"
                        .to_owned()
                }
            },
        )),
    }
}

/// Inches below 12: `6`, `6.5`, `6,5`, `6 1/2`, `6-1/2` or `½`.
fn inches(text: &str) -> Result<Length, Wrong> {
    let bare = without(text, &["in", "inch", "inches", "\"", "″", "”"]);
    let pointed = bare.replacen(',', ".", 1);
    let length = Length::parse(&format!("{pointed}in"), Units::Feet).map_err(|error| {
        (
            format!("`{text}` is no number of inches: {}", error.message),
            "write it like 6, 6.5 or 6 1/2; ? stands in ft if it is not measured".to_owned(),
        )
    })?;
    if length >= Length::from_feet(1) {
        return Err((
            format!("`{text}` is a foot or more"),
            "write whole feet in ft, and here the inches that are left: less than 12".to_owned(),
        ));
    }
    Ok(length)
}

fn millimetres(text: &str) -> Result<Length, Wrong> {
    let bare = without(text, &["mm"]).replace(['\u{a0}', '\u{202f}', ' '], "");
    let (whole, decimals) = split(&bare).unwrap_or((&bare, ""));
    if !digits(whole) || !(decimals.is_empty() || digits(decimals)) {
        return Err((
            format!("`{text}` is no number of millimetres"),
            "write it like 3810, ~3800 if it was paced, or ? if it is not measured".to_owned(),
        ));
    }
    if decimals.len() == 3 && whole.len() <= 3 || whole.len() < 3 && !decimals.is_empty() {
        return Err((
            format!("`{text}` can be read two ways: metres, or millimetres"),
            "write whole millimetres without a mark between them, like 3810".to_owned(),
        ));
    }
    let number = match decimals {
        "" => whole.to_owned(),
        decimals => format!("{whole}.{decimals}"),
    };
    Length::parse(&format!("{number}mm"), Units::Metric)
        .map_err(|error| (error.message, error.help))
}

/// A number at its decimal mark, point or comma.
fn split(text: &str) -> Option<(&str, &str)> {
    text.split_once(['.', ','])
}

fn digits(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|letter| letter.is_ascii_digit())
}

/// A text without one of these units behind it.
fn without<'a>(text: &'a str, units: &[&str]) -> &'a str {
    let mut bare = units.iter().filter_map(|unit| text.strip_suffix(unit));
    bare.next().unwrap_or(text).trim()
}
