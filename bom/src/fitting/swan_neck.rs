//! A swan neck: up from a saddle, round and down, in one bend.

use super::Kind;
use crate::job::Direction;
use crate::quantity::PartSize;

pub(super) static SWAN_NECK: Kind = Kind {
    part: Some("swan-neck"),
    // Both ways leave downwards: one into the saddle, one into the drop.
    matches: |ways, system| match ways {
        [a, b] if a.direction == Direction::Down && b.direction == Direction::Down => system
            .swan_neck(a.size)
            .filter(|_| a.size == b.size)
            .map(|_| PartSize::one(a.size)),
        _ => None,
    },
    reach: Some(|system, size| {
        let make_up = system.row(size)?.make_up;
        system.swan_neck(size).map(|neck| neck.take_out + make_up)
    }),
    bushes: false,
};
