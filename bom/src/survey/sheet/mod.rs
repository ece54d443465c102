//! The run sheet: a table that is filled in on the walk, a row for each leg and for each
//! thing along it. Feet and inches stand in two columns, so that no spreadsheet program
//! makes dates of them; words, not signs, say which way.
//!
//! A workbook comes as text, a line for each row: what is said here of rows holds there.

mod blank;
mod columns;
mod dates;
mod facts;
mod finish;
mod grid;
mod kind;
mod legs;
mod length;
mod marks;
mod names;
mod walk;

pub use blank::{Blank, EXAMPLE, blank};
pub use columns::Column;

use super::Survey;
use crate::finding::Finding;
use crate::library::Library;
use crate::quantity::Length;
use crate::source::{Source, Span};
use columns::Columns;
use grid::Grid;
use walk::Walk;

/// What a sheet says.
#[derive(Debug)]
pub struct Read {
    /// The walk.
    pub survey: Survey,
    /// The length of all legs that have one, paced ones among them.
    pub length: Length,
    /// How many straights have none.
    pub open: usize,
    /// What the sheet does not say, and what is taken in its place.
    pub assumed: Vec<String>,
}

/// What the page of the run sheet is called in a workbook that has several.
pub const PAGE: &str = "Run sheet";

/// Nobody mends more at a time.
const MOST_FINDINGS: usize = 200;

/// Reads a run sheet: the walk if nothing stops it, and what was found, in the order of
/// the rows.
#[must_use]
pub fn read(source: &Source, library: &Library) -> (Option<Read>, Vec<Finding>) {
    let grid = Grid::of(source.text());
    let mut findings = Vec::new();
    let mut stop = |rule, span: Option<Span>, message: &str, help: &str| {
        if let Some(span) = span {
            findings.push(Finding::unreadable(rule, span, message, help));
        }
    };
    stop(
        "sheet-quotation-mark",
        grid.unclosed,
        "a quotation mark opens here and is never closed",
        "close it, or write inches without a mark: they have a column of their own",
    );
    stop(
        "sheet-too-much",
        grid.too_much,
        "the sheet goes on and on: this is no run sheet",
        "keep one walk in one file",
    );
    let Some((heads, rows)) = grid.rows.split_first() else {
        findings.push(Finding::unreadable(
            "sheet-empty",
            source.line_span(1),
            "the sheet is empty",
            "begin with a row that names the columns: leg,row,way,ft,in,read_from,name,remark",
        ));
        return (None, findings);
    };
    if grid.unclosed.is_some() || grid.too_much.is_some() {
        return (None, findings);
    }
    let Some(columns) = Columns::read(heads, &mut findings) else {
        return (None, findings);
    };
    let mut walk = Walk::new(source, library, &columns);
    walk.findings = findings;
    for row in rows {
        if walk.findings.len() >= MOST_FINDINGS {
            break;
        }
        walk.row(row);
    }
    walk.finish(heads)
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod fuzz;
