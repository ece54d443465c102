//! A saddle: a branch clamped on top of a main that runs on uncut, for a drop
//! that goes round in a swan neck.

use super::{Kind, Way};
use crate::job::{Angle, Direction};
use crate::quantity::PartSize;
use crate::system::System;

pub(super) static SADDLE: Kind = Kind {
    part: Some("saddle-branch"),
    matches,
    reach: Some(|system, size| system.row(size).map(|row| row.centre_to_end)),
    bushes: false,
};

/// Other branches leave through a tee: the water of a drain needs the full
/// bore, and pipe to the side needs what holds it.
fn matches(ways: &[Way], system: &System) -> Option<PartSize> {
    let [a, b, c] = ways else { return None };
    [(a, b, c), (a, c, b), (b, c, a)]
        .into_iter()
        .find(|(run, on, branch)| {
            run.direction.angle(on.direction) == Angle::Opposite
                && run.size == on.size
                && run.main
                && on.main
                && !branch.main
                && branch.direction == Direction::Up
                && run.direction.angle(branch.direction) == Angle::Square
                && system.has_saddle(run.size, branch.size)
                && system.swan_neck(branch.size).is_some()
        })
        .map(|(run, _, branch)| PartSize::pair(run.size, branch.size))
}
