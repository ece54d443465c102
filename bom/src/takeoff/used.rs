//! Where parts are used, in few words: by the thing in the job, not by the
//! place.

use super::{Because, Piece, Why};
use crate::network::{Network, NodeId, Owner};
use std::collections::BTreeMap;

/// A thing in the job and how many of a line it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// Its name: `main`, `bench`, `drain low`, `spare`.
    pub owner: String,
    /// How many.
    pub count: u64,
}

/// The things that take parts, in the order in which they are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Taker {
    Supply,
    Main,
    Drain(usize),
    Outlet(usize),
    Joints,
    Spare,
}

/// Which things take the parts with these reasons.
#[must_use]
pub fn used(network: &Network, because: &[Because]) -> Vec<Use> {
    named(
        network,
        because.iter().map(|because| match because.why {
            Why::Spare => Taker::Spare,
            Why::Seals => Taker::Joints,
            Why::Meets
            | Why::Stands
            | Why::Joins
            | Why::ClosesRing
            | Why::LongerThanStick
            | Why::Carries
            | Why::HoldsFoot
            | Why::FitsCoupler => taker(network, because.at),
        }),
    )
}

/// Which things take these pieces of pipe: a piece that leads from the main
/// to a drop is the drop's.
#[must_use]
pub fn used_pipe(network: &Network, pieces: &[Piece]) -> Vec<Use> {
    named(
        network,
        pieces
            .iter()
            .map(|piece| taker(network, piece.from).max(taker(network, piece.to))),
    )
}

fn taker(network: &Network, node: NodeId) -> Taker {
    match network.node(node).origin.owner {
        Owner::Supply => Taker::Supply,
        Owner::Leg(_) => Taker::Main,
        Owner::Drain(drain) => Taker::Drain(drain),
        Owner::Outlet(outlet) => Taker::Outlet(outlet),
    }
}

fn named(network: &Network, takers: impl Iterator<Item = Taker>) -> Vec<Use> {
    let mut counts: BTreeMap<Taker, u64> = BTreeMap::new();
    for taker in takers {
        *counts.entry(taker).or_default() += 1;
    }
    counts
        .into_iter()
        .map(|(taker, count)| Use {
            owner: match taker {
                Taker::Supply => network.supply.0.clone(),
                Taker::Main => "main".to_owned(),
                Taker::Drain(drain) => format!("drain {}", network.drains[drain].name),
                Taker::Outlet(outlet) => network.drops[outlet].name.clone(),
                Taker::Joints => "all joints".to_owned(),
                Taker::Spare => "spare".to_owned(),
            },
            count,
        })
        .collect()
}
