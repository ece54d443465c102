//! Two pipes that turn: a 90 elbow (reducing where the sizes differ) or a 45.

use super::{Kind, Way};
use crate::job::Angle;
use crate::quantity::PartSize;

pub(super) static ELBOW_90: Kind = Kind {
    part: Some("elbow-90"),
    matches: |ways, _| two_at(ways, Angle::Square).map(|(a, b)| PartSize::two(a.size, b.size)),
    reach: Some(|system, size| system.row(size).map(|row| row.centre_to_end)),
    bushes: true,
};

pub(super) static ELBOW_45: Kind = Kind {
    part: Some("elbow-45"),
    // Reducing 45s are not made: the smaller pipe goes into a bushing.
    matches: |ways, _| two_at(ways, Angle::Bend45).map(|(a, b)| PartSize::one(a.size.max(b.size))),
    reach: Some(|system, size| system.row(size).map(|row| row.centre_to_end_45)),
    bushes: true,
};

fn two_at(ways: &[Way], angle: Angle) -> Option<(Way, Way)> {
    match ways {
        [a, b] if a.direction.angle(b.direction) == angle => Some((*a, *b)),
        _ => None,
    }
}
