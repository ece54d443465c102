//! From the text of one list to its offers.

use super::columns::{Column, Columns};
use super::mapping::Mapping;
use super::parts::Parts;
use super::row::{self, Outcome, Reading};
use super::{ListFacts, Offer, Place, Sheet, Unknown};
use crate::money::Currency;
use bom::finding::Finding;
use bom::source::Source;
use csv::StringRecord;
use std::sync::Arc;

/// Rows of one list; a spreadsheet program holds hardly more (2^20).
const MOST_ROWS: usize = 1_000_000;

/// Problems of one list that are kept: nobody mends more at a time, and a
/// file of nothing but problems must not fill the memory.
const MOST_FINDINGS: usize = 1_000;

/// What one list gives.
pub(super) struct Read {
    pub(super) offers: Vec<Offer>,
    pub(super) facts: ListFacts,
    pub(super) findings: Vec<Finding>,
}

pub(super) fn read(number: usize, sheet: &Sheet, parts: &Parts<'_>, currency: Currency) -> Read {
    let source = sheet.list();
    let mut read = Read {
        offers: Vec::new(),
        facts: ListFacts::default(),
        findings: Vec::new(),
    };
    let reading = Reading {
        parts,
        currency,
        mapping: sheet.mapping(),
        workbook: sheet.is_workbook(),
    };
    let file: Arc<str> = source.name().into();
    let (mut records, delimiter) = records(sheet);
    let text = text_of(source);
    let Some(header) = records.find(|record| !is_blank(record)) else {
        read.findings.push(Finding::unreadable(
            "catalog-empty",
            source.line_span(1),
            "the catalog has no header line",
            "begin with a line that names the columns: part,size,price",
        ));
        return read;
    };
    let span = source.line_span(line_of(&header, text, source));
    let columns = match Columns::read(&header, delimiter, reading.mapping, span) {
        Ok(columns) => columns,
        Err(findings) => {
            read.findings = findings;
            return read;
        }
    };
    let mut records = records.filter(|record| !is_blank(record)).peekable();
    while let Some(record) = records.next() {
        let line = line_of(&record, text, source);
        let span = source.line_span(line);
        if read.facts.rows == MOST_ROWS || read.findings.len() >= MOST_FINDINGS {
            let message = match read.facts.rows {
                MOST_ROWS => format!("the list has more than {MOST_ROWS} rows"),
                _ => {
                    format!("more than {MOST_FINDINGS} problems: the rest of the list is not read")
                }
            };
            let help = "mend what is said above first, or split the list";
            let finding = Finding::unreadable("catalog-too-much", span, message, help);
            read.findings.push(finding);
            break;
        }
        read.facts.rows += 1;
        if records.peek().is_none() && never_closed(&record, text) {
            read.findings.push(Finding::unreadable(
                "catalog-cells",
                span,
                "a quotation mark opens here and is never closed",
                "close it, or write inches as `in`",
            ));
            continue;
        }
        let place = Place {
            source: number,
            line,
            file: Arc::clone(&file),
        };
        match row::read(&reading, &columns.of(&record), place, span) {
            Outcome::Offer(offer, rounded) => {
                if rounded {
                    read.facts.rounded.push(line);
                }
                read.offers.push(*offer);
            }
            Outcome::Unknown(written) => read.facts.unknown.push(Unknown { line, written }),
            Outcome::Nothing => {}
            Outcome::Wrong(findings) => read.findings.extend(findings),
        }
    }
    read
}

/// The first currency that a list or its mapping names.
pub(super) fn currency(sheet: &Sheet) -> Option<Currency> {
    let constant = sheet.mapping().and_then(|m| m.constant(Column::Currency));
    if let Some(currency) = constant.and_then(|code| Currency::parse(code).ok()) {
        return Some(currency);
    }
    let (mut records, _) = records(sheet);
    let heads = records.find(|record| !is_blank(record))?;
    let theirs = sheet.mapping().filter(|mapping| mapping.has_columns());
    let name = match theirs {
        Some(mapping) => mapping.column(Column::Currency)?,
        None => Column::Currency.name(),
    };
    let at = heads
        .iter()
        .position(|head| head.trim().to_lowercase() == name.to_lowercase())?;
    records.find_map(|record| Currency::parse(record.get(at)?).ok())
}

fn text_of(source: &Source) -> &str {
    source.text().trim_start_matches('\u{feff}')
}

/// The rows of a list and what its cells stand between: what the mapping says,
/// else commas or semicolons.
fn records(sheet: &Sheet) -> (impl Iterator<Item = StringRecord>, char) {
    let text = text_of(sheet.list());
    let first_line = text.lines().find(|line| !line.trim().is_empty());
    let semicolons = first_line.is_some_and(|line| line.contains(';') && !line.contains(','));
    let usual = if semicolons { ';' } else { ',' };
    let stated = match sheet.is_workbook() {
        true => Some(','),
        false => sheet.mapping().and_then(Mapping::delimiter),
    };
    let delimiter = stated.unwrap_or(usual);
    // The text is UTF-8 and rows may have any length, so no record fails.
    let records = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(u8::try_from(delimiter).unwrap_or(b','))
        .from_reader(text.as_bytes())
        .into_records()
        .map_while(Result::ok);
    (records, delimiter)
}

fn is_blank(record: &StringRecord) -> bool {
    record.iter().all(|cell| cell.trim().is_empty())
}

/// Whether the last row ends in a text over several lines that has no closing
/// mark: it may have swallowed whole rows.
fn never_closed(record: &StringRecord, text: &str) -> bool {
    let last = record.iter().next_back().unwrap_or_default();
    last.contains('\n') && !text.trim_end().ends_with('"')
}

/// The line where a record begins; its own place counts the blank lines before
/// it in.
pub(crate) fn line_of(record: &StringRecord, text: &str, source: &Source) -> usize {
    let start = record.position().map_or(0, csv::Position::byte);
    let rest = usize::try_from(start)
        .ok()
        .and_then(|start| text.get(start..))
        .unwrap_or_default();
    let row = rest.trim_start_matches(['\r', '\n']);
    source.line(source.text().len() - row.len())
}
