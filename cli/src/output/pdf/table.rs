//! Tables: columns as wide as they need, rows that do not break, heads that
//! come again on the next sheet.

use super::columns::{GUTTER, Place, at_point, edges};
use super::fonts::{BODY, LARGE, SMALL, STRONG, Style};
use super::page::Sheets;

/// Above and below the text of a row between rules.
pub(super) const PAD: f32 = 2.4;
/// Above and below the text of other rows.
pub(super) const LINE_PAD: f32 = 1.0;
/// Above a section's title, and above the sums of the whole table.
pub(super) const TITLE_GAP: f32 = 8.0;

/// How a column's cells stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
    /// On the decimal point.
    Point,
}

/// One row.
#[derive(Debug)]
pub(super) enum Row {
    /// The title of a section.
    Title(String),
    /// A cell for each column.
    Line(Vec<String>),
    /// A sum under a rule: its words, and its figure in the last column.
    Sum(String, String),
    /// Some room before the sums of the whole table.
    Gap,
    /// The last sum, which the reader looks for.
    Total(String, String),
}

/// A table.
#[derive(Debug)]
pub(super) struct Table<'a> {
    /// Heads and alignments; no head row where all heads are empty.
    pub(super) columns: &'a [(&'a str, Align)],
    pub(super) rows: Vec<Row>,
    /// Whether a rule stands between rows.
    pub(super) ruled: bool,
}

impl Table<'_> {
    /// Draws the table at the cursor, between two margins.
    pub(super) fn draw(&self, sheets: &mut Sheets, left: f32, right: f32) {
        let places = self.places(sheets.fonts, left, right);
        let mut title = None;
        let mut at = 0;
        while at < self.rows.len() {
            let (end, height) = self.block(sheets, &places, at);
            let head = if at == 0 { self.head_height() } else { 0.0 };
            let fits = height <= self.most(sheets);
            let broke = fits && sheets.need(head + height);
            if broke || at == 0 {
                self.head(sheets, &places);
            }
            for (offset, row) in self.rows[at..end].iter().enumerate() {
                match row {
                    Row::Title(words) => {
                        sheets.bookmark(1, words);
                        title = Some(words);
                    }
                    Row::Line(_) if offset == 0 && broke => self.again(sheets, &places, title),
                    Row::Gap => title = None,
                    Row::Sum(..) | Row::Total(..) if at + offset > 0 => {
                        if let Row::Line(_) = self.rows[at + offset - 1] {
                            sheets.advance(PAD - self.pad());
                        }
                        sheets.rule(left, right);
                    }
                    Row::Line(_) | Row::Sum(..) | Row::Total(..) => {}
                }
                self.row(sheets, &places, row, title);
                if self.ruled && at + offset + 1 < self.rows.len() {
                    sheets.rule(left, right);
                }
            }
            at = end;
        }
    }

    fn row(&self, sheets: &mut Sheets, places: &[Place], row: &Row, title: Option<&String>) {
        let (left, right) = edges(places);
        match row {
            Row::Title(words) => {
                sheets.gap(TITLE_GAP);
                spanning(sheets, STRONG, left, right, words);
            }
            Row::Line(cells) => self.line(sheets, places, cells, title),
            Row::Gap => sheets.gap(TITLE_GAP),
            Row::Sum(words, figure) | Row::Total(words, figure) => {
                let style = sum_style(row);
                sheets.advance(PAD);
                let top = sheets.down();
                let figure_width = sheets.fonts.width(style, figure);
                let lines = sheets
                    .fonts
                    .wrap(style, words, right - left - figure_width - GUTTER);
                for line in &lines {
                    sheets.text(style, left, line);
                    sheets.advance(style.leading);
                }
                let end = sheets.down().max(top + style.leading);
                sheets.go_to(top);
                sheets.text_to(style, right, figure);
                sheets.go_to(end + PAD);
            }
        }
    }

    /// A line of cells, cut between lines of text only where it is taller than
    /// a whole sheet.
    fn line(
        &self,
        sheets: &mut Sheets,
        places: &[Place],
        cells: &[String],
        title: Option<&String>,
    ) {
        let wrapped: Vec<_> = cells
            .iter()
            .zip(places)
            .map(|(cell, place)| sheets.fonts.wrap(BODY, cell, place.width))
            .collect();
        let count = wrapped.iter().map(Vec::len).max().unwrap_or(0).max(1);
        sheets.advance(self.pad());
        let mut at = 0;
        while at < count {
            if sheets.need(BODY.leading + self.pad()) {
                self.head(sheets, places);
                self.again(sheets, places, title);
                sheets.advance(self.pad());
            }
            // As many lines as this sheet holds, one cell after the other, as they are read.
            let top = sheets.down();
            let mut here = at;
            while here < count && (here == at || sheets.room() >= BODY.leading + self.pad()) {
                here += 1;
                sheets.advance(BODY.leading);
            }
            let end = sheets.down();
            for ((lines, place), (_, align)) in wrapped.iter().zip(places).zip(self.columns) {
                sheets.go_to(top);
                for text in lines.iter().take(here).skip(at) {
                    cell(sheets, *place, *align, text);
                    sheets.advance(BODY.leading);
                }
            }
            sheets.go_to(end);
            at = here;
        }
        sheets.advance(self.pad());
    }

    /// Above and below the text of a line of cells.
    pub(super) const fn pad(&self) -> f32 {
        if self.ruled { PAD } else { LINE_PAD }
    }

    /// The title of a section that goes on from the sheet before.
    fn again(&self, sheets: &mut Sheets, places: &[Place], title: Option<&String>) {
        if let Some(words) = title {
            let (left, right) = edges(places);
            spanning(sheets, STRONG, left, right, &format!("{words} (continued)"));
        }
    }

    fn head(&self, sheets: &mut Sheets, places: &[Place]) {
        if !self.headed() {
            return;
        }
        for ((head, align), place) in self.columns.iter().zip(places) {
            match align {
                Align::Left => sheets.text(SMALL, place.left, head),
                Align::Right | Align::Point => {
                    sheets.text_to(SMALL, place.left + place.width, head);
                }
            }
        }
        sheets.advance(SMALL.leading + PAD);
        let (left, right) = edges(places);
        sheets.rule(left, right);
        if !self.ruled {
            sheets.advance(PAD);
        }
    }
}

fn cell(sheets: &mut Sheets, place: Place, align: Align, text: &str) {
    let right = place.left + place.width;
    match align {
        Align::Left => sheets.text(BODY, place.left, text),
        Align::Right => sheets.text_to(BODY, right, text),
        Align::Point => {
            let (whole, _) = at_point(text);
            let start = right - place.decimals - sheets.fonts.width(BODY, whole);
            sheets.text(BODY, start.max(place.left), text);
        }
    }
}

fn spanning(sheets: &mut Sheets, style: Style, left: f32, right: f32, text: &str) {
    sheets.advance(LINE_PAD);
    for line in sheets.fonts.wrap(style, text, right - left) {
        sheets.text(style, left, &line);
        sheets.advance(style.leading);
    }
    sheets.advance(LINE_PAD);
}

pub(super) const fn sum_style(row: &Row) -> Style {
    match row {
        Row::Total(..) => LARGE,
        Row::Title(_) | Row::Line(_) | Row::Gap | Row::Sum(..) => BODY,
    }
}
