//! Where the water goes: gravity over the network.
//!
//! Condensate runs to the low end of each pipe. At a place it leaves by what
//! goes straight down, else by pipe that falls away, and never upwards; it
//! ends in a drain, in the tank, at a tool, or in a pocket that nothing
//! drains. The water of level main stands where it is.

mod ends;
mod map;

pub use map::{End, EndKind, Standing, WaterMap, Wet, WetHow};

use crate::library::Library;
use crate::network::Network;

/// Follows the water of every length of pipe to its end.
#[must_use]
pub fn walk(network: &Network, library: &Library) -> WaterMap {
    map::follow(network, library)
}

#[cfg(test)]
mod tests;
