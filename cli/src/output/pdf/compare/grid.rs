//! The table: a column of equal width for each option.

use super::LABELS;
use crate::output::pdf::fonts::{BODY, Fonts, SMALL, STRONG, Style};
use crate::output::pdf::page::Sheets;
use crate::output::words::{self, CompareRow};
use pricing::compare::{CompareOption, Comparison};

/// Options beside each other; more of them make another table.
const MOST: usize = 4;
/// Between two columns.
const GUTTER: f32 = 10.0;
/// The heads with their rule, as a rule.
const HEADS: f32 = 50.0;
/// Lines of a head or a cell; only an absurd text has more.
const LINES: usize = 4;
/// Above and below a row's text.
const PAD: f32 = 0.6;

pub(super) fn draw(sheets: &mut Sheets, comparison: &Comparison) {
    let count = comparison.options.len();
    let tables = count.div_ceil(MOST).max(1);
    for options in comparison.options.chunks(count.div_ceil(tables).max(1)) {
        sheets.gap(6.0);
        let grid = Grid::of(sheets, options);
        let rows = words::compare_rows(comparison, options);
        let height: f32 = rows.iter().map(|row| grid.height(sheets.fonts, row)).sum();
        sheets.need((HEADS + height).min(sheets.whole()));
        grid.heads(sheets, options);
        for row in &rows {
            grid.row(sheets, row, options);
        }
    }
}

struct Grid {
    /// The right edge of each column.
    edges: Vec<f32>,
    width: f32,
}

impl Grid {
    fn of(sheets: &Sheets, options: &[CompareOption]) -> Self {
        let (from, to) = (sheets.left() + LABELS, sheets.right());
        let count: f32 = options.iter().map(|_| 1.0).sum();
        let step = (to - from) / count;
        let mut edge = from;
        let edges = options.iter().map(|_| {
            edge += step;
            edge
        });
        Self {
            edges: edges.collect(),
            width: step - GUTTER,
        }
    }

    fn heads(&self, sheets: &mut Sheets, options: &[CompareOption]) {
        let titles: Vec<String> = options.iter().map(|option| option.title.clone()).collect();
        let names: Vec<String> = options
            .iter()
            .map(|option| broken(sheets.fonts, &option.system, self.width))
            .collect();
        self.cells(sheets, STRONG, &names);
        self.cells(sheets, SMALL, &titles);
        sheets.advance(2.0);
        self.rule(sheets);
        sheets.advance(2.0);
    }

    fn row(&self, sheets: &mut Sheets, row: &CompareRow, options: &[CompareOption]) {
        let style = if row.total { STRONG } else { BODY };
        if sheets.need(4.0 * BODY.leading) {
            self.heads(sheets, options);
        }
        if row.total {
            sheets.advance(1.5);
            self.rule(sheets);
            sheets.advance(1.5);
        }
        sheets.advance(PAD);
        let (left, top) = (sheets.left(), sheets.down());
        for line in sheets.fonts.wrap_within(style, &row.label, LABELS, LINES) {
            sheets.text(style, left, &line);
            sheets.advance(style.leading);
        }
        let end = sheets.down();
        sheets.go_to(top);
        self.cells(sheets, style, &row.cells);
        sheets.go_to(sheets.down().max(end));
        sheets.advance(PAD);
        if row.total {
            sheets.advance(1.5);
            self.rule(sheets);
            sheets.advance(1.5);
        }
    }

    fn height(&self, fonts: &Fonts, row: &CompareRow) -> f32 {
        let cells = row.cells.iter();
        let heights = cells.map(|cell| fonts.height(BODY, cell, self.width));
        heights.fold(0.0, f32::max) + 2.0 * PAD
    }

    /// A cell in each column, and the cursor under the tallest of them.
    fn cells(&self, sheets: &mut Sheets, style: Style, cells: &[String]) {
        let top = sheets.down();
        let mut end = top + style.leading;
        for (edge, cell) in self.edges.iter().zip(cells) {
            sheets.go_to(top);
            for line in sheets.fonts.wrap_within(style, cell, self.width, LINES) {
                sheets.text_to(style, *edge, &line);
                sheets.advance(style.leading);
            }
            end = end.max(sheets.down());
        }
        sheets.go_to(end);
    }

    fn rule(&self, sheets: &mut Sheets) {
        let (left, right) = (sheets.left(), sheets.right());
        sheets.rule(left, right);
    }
}

/// A name in two lines, where one is too long, after the last hyphen that fits.
fn broken(fonts: &Fonts, name: &str, width: f32) -> String {
    if fonts.width(STRONG, name) <= width {
        return name.to_owned();
    }
    let mut hyphens = name.match_indices('-').map(|(at, _)| at + 1);
    let fits = |at: &usize| fonts.width(STRONG, &name[..*at]) <= width;
    match hyphens.rfind(fits) {
        Some(at) => format!("{}\n{}", &name[..at], &name[at..]),
        None => name.to_owned(),
    }
}
