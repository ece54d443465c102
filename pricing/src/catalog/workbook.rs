//! A sheet of a workbook (XLSX) as the text of a list, a line for each row, so
//! that everything behind it reads one form.

use crate::matching::asked::quoted;
use bom::quantity::QuantityError;
use calamine::{DataRef, Reader, SheetType, Xlsx, XlsxError};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::{self, Cursor, Read as _};

/// Bytes that a workbook may unfold to, and of text that its sheet may hold.
const MOST_UNPACKED: u64 = 256 << 20;
const MOST_TEXT: usize = 64 << 20;

/// Reads a sheet, the first one if none is named. Numbers are written as the
/// spreadsheet program shows them, in at most 15 digits, with `decimal` before
/// the decimals; dates as `2026-10-01`; formulas by their last result.
///
/// # Errors
/// What is no workbook, is too large or has no such sheet, and how to mend it.
pub fn text(bytes: &[u8], sheet: Option<&str>, decimal: char) -> Result<String, QuantityError> {
    let broken = |error: XlsxError| QuantityError {
        message: format!("it is not a workbook that can be read: {error}"),
        help: "save it again as .xlsx, or as CSV (UTF-8)".to_owned(),
    };
    unfolds_within(MOST_UNPACKED, bytes)?;
    let mut workbook: Xlsx<_> =
        calamine::open_workbook_from_rs(Cursor::new(bytes)).map_err(broken)?;
    let name = sheet_name(&workbook, sheet)?;
    let mut cells = workbook.worksheet_cells_reader(&name).map_err(broken)?;
    let mut rows: BTreeMap<u32, BTreeMap<u32, String>> = BTreeMap::new();
    let mut size = 0;
    while let Some(cell) = cells.next_cell().map_err(broken)? {
        let said = said(cell.get_value(), decimal);
        if said.is_empty() {
            continue;
        }
        // What a cell takes beside its text.
        size += said.len() + 64;
        if size > MOST_TEXT {
            return Err(too_large());
        }
        let (row, column) = cell.get_position();
        rows.entry(row).or_default().insert(column, said);
    }
    lines(&rows)
}

/// The rows as lines; a row without cells is an empty line.
fn lines(rows: &BTreeMap<u32, BTreeMap<u32, String>>) -> Result<String, QuantityError> {
    let mut text = String::new();
    let mut next = 0;
    for (row, cells) in rows {
        for _ in next..*row {
            text.push('\n');
        }
        next = row.saturating_add(1);
        let mut at = 0;
        for (column, said) in cells {
            for _ in at..*column {
                text.push(',');
            }
            at = *column;
            text += &quoted(said);
            if text.len() > MOST_TEXT {
                return Err(too_large());
            }
        }
        text.push('\n');
    }
    Ok(text)
}

/// The letters of a column, from 0: `A`, `Z`, `AA`.
pub(super) fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        let letter = u8::try_from(rest % 26).unwrap_or_default();
        letters.push(char::from(b'A' + letter));
        rest /= 26;
    }
    letters.iter().rev().collect()
}

fn too_large() -> QuantityError {
    QuantityError {
        message: "the workbook is larger than a list can be".to_owned(),
        help: "save the sheet with the list in a file of its own".to_owned(),
    }
}

/// Unpacks everything once without keeping it: what a file says of its own
/// size is not believed.
fn unfolds_within(most: u64, bytes: &[u8]) -> Result<(), QuantityError> {
    let broken = |error: &dyn std::fmt::Display| QuantityError {
        message: format!("it is not a workbook: {error}"),
        help: "save it again as .xlsx, or as CSV (UTF-8)".to_owned(),
    };
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| broken(&error))?;
    let mut left = most;
    for number in 0..archive.len() {
        let entry = archive.by_index(number).map_err(|error| broken(&error))?;
        let unpacked = io::copy(&mut entry.take(left + 1), &mut io::sink());
        let unpacked = unpacked.map_err(|error| broken(&error))?;
        left = left.checked_sub(unpacked).ok_or_else(too_large)?;
    }
    Ok(())
}

fn sheet_name<R: io::Read + io::Seek>(
    workbook: &Xlsx<R>,
    wanted: Option<&str>,
) -> Result<String, QuantityError> {
    let sheets = workbook.sheets_metadata().iter();
    let names: Vec<&str> = sheets
        .filter(|sheet| sheet.typ == SheetType::WorkSheet)
        .map(|sheet| sheet.name.as_str())
        .collect();
    let found = match wanted {
        Some(wanted) => names.iter().find(|name| **name == wanted),
        None => names.first(),
    };
    found
        .map(|name| (*name).to_owned())
        .ok_or_else(|| QuantityError {
            message: match wanted {
                Some(wanted) => format!("the workbook has no sheet `{wanted}`"),
                None => "the workbook has no sheet".to_owned(),
            },
            help: format!("its sheets are {}", names.join(", ")),
        })
}

/// A cell as text on one line.
fn said(value: &DataRef<'_>, decimal: char) -> String {
    match value {
        DataRef::Int(number) => number.to_string(),
        DataRef::Float(number) => shown(*number, decimal),
        DataRef::String(text) => one_line(text),
        DataRef::SharedString(text) => one_line(text),
        DataRef::Bool(true) => "TRUE".to_owned(),
        DataRef::Bool(false) => "FALSE".to_owned(),
        DataRef::DateTime(date) if date.is_datetime() && date.as_f64() >= 1.0 => {
            let (year, month, day, ..) = date.to_ymd_hms_milli();
            format!("{year:04}-{month:02}-{day:02}")
        }
        DataRef::DateTime(time) => shown(time.as_f64(), decimal),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => one_line(text),
        DataRef::Error(error) => error.to_string(),
        DataRef::Empty => String::new(),
    }
}

fn one_line(text: &str) -> String {
    text.replace(['\n', '\r'], " ").trim().to_owned()
}

/// A number in at most 15 digits, which is what spreadsheet programs keep and
/// show of it (the published limit of the file format's first program).
fn shown(number: f64, decimal: char) -> String {
    let mut digits = String::new();
    // Writing to a text never fails.
    let _ = write!(digits, "{number:.14e}");
    let rounded = digits.parse().unwrap_or(number);
    let text = format!("{rounded}");
    match decimal {
        '.' => text,
        mark => text.replace('.', &mark.to_string()),
    }
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod build;
