//! The round of whoever lets the water out.

use super::amount::Day;
use super::map::{EndKind, WaterMap};
use crate::library::Library;
use crate::network::{Network, NodeId, NodeKind, Owner, Point};

/// A stop of the round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stop {
    /// What is drained.
    pub what: Drained,
    /// Below which place of the layout one stands.
    pub at: NodeId,
    /// The end of the water map that it empties, by its number; none if no pipe's
    /// water comes there.
    pub end: Option<usize>,
    /// Whether it opens by itself.
    pub automatic: bool,
}

/// What a stop drains.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Drained {
    /// The tank of a supply, by its index.
    Tank(usize),
    /// A drain of the main, by its index.
    Main(usize),
    /// The drip leg of a drop, by its index.
    Drop(usize),
}

/// Every tank, drain of the main and drained drip leg once: from the first tank
/// always on to the nearest that is left, as one walks over the floor.
#[must_use]
pub fn round(network: &Network, library: &Library, map: &WaterMap) -> Vec<Stop> {
    let mut left = stops(network, library, map);
    let mut round: Vec<Stop> = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let here = round.last().map(|last| network.node(last.at).at);
        let far = |stop: &Stop| here.map_or(0, |here| apart(here, network.node(stop.at).at));
        let numbered = left.iter().enumerate();
        let next = numbered.min_by_key(|(_, stop)| (far(stop), stop.what));
        let next = next.map_or(0, |(number, _)| number);
        round.push(left.remove(next));
    }
    round
}

impl Day {
    /// The litres that come to a stop. What stays in the tanks is counted at the
    /// first; none at the others.
    #[must_use]
    pub fn at_stop(&self, stop: &Stop) -> Option<f64> {
        let end = stop.end.and_then(|end| self.at_ends.get(end)).copied();
        match stop.what {
            Drained::Tank(0) => Some(self.in_tank + end.unwrap_or_default()),
            Drained::Tank(_) => None,
            Drained::Main(_) | Drained::Drop(_) => Some(end.unwrap_or_default()),
        }
    }
}

/// The square of the way over the floor.
fn apart(from: Point, to: Point) -> i128 {
    let square = |length: i64| i128::from(length) * i128::from(length);
    square((to.east - from.east).nm()) + square((to.north - from.north).nm())
}

fn stops(network: &Network, library: &Library, map: &WaterMap) -> Vec<Stop> {
    let ends = || map.ends.iter().enumerate();
    let drained = |owner: Owner| {
        let mut ends = ends();
        let end = ends.find(|(_, end)| {
            matches!(end.kind, EndKind::Drain(_)) && network.node(end.at).origin.owner == owner
        });
        end.map(|(number, _)| number)
    };
    let automatic = |owner: Owner| {
        network.nodes().any(|(_, node)| match node.kind {
            NodeKind::Device { device, .. } if node.origin.owner == owner => {
                library.devices()[device].name == "automatic-drain"
            }
            _ => false,
        })
    };
    let tanks = network.ports().enumerate().map(|(supply, at)| Stop {
        what: Drained::Tank(supply),
        at,
        end: ends()
            .find(|(_, end)| {
                end.kind == EndKind::Tank
                    && network.node(end.at).origin.owner == Owner::Supply(supply)
            })
            .map(|(number, _)| number),
        automatic: false,
    });
    let drains = network
        .drains
        .iter()
        .enumerate()
        .map(|(index, drain)| Stop {
            what: Drained::Main(index),
            at: drain.at,
            end: drained(Owner::Drain(index)),
            automatic: automatic(Owner::Drain(index)),
        });
    let drops = network.drops.iter().enumerate();
    let drops = drops.filter(|(_, drop)| drop.drain.is_some());
    let drops = drops.map(|(index, drop)| Stop {
        what: Drained::Drop(index),
        at: drop.foot_at,
        end: drained(Owner::Outlet(index)),
        automatic: automatic(Owner::Outlet(index)),
    });
    tanks.chain(drains).chain(drops).collect()
}
