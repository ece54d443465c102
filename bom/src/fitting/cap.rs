//! A cap closes pipe that leads nowhere.

use super::{Kind, Way};
use crate::quantity::PartSize;

pub(super) static CAP: Kind = Kind {
    part: Some("cap"),
    matches: |ways, _| matches(ways),
    // The cap goes on the pipe's end, which is where the layout ends.
    reach: None,
    bushes: false,
};

fn matches(ways: &[Way]) -> Option<PartSize> {
    match ways {
        [way] => Some(PartSize::one(way.size)),
        _ => None,
    }
}
