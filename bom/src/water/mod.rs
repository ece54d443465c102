//! Where the water goes: gravity over the network.
//!
//! Condensate runs to the low end of each pipe. At a place it leaves by what
//! goes straight down, else by pipe that falls away, and never upwards; it
//! ends in a drain, in the tank, at a tool, or in a pocket that nothing
//! drains. The water of level main stands where it is.

mod above;
mod amount;
mod ends;
mod freezing;
mod map;
mod profile;
mod round;
mod say;
mod season;
mod shares;

pub use amount::{Amounts, Arrival, Day};
pub(crate) use ends::ONE_WAY;
pub use freezing::{Freezing, FreezingKind, freezing};
pub use map::{End, EndKind, Standing, WaterMap, Wet, WetHow};
pub use profile::{Place, Walked, profile};
pub use round::{Drained, Stop, round};
pub use say::{faults, freezes, volume};

use crate::finding::Finding;
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;
use crate::source::Span;

/// Follows the water of every length of pipe to its end.
#[must_use]
pub fn walk(network: &Network, library: &Library) -> WaterMap {
    map::follow(network, library)
}

/// What is wrong if the map does not hold: a mistake of the tool.
pub(crate) fn failure(map: &WaterMap) -> Option<Finding> {
    (!map.accounts_for_all()).then(|| {
        Finding::error(
            "proof-failed",
            Span::default(),
            "the water does not hold: every length of pipe has one end for its water",
            "this is a mistake of the tool and not of the job: please report it with the job file",
        )
    })
}

/// How much water a day brings to each end of the map; none where the job says
/// no flow of air, or has no outlet that would take it.
#[must_use]
pub fn amounts(job: &Job, network: &Network, library: &Library, map: &WaterMap) -> Option<Amounts> {
    amount::amounts(job, network, library, map)
}

#[cfg(test)]
mod tests;
