//! Small tables on a drawing.

use super::page;
use super::shape::{At, Shape, Stroke};
use super::text::{Anchor, Text, TextSize, width};
use super::{Layer, Mark};

/// Between two columns.
const GUTTER: f64 = 4.0;

/// A column.
#[derive(Debug, Clone)]
pub struct Column {
    /// Its head.
    pub title: String,
    /// Which ends of its cells stand in line.
    pub anchor: Anchor,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn words(title: &str) -> Self {
        Self {
            title: title.to_owned(),
            anchor: Anchor::Start,
        }
    }

    /// A column of figures.
    #[must_use]
    pub fn figures(title: &str) -> Self {
        Self {
            title: title.to_owned(),
            anchor: Anchor::End,
        }
    }
}

/// A table below a place: each column as wide as its widest cell. How far it reaches
/// to the right and down comes with it.
#[must_use]
pub fn table(columns: &[Column], rows: &[Vec<String>], at: At) -> (Mark, f64, f64) {
    let (mut shapes, lines, across, down) = table_by_row(columns, rows, at);
    shapes.extend(lines.into_iter().flatten());
    (Mark::new(Layer::Note, shapes), across, down)
}

/// The same, its head and each of its rows by themselves.
#[must_use]
pub fn table_by_row(
    columns: &[Column],
    rows: &[Vec<String>],
    at: At,
) -> (Vec<Shape>, Vec<Vec<Shape>>, f64, f64) {
    let size = TextSize::Small;
    let mut shapes = Vec::new();
    let mut lines = vec![Vec::new(); rows.len()];
    let down = size.leading() + 0.8;
    let mut x = at.x;
    let mut right = at.x;
    for (number, column) in columns.iter().enumerate() {
        let cells = rows.iter().filter_map(|row| row.get(number));
        let wide = cells
            .map(|cell| width(cell, size, false))
            .fold(width(&column.title, size, true), f64::max);
        let edge = match column.anchor {
            Anchor::Start => x,
            Anchor::Middle => x + wide / 2.0,
            Anchor::End => x + wide,
        };
        let mut baseline = at.y + 0.8 * size.mm();
        let head = Text::new(At::new(edge, baseline), size, &*column.title);
        shapes.push(Shape::Text(head.anchored(column.anchor).bold()));
        baseline += down + 1.2;
        for (row, line) in rows.iter().zip(&mut lines) {
            if let Some(cell) = row.get(number).filter(|cell| !cell.is_empty()) {
                let text = Text::new(At::new(edge, baseline), size, &**cell);
                line.push(Shape::Text(text.anchored(column.anchor)));
            }
            baseline += down;
        }
        right = x + wide;
        x = right + GUTTER;
    }
    let rule = at.y + 0.8 * size.mm() + 1.4;
    shapes.push(Shape::line(
        Stroke::NARROW,
        vec![At::new(at.x, rule), At::new(right, rule)],
    ));
    let height = down + 1.2 + rows.iter().map(|_| down).sum::<f64>();
    (shapes, lines, right - at.x, height)
}

/// The rows of a table that is no wider than `across`: each as one line, or as
/// several where words are too long for their column.
pub(super) fn fitted(
    columns: &[Column],
    rows: &[Vec<String>],
    across: f64,
) -> Vec<Vec<Vec<String>>> {
    /// Words are not squeezed further.
    const LEAST: f64 = 14.0;
    let size = TextSize::Small;
    let mut widths: Vec<f64> = columns
        .iter()
        .enumerate()
        .map(|(number, column)| {
            let cells = rows.iter().filter_map(|row| row.get(number));
            cells
                .map(|cell| width(cell, size, false))
                .fold(width(&column.title, size, true), f64::max)
        })
        .collect();
    let gutters: f64 = columns.iter().skip(1).map(|_| GUTTER).sum();
    let squeezes =
        |number: usize, wide: f64| columns[number].anchor == Anchor::Start && wide > LEAST;
    loop {
        let over = widths.iter().sum::<f64>() + gutters - across;
        let widest = (0..widths.len())
            .filter(|number| squeezes(*number, widths[*number]))
            .max_by(|a, b| widths[*a].total_cmp(&widths[*b]));
        match widest {
            Some(widest) if over > 0.0 => {
                widths[widest] = (widths[widest] - over.min(2.0)).max(LEAST);
            }
            _ => break,
        }
    }
    let fit = |row: &Vec<String>| {
        let cells: Vec<Vec<String>> = row
            .iter()
            .zip(&widths)
            .map(|(cell, wide)| page::in_lines(cell, size, false, wide + 1e-6))
            .collect();
        let lines = cells.iter().map(Vec::len).max().unwrap_or(1);
        let line = |line: usize| {
            let cells = cells.iter();
            let cells = cells.map(|cell| cell.get(line).cloned().unwrap_or_default());
            cells.collect()
        };
        (0..lines).map(line).collect()
    };
    rows.iter().map(fit).collect()
}
