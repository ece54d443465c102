//! Isometric axes: east, north and up, as they lie on paper.
//!
//! Level axes at 30° to the horizontal, height upright, equally shortened on all
//! three (ISO 5456-3, from memory). One looks from the south-east and from above.

use crate::drawing::At;
use crate::job::Direction;

/// Cosine and sine of 30°.
const COS: f64 = 0.866_025_403_784_438_6;
const SIN: f64 = 0.5;

/// A place in the drawn space, in millimetres along each axis.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Solid {
    pub(super) east: f64,
    pub(super) north: f64,
    pub(super) up: f64,
}

impl Solid {
    /// Moved along a direction; a level one at 45° moves as much along both axes.
    pub(super) fn moved(self, way: Direction, by: f64) -> Self {
        let (east, north, up) = steps(way);
        Self {
            east: self.east + by * east,
            north: self.north + by * north,
            up: self.up + by * up,
        }
    }

    pub(super) fn plus(self, other: Self) -> Self {
        Self {
            east: self.east + other.east,
            north: self.north + other.north,
            up: self.up + other.up,
        }
    }

    /// A share of the way to another place.
    pub(super) fn towards(self, other: Self, share: f64) -> Self {
        let between = |a: f64, b: f64| a + (b - a) * share;
        Self {
            east: between(self.east, other.east),
            north: between(self.north, other.north),
            up: between(self.up, other.up),
        }
    }

    /// Where it is on paper.
    pub(super) fn on_paper(self) -> At {
        At::new(
            (self.east + self.north) * COS,
            (self.east - self.north) * SIN - self.up,
        )
    }

    /// How near it is to who looks at it: the larger, the nearer.
    pub(super) fn nearness(self) -> f64 {
        self.east - self.north + self.up
    }
}

/// One step east, north and up.
pub(super) fn steps(way: Direction) -> (f64, f64, f64) {
    let (east, north, up) = way.steps();
    let part = |one: i64| match one {
        0 => 0.0,
        one if one > 0 => 1.0,
        _ => -1.0,
    };
    (part(east), part(north), part(up))
}

/// A direction as a step of one millimetre on paper.
pub(super) fn along(way: Direction) -> (f64, f64) {
    let at = Solid::default().moved(way, 1.0).on_paper();
    unit((at.x, at.y))
}

/// What lies across a line on paper, for signs: downwards for level pipe, along the
/// east axis for pipe that is upright on paper.
pub(super) fn across(along: (f64, f64)) -> (f64, f64) {
    if along.0.abs() < 0.1 {
        (COS, SIN)
    } else {
        (0.0, 1.0)
    }
}

/// A step of the same direction, one millimetre long.
pub(super) fn unit((x, y): (f64, f64)) -> (f64, f64) {
    let length = x.hypot(y);
    if length < 1e-9 {
        return (1.0, 0.0);
    }
    (x / length, y / length)
}

#[cfg(test)]
mod tests {
    use super::{Solid, along};
    use crate::job::Direction;

    /// ISO 5456-3, from memory.
    #[test]
    fn level_axes_stand_at_30_degrees_and_height_upright() {
        let angle = |way: Direction| {
            let (x, y) = along(way);
            (-y).atan2(x).to_degrees()
        };
        let axes = [
            (Direction::North, 30.0),
            (Direction::East, -30.0),
            (Direction::South, -150.0),
            (Direction::West, 150.0),
            (Direction::Up, 90.0),
            (Direction::Down, -90.0),
        ];
        for (way, wanted) in axes {
            assert!(
                (angle(way) - wanted).abs() < 1e-9,
                "{way:?}: {}",
                angle(way)
            );
        }
    }

    #[test]
    fn all_axes_are_equally_long() {
        for way in [Direction::North, Direction::East, Direction::Up] {
            let at = Solid::default().moved(way, 10.0).on_paper();
            assert!((at.x.hypot(at.y) - 10.0).abs() < 1e-9, "{way:?}");
        }
    }

    #[test]
    fn what_is_higher_or_further_south_east_is_nearer() {
        let origin = Solid::default();
        for way in [Direction::South, Direction::East, Direction::Up] {
            assert!(origin.moved(way, 1.0).nearness() > origin.nearness());
        }
    }
}
