//! Lines that mark water that stands or freezes.

use crate::drawing::hatch::{Hatch, hatch};
use crate::drawing::shape::{Area, At, Fill, Shape, Stroke};

/// A narrow line on each side of a pipe.
pub(super) fn beside(from: At, to: At) -> Vec<Shape> {
    let length = from.distance(to).max(1e-9);
    let square = (-(to.y - from.y) / length, (to.x - from.x) / length);
    let line = |off: f64| {
        let ends = [from, to].map(|at| at.by(square.0 * off, square.1 * off));
        Shape::line(Stroke::NARROW, ends.to_vec())
    };
    vec![line(-1.1), line(1.1)]
}

/// Slanting strokes across a pipe.
pub(super) fn ticks(from: At, to: At) -> Vec<Shape> {
    let length = from.distance(to);
    let mut along = 0.8;
    let mut shapes = Vec::new();
    while along < length {
        let at = from.towards(to, along / length);
        shapes.push(Shape::line(
            Stroke::NARROW,
            vec![at.by(-1.2, 1.2), at.by(1.2, -1.2)],
        ));
        along += 1.6;
    }
    shapes
}

/// An area with slanting strokes and an edge.
pub(super) fn hatched(area: Area) -> Vec<Shape> {
    let edge = Shape::rectangle(Stroke::NARROW, Fill::Open, area);
    std::iter::once(edge)
        .chain(hatch(area, Hatch::Rising))
        .collect()
}
