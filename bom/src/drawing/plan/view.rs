//! From places of the shop to places of the sheet.

use super::super::shape::{Area, At};
use crate::job::Direction;
use crate::network::{Extent, Point};
use crate::quantity::Length;

/// A window on the shop: what of it is shown where, and how small.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    /// The place of the sheet at which the first tank would stand.
    pub(super) origin: At,
    /// One millimetre of paper is so many of the shop.
    pub(super) per: f64,
    /// What of the shop is shown, on paper.
    pub(super) window: Area,
    /// Where labels may stand.
    pub(super) board: Area,
}

impl View {
    /// Where a place of the shop is.
    pub(super) fn at(&self, place: Point) -> At {
        self.origin
            .by(place.east.mm() / self.per, -place.north.mm() / self.per)
    }

    /// Where a rectangle of the shop is.
    pub(super) fn area(&self, extent: &Extent) -> Area {
        let corner = |east, north| {
            self.at(Point {
                east,
                north,
                ..Point::default()
            })
        };
        Area::of(
            corner(extent.west, extent.north),
            corner(extent.east, extent.south),
        )
    }

    /// Whether a place belongs to this window: each belongs to one of several.
    pub(super) fn owns(&self, at: At) -> bool {
        let window = &self.window;
        window.left <= at.x && at.x < window.right && window.top <= at.y && at.y < window.bottom
    }

    /// What of a line is shown.
    pub(super) fn clip(&self, a: At, b: At) -> Option<(At, At)> {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (start, step, low, high) in [
            (a.x, b.x - a.x, self.window.left, self.window.right),
            (a.y, b.y - a.y, self.window.top, self.window.bottom),
        ] {
            if step.abs() < 1e-9 {
                if start < low || start > high {
                    return None;
                }
                continue;
            }
            let (enter, leave) = ((low - start) / step, (high - start) / step);
            from = from.max(enter.min(leave));
            to = to.min(enter.max(leave));
        }
        (from < to).then(|| (a.towards(b, from), a.towards(b, to)))
    }
}

/// A direction on the sheet, one millimetre long; none for upright ones.
pub(super) fn way(direction: Direction) -> (f64, f64) {
    let half = std::f64::consts::FRAC_1_SQRT_2;
    match direction {
        Direction::North => (0.0, -1.0),
        Direction::Northeast => (half, -half),
        Direction::East => (1.0, 0.0),
        Direction::Southeast => (half, half),
        Direction::South => (0.0, 1.0),
        Direction::Southwest => (-half, half),
        Direction::West => (-1.0, 0.0),
        Direction::Northwest => (-half, -half),
        Direction::Up | Direction::Down => (0.0, 0.0),
    }
}

/// A place so many millimetres further on, by a way of the sheet.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a place of the site, of no more than some kilometres"
)]
pub(super) fn moved(at: Point, way: (f64, f64), far: f64) -> Point {
    let step = |share: f64| Length::from_nm((share * far * 1e6) as i64);
    Point {
        east: at.east + step(way.0),
        north: at.north + step(-way.1),
        ..at
    }
}
