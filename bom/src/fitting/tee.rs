//! A tee: two pipes in line and one square to them.

use super::{Kind, Way};
use crate::job::Angle;
use crate::quantity::PartSize;

pub(super) static TEE: Kind = Kind {
    part: Some("tee"),
    matches: |ways, _| matches(ways),
    reach: Some(|system, size| system.row(size).map(|row| row.centre_to_end)),
    bushes: true,
};

fn matches(ways: &[Way]) -> Option<PartSize> {
    let [a, b, c] = ways else { return None };
    [(a, b, c), (a, c, b), (b, c, a)]
        .into_iter()
        .find(|(run_a, run_b, branch)| {
            run_a.direction.angle(run_b.direction) == Angle::Opposite
                && run_a.direction.angle(branch.direction) == Angle::Square
        })
        .map(|(run_a, run_b, branch)| PartSize::tee(run_a.size, run_b.size, branch.size))
}
