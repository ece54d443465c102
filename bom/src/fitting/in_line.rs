//! Pipe that runs straight on: nothing, or a reducing coupling.

use super::{Kind, Way};
use crate::job::Angle;
use crate::quantity::PartSize;

pub(super) static PLAIN: Kind = Kind {
    part: None,
    matches: |ways| in_line(ways).filter(|_| ways[0].size == ways[1].size),
    reach: None,
};

pub(super) static REDUCER: Kind = Kind {
    part: Some("reducer"),
    matches: |ways| in_line(ways).filter(|_| ways[0].size != ways[1].size),
    // Counted from the middle of the coupling.
    reach: Some(|row| row.coupling.scaled(1, 2)),
};

fn in_line(ways: &[Way]) -> Option<PartSize> {
    match ways {
        [a, b] if a.direction.angle(b.direction) == Angle::Opposite => {
            Some(PartSize::two(a.size, b.size))
        }
        _ => None,
    }
}
