//! Pipe that runs straight on: nothing, a reducing coupling, or what joins
//! two systems.

use super::{Kind, Way};
use crate::job::Angle;
use crate::quantity::PartSize;

pub(super) static PLAIN: Kind = Kind {
    part: None,
    matches: |ways, _| in_line(ways).filter(|_| ways[0].size == ways[1].size),
    reach: None,
    bushes: false,
};

pub(super) static REDUCER: Kind = Kind {
    part: Some("reducer"),
    matches: |ways, _| in_line(ways).filter(|_| ways[0].size != ways[1].size),
    // Counted from the middle of the coupling.
    reach: Some(|system, size| system.row(size).map(|row| row.coupling.scaled(1, 2))),
    bushes: false,
};

/// Where one system ends and another goes on: what joins their pipe comes from
/// the mating of the two ends.
pub(super) static CHANGE: Kind = Kind {
    part: None,
    matches: |_, _| None,
    reach: None,
    bushes: false,
};

pub(super) fn are(a: &Way, b: &Way) -> bool {
    a.direction.angle(b.direction) == Angle::Opposite
}

fn in_line(ways: &[Way]) -> Option<PartSize> {
    match ways {
        [a, b] if are(a, b) => Some(PartSize::two(a.size, b.size)),
        _ => None,
    }
}
