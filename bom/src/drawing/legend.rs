//! What the signs of a sheet mean.

use super::shape::{At, Shape};
use super::text::{Text, TextSize, width};
use super::{Layer, Mark};

/// The room for a sign, across and down.
const SIGN: (f64, f64) = (16.0, 6.0);
/// Between the columns.
const GUTTER: f64 = 6.0;

/// A sign and what it means.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The sign, drawn round the origin: 14 mm across and 5 mm down at most.
    pub sign: Vec<Shape>,
    /// What it means.
    pub words: String,
}

/// Signs in columns below a place, as wide as `across` at most; and how far down
/// they reach.
#[must_use]
pub fn legend(entries: &[Entry], at: At, across: f64) -> (Mark, f64) {
    let size = TextSize::Small;
    let words = entries.iter().map(|entry| width(&entry.words, size, false));
    let column = SIGN.0 + 1.5 + words.fold(0.0, f64::max) + GUTTER;
    let mut columns = 1;
    let mut used = 2.0 * column - GUTTER;
    while used <= across && columns < entries.len() {
        columns += 1;
        used += column;
    }
    let rows = entries.len().div_ceil(columns).max(1);
    let mut shapes = Vec::new();
    let mut place = at;
    for (number, entry) in entries.iter().enumerate() {
        if number > 0 && number % rows == 0 {
            place = At::new(place.x + column, at.y);
        }
        let middle = place.by(SIGN.0 / 2.0, SIGN.1 / 2.0);
        shapes.extend(
            entry
                .sign
                .iter()
                .map(|shape| shape.moved(middle.x, middle.y)),
        );
        let baseline = middle.by(SIGN.0 / 2.0 + 1.5, 0.365 * size.mm());
        shapes.push(Shape::Text(Text::new(baseline, size, &*entry.words)));
        place = place.by(0.0, SIGN.1);
    }
    let down = (0..rows).map(|_| SIGN.1).sum();
    (Mark::new(Layer::Note, shapes), down)
}
