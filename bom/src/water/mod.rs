//! Where the water goes: gravity over the network.
//!
//! Condensate runs to the low end of each pipe. At a place it leaves by what
//! goes straight down, else by pipe that falls away, and never upwards; it
//! ends in a drain, in the tank, at a tool, or in a pocket that nothing
//! drains. The water of level main stands where it is.

mod above;
mod amount;
mod ends;
mod map;
mod profile;

pub use amount::Amounts;
pub use map::{End, EndKind, Standing, WaterMap, Wet, WetHow};
pub use profile::{Place, Walked, profile};

use crate::job::Job;
use crate::library::Library;
use crate::network::Network;

/// Follows the water of every length of pipe to its end.
#[must_use]
pub fn walk(network: &Network, library: &Library) -> WaterMap {
    map::follow(network, library)
}

/// How much water a day brings to each end of the map; none where the job says
/// no flow of air.
#[must_use]
pub fn amounts(job: &Job, network: &Network, library: &Library, map: &WaterMap) -> Option<Amounts> {
    amount::amounts(job, network, library, map)
}

#[cfg(test)]
mod tests;
