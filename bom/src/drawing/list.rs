//! Tables whose long cells go on below.

use super::table::{Column, table_by_row};
use super::text::{TextSize, wrap};
use super::{At, Layer, Mark};

/// A row of a list.
#[derive(Debug, Clone, Default)]
pub struct Row {
    /// Its name in links and its title, if it is something.
    pub named: Option<(String, String)>,
    /// Its cells.
    pub cells: Vec<String>,
}

impl Row {
    /// A row that is nothing by itself.
    #[must_use]
    pub const fn of(cells: Vec<String>) -> Self {
        Self { named: None, cells }
    }
}

/// A table whose long cells go on below.
#[derive(Debug, Clone)]
pub struct List {
    /// The columns, and how wide each may be.
    pub columns: Vec<(Column, f64)>,
    /// The rows.
    pub rows: Vec<Row>,
}

/// One line of a table.
const LINE: f64 = TextSize::Small.leading() + 0.8;
/// Its head.
const HEAD: f64 = LINE + 1.2;

impl List {
    /// How far down it reaches.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.rows
            .iter()
            .map(|row| self.lines(row))
            .fold(HEAD, |down, lines| {
                down + lines.iter().map(|_| LINE).sum::<f64>()
            })
    }

    /// How wide it is.
    #[must_use]
    pub fn width(&self) -> f64 {
        let columns: Vec<Column> = self.columns.iter().map(|(one, _)| one.clone()).collect();
        let lines: Vec<Vec<Vec<String>>> = self.rows.iter().map(|row| self.lines(row)).collect();
        table_by_row(&columns, &lines.concat(), At::default()).2
    }

    /// How many of its rows fit into a height.
    pub(super) fn part_fits(&self, height: f64) -> usize {
        let mut down = HEAD;
        let fitting = self.rows.iter().take_while(|row| {
            down += self.lines(row).iter().map(|_| LINE).sum::<f64>();
            down <= height
        });
        fitting.count()
    }

    /// As many of its rows as fit into a height, taken off it; one at least.
    pub(super) fn part(&mut self, height: f64) -> Self {
        let count = self.part_fits(height).max(1).min(self.rows.len());
        let rest = self.rows.split_off(count);
        Self {
            columns: self.columns.clone(),
            rows: std::mem::replace(&mut self.rows, rest),
        }
    }

    /// Makes two rows of the first one, which is taller than a sheet.
    pub(super) fn break_first(&mut self, height: f64) {
        let Some(first) = self.rows.first() else {
            return;
        };
        let mut down = HEAD;
        let (mut above, mut below) = (Vec::new(), Vec::new());
        for line in self.lines(first) {
            down += LINE;
            if down <= height || above.is_empty() {
                above.push(line);
            } else {
                below.push(line);
            }
        }
        let joined = |lines: &[Vec<String>]| {
            let cells = 0..self.columns.len();
            let cell = |number: usize| {
                let lines = lines.iter().filter_map(|line| line.get(number));
                let lines: Vec<&str> = lines.map(String::as_str).collect();
                lines.join(" ").trim().to_owned()
            };
            cells.map(cell).collect()
        };
        if below.is_empty() {
            return;
        }
        let above = Row {
            named: first.named.clone(),
            cells: joined(&above),
        };
        let below = Row::of(joined(&below));
        self.rows.splice(..1, [above, below]);
    }

    /// Draws it below a place.
    #[must_use]
    pub fn draw(&self, at: At) -> Vec<Mark> {
        let columns: Vec<Column> = self.columns.iter().map(|(one, _)| one.clone()).collect();
        let lines: Vec<Vec<Vec<String>>> = self.rows.iter().map(|row| self.lines(row)).collect();
        let (head, drawn, _, _) = table_by_row(&columns, &lines.concat(), at);
        let mut marks = vec![Mark::new(Layer::Note, head)];
        let mut drawn = drawn.into_iter();
        for (row, lines) in self.rows.iter().zip(&lines) {
            let shapes = drawn.by_ref().take(lines.len()).flatten().collect();
            marks.push(match &row.named {
                Some((id, title)) => Mark::named(Layer::Note, id, title, shapes),
                None => Mark::new(Layer::Note, shapes),
            });
        }
        marks
    }

    /// A row as lines of text, each as short as its column.
    fn lines(&self, row: &Row) -> Vec<Vec<String>> {
        let cells = row.cells.iter().zip(&self.columns);
        let cells: Vec<Vec<String>> = cells
            .map(|(cell, (_, most))| wrap(cell, TextSize::Small, false, *most))
            .collect();
        let count = cells.iter().map(Vec::len).max().unwrap_or(0);
        (0..count)
            .map(|line| {
                let cells = cells.iter();
                let cells = cells.map(|cell| cell.get(line).cloned().unwrap_or_default());
                cells.collect()
            })
            .collect()
    }
}
