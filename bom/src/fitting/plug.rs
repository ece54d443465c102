//! A plug closes a threaded port.

use super::Kind;

pub(super) static PLUG: Kind = Kind {
    part: Some("pipe-plug"),
    // It stands where a branch is said to be closed, and nowhere else.
    matches: |_, _| None,
    reach: None,
    bushes: false,
};
