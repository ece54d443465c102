//! A cross: two lines of pipe that cross square.

use super::{Kind, Way};
use crate::job::Angle;
use crate::quantity::PartSize;

pub(super) static CROSS: Kind = Kind {
    part: Some("cross"),
    matches: |ways, _| matches(ways),
    reach: Some(|system, size| system.row(size).map(|row| row.centre_to_end)),
    bushes: true,
};

fn matches(ways: &[Way]) -> Option<PartSize> {
    let [first, others @ ..] = ways else {
        return None;
    };
    if others.len() != 3 {
        return None;
    }
    let across: Vec<&Way> = others
        .iter()
        .filter(|way| way.direction.angle(first.direction) == Angle::Square)
        .collect();
    let opposite = others
        .iter()
        .any(|way| way.direction.angle(first.direction) == Angle::Opposite);
    let [a, b] = across[..] else { return None };
    if !opposite || a.direction.angle(b.direction) != Angle::Opposite {
        return None;
    }
    // Reducing crosses are hardly made: smaller pipes go into bushings.
    ways.iter().map(|way| way.size).max().map(PartSize::one)
}
