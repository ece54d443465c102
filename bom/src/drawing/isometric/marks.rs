//! Small marks: joints, where a sheet ends, heights, arrows.

use super::axes::across;
use crate::drawing::{At, Fill, Shape, Stroke};
use crate::system::Joint;

/// A joint of pipe that runs along `way`: a stroke across it if it is threaded, a dot
/// if it is soldered or brazed, two strokes if it is pressed or pushed in
/// (common practice, no source).
pub(super) fn joint(joint: Joint, at: At, way: (f64, f64)) -> Vec<Shape> {
    let over = across(way);
    let stroke = |by: f64| {
        let at = at.by(way.0 * by, way.1 * by);
        let half = 1.1;
        Shape::line(
            Stroke::NARROW,
            vec![
                at.by(-over.0 * half, -over.1 * half),
                at.by(over.0 * half, over.1 * half),
            ],
        )
    };
    match joint {
        Joint::Threaded => vec![stroke(0.0)],
        Joint::Soldered | Joint::Brazed => {
            vec![Shape::circle(Stroke::NARROW, Fill::Ink, at, 0.5)]
        }
        Joint::Pressed | Joint::PushFit => vec![stroke(-0.4), stroke(0.4)],
    }
}

/// Where pipe goes on on another sheet: a slanted double stroke.
pub(super) fn match_mark(at: At, way: (f64, f64)) -> Vec<Shape> {
    let over = across(way);
    let stroke = |by: f64| {
        let at = at.by(way.0 * by, way.1 * by);
        let tip = |sign: f64| {
            at.by(
                sign * (over.0 * 1.8 + way.0 * 0.7),
                sign * (over.1 * 1.8 + way.1 * 0.7),
            )
        };
        Shape::line(Stroke::NARROW, vec![tip(-1.0), tip(1.0)])
    };
    vec![stroke(0.0), stroke(0.9)]
}
