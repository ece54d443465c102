//! Hatching: areas told apart without colours.

use super::shape::{Area, At, Shape, Stroke};

/// How an area is hatched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hatch {
    /// Lines that rise to the right.
    Rising,
    /// Lines that fall to the right.
    Falling,
    /// Both.
    Crossed,
}

/// Between two lines, along an edge.
const STEP: f64 = 2.4;

/// The lines that hatch an area, which end at its edges. They begin on the same
/// slants wherever the area is, so that neighbours go on from each other.
#[must_use]
pub fn hatch(area: Area, pattern: Hatch) -> Vec<Shape> {
    let (rising, falling) = match pattern {
        Hatch::Rising => (true, false),
        Hatch::Falling => (false, true),
        Hatch::Crossed => (true, true),
    };
    let mut lines = Vec::new();
    for (wanted, way) in [(rising, 1.0), (falling, -1.0)] {
        // A line is all places whose x + way × y is the same.
        let slants = [area.top, area.bottom].map(|y| way * y);
        let (low, high) = (slants[0].min(slants[1]), slants[0].max(slants[1]));
        let mut slant = ((area.left + low) / STEP).floor() * STEP;
        while wanted && slant < area.right + high {
            let ys = [area.left, area.right].map(|x| (slant - x) * way);
            let top = ys[0].min(ys[1]).max(area.top);
            let bottom = ys[0].max(ys[1]).min(area.bottom);
            if bottom - top > 0.05 {
                let at = |y: f64| At::new(slant - way * y, y);
                lines.push(Shape::line(Stroke::NARROW, vec![at(top), at(bottom)]));
            }
            slant += STEP;
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{Hatch, hatch};
    use crate::drawing::{Area, At, Shape};

    #[test]
    fn hatching_fills_its_area_and_stays_within() {
        let area = Area::of(At::new(10.0, 5.0), At::new(33.0, 12.0));
        for pattern in [Hatch::Rising, Hatch::Falling, Hatch::Crossed] {
            let lines = hatch(area, pattern);
            let areas: Vec<Area> = lines.iter().filter_map(Shape::area).collect();
            assert!(
                areas.iter().all(|one| area.grown(1e-9).holds(one)),
                "{pattern:?}"
            );
            let all = areas.iter().fold(areas[0], |all, one| all.with(one));
            assert!(
                all.width() > 21.0 && all.height() > 6.9,
                "{pattern:?} {all:?}"
            );
        }
        let rising = &hatch(area, Hatch::Rising)[3];
        let (top, bottom) = rising.segments()[0];
        assert!(top.y < bottom.y && top.x > bottom.x);
        assert_eq!(
            hatch(area, Hatch::Crossed).len(),
            hatch(area, Hatch::Rising).len() + hatch(area, Hatch::Falling).len()
        );
        let flat = Area::of(At::new(1.0, 1.0), At::new(1.0, 9.0));
        assert!(hatch(flat, Hatch::Crossed).is_empty());
    }
}
