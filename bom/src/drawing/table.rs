//! Small tables on a drawing.

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
