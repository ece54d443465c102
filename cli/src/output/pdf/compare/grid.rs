//! The table: a column of equal width for each option.

use crate::output::pdf::fonts::{BODY, SMALL, STRONG, Style};
use crate::output::pdf::page::Sheets;
use crate::output::words::{self, CompareRow};
use pricing::compare::{CompareOption, Comparison};

/// Options beside each other; more of them make another table.
const MOST: usize = 4;
/// The column of the labels.
const LABELS: f32 = 136.0;
/// Between two columns.
const GUTTER: f32 = 10.0;
/// Lines of a head or a cell; only an absurd text has more.
const LINES: usize = 4;
/// Above and below a row's text.
const PAD: f32 = 1.0;

pub(super) fn draw(sheets: &mut Sheets, comparison: &Comparison) {
    for options in comparison.options.chunks(MOST) {
        sheets.gap(4.0);
        let grid = Grid::of(sheets, options);
        let rows = words::compare_rows(comparison, options);
        sheets.need(12.0 * BODY.leading);
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
        let names: Vec<String> = options.iter().map(|option| option.system.clone()).collect();
        self.cells(sheets, STRONG, &titles);
        self.cells(sheets, SMALL, &names);
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
        let label = sheets.fonts.shorten(style, &row.label, LABELS - GUTTER);
        let left = sheets.left();
        sheets.text(style, left, &label);
        self.cells(sheets, style, &row.cells);
        sheets.advance(PAD);
        if row.total {
            sheets.advance(1.5);
            self.rule(sheets);
            sheets.advance(1.5);
        }
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
