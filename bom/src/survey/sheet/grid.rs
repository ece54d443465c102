//! The cells of a sheet, each with its place, so that a message can point at it.

use crate::source::Span;

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cell {
    /// What stands in it, without the blanks around it.
    pub(super) text: String,
    /// Where it stands.
    pub(super) span: Span,
}

/// More cells than this are no run sheet.
const MOST_CELLS: usize = 200_000;

/// All rows of a sheet.
#[derive(Debug, Default)]
pub(super) struct Grid {
    /// The rows that have something in them.
    pub(super) rows: Vec<Vec<Cell>>,
    /// Where a quotation mark opens that is never closed.
    pub(super) unclosed: Option<Span>,
    /// Where the sheet goes on behind the last cell that is read.
    pub(super) too_much: Option<Span>,
}

impl Grid {
    /// Splits a text; what stands between cells is seen from the first line that is no
    /// remark.
    pub(super) fn of(text: &str) -> Self {
        let mut splitter = Splitter {
            rest: text,
            at: 0,
            between: separator(text),
        };
        if text.starts_with('\u{feff}') {
            splitter.skip('\u{feff}'.len_utf8());
        }
        let mut grid = Self::default();
        let (mut row, mut count) = (Vec::new(), 0);
        while !splitter.rest.is_empty() {
            let (cell, closed, ends_row) = splitter.cell();
            if !closed {
                grid.unclosed = Some(cell.span);
            }
            count += 1;
            if count > MOST_CELLS {
                grid.too_much = Some(cell.span);
                break;
            }
            row.push(cell);
            if ends_row {
                grid.keep(std::mem::take(&mut row));
            }
        }
        grid.keep(row);
        grid
    }

    /// Keeps a row, unless it is empty or a remark.
    fn keep(&mut self, row: Vec<Cell>) {
        let mut said = row.iter().filter(|cell| !cell.text.is_empty());
        if said
            .next()
            .is_some_and(|first| !first.text.starts_with(REMARK))
        {
            self.rows.push(row);
        }
    }
}

/// What a row begins with that is only for reading.
pub(super) const REMARK: char = '#';

/// Comma, semicolon or tab: the one that the header has most of.
fn separator(text: &str) -> char {
    let is_header = |line: &&str| {
        let line = line.trim_start_matches(['\u{feff}', '"', ' ', ',', ';', '\t']);
        !line.trim().is_empty() && !line.starts_with(REMARK)
    };
    let header = text.lines().find(is_header).unwrap_or_default();
    let mut most = (0, ',');
    for between in [',', ';', '\t'] {
        let count = header.matches(between).count();
        if count > most.0 {
            most = (count, between);
        }
    }
    most.1
}

struct Splitter<'a> {
    rest: &'a str,
    at: usize,
    between: char,
}

impl Splitter<'_> {
    fn skip(&mut self, bytes: usize) {
        self.rest = &self.rest[bytes..];
        self.at += bytes;
    }

    /// The next cell, whether its quotation marks are closed, and whether it ends its row.
    fn cell(&mut self) -> (Cell, bool, bool) {
        let start = self.at;
        let mut text = String::new();
        let closed = self.quoted(&mut text);
        let ends = [self.between, '\n', '\r'];
        let end = self.rest.find(ends).unwrap_or(self.rest.len());
        text += &self.rest[..end];
        self.skip(end);
        let span = Span {
            start,
            end: self.at,
        };
        let ends_row = !self.rest.starts_with(self.between);
        let behind = match self.rest.chars().next() {
            Some('\r') if self.rest.starts_with("\r\n") => 2,
            Some(letter) => letter.len_utf8(),
            None => 0,
        };
        self.skip(behind);
        let cell = Cell {
            text: text.trim().to_owned(),
            span,
        };
        (cell, closed, ends_row)
    }

    /// Takes what stands in quotation marks, if the cell begins with one.
    fn quoted(&mut self, text: &mut String) -> bool {
        if !self.rest.starts_with('"') {
            return true;
        }
        self.skip(1);
        while let Some(end) = self.rest.find('"') {
            *text += &self.rest[..end];
            self.skip(end + 1);
            if !self.rest.starts_with('"') {
                return true;
            }
            text.push('"');
            self.skip(1);
        }
        *text += self.rest;
        self.skip(self.rest.len());
        false
    }
}
