//! The main from the side: its heights as one walks along it.

use crate::network::{LinkId, Network, NodeId, Owner, Spot};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// A stretch of main that is walked without a jump, with its places in order.
pub type Walked = Vec<Place>;

/// A place of the main.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Its short name: that of what stands there, a mark's, an end's,
    /// `corner`, or `highest point`.
    pub name: String,
    /// Its height above the floor.
    pub height: Length,
    /// The place itself.
    pub at: NodeId,
    /// How far it is along the level pipe from where the walk begins, centre to
    /// centre: upright pipe adds nothing.
    pub along: Length,
    /// The pipe by which one comes to it; none where the walk begins.
    pub by: Option<LinkId>,
}

/// The heights of the main, a list for each way that is walked without a jump.
#[must_use]
pub fn profile(network: &Network) -> Vec<Walked> {
    let mut ways: Vec<Walked> = Vec::new();
    let mut last = None;
    let drains = network.drains.iter().map(|drain| (drain.at, &drain.name));
    let drops = network.drops.iter();
    let standing: BTreeMap<NodeId, &String> = drops
        .map(|drop| (drop.take_off_at, &drop.name))
        .chain(drains)
        .chain(network.valves.iter().map(|valve| (valve.at, &valve.name)))
        .collect();
    let place = |id: NodeId, along, by| Place {
        name: standing
            .get(&id)
            .map_or_else(|| name(network, id), |name| (*name).clone()),
        height: network.node(id).at.up,
        at: id,
        along,
        by,
    };
    let mut along = Length::ZERO;
    for (id, from, to, link) in network.links().filter(|(_, _, _, link)| link.is_main()) {
        if last != Some(from) {
            along = Length::ZERO;
            ways.push(vec![place(from, along, None)]);
        }
        if link.direction.is_level() {
            along += link.pipe.unwrap_or_default();
        }
        if let Some(way) = ways.last_mut() {
            way.push(place(to, along, Some(id)));
        }
        last = Some(to);
    }
    ways
}

fn name(network: &Network, id: NodeId) -> String {
    let origin = network.node(id).origin;
    match (origin.owner, origin.spot) {
        (Owner::Leg(leg), Spot::Mark(mark)) => network.legs[leg].marks[mark].clone(),
        (Owner::Leg(leg), Spot::End) if !network.legs[leg].end.is_empty() => {
            network.legs[leg].end.clone()
        }
        (Owner::Leg(_), Spot::End) => "end".to_owned(),
        (Owner::Leg(_), Spot::Crest) => "highest point".to_owned(),
        (Owner::Leg(_), _) => "corner".to_owned(),
        (Owner::Supply(supply), _) => network.supplies[supply].0.clone(),
        // No leg starts at a drop or a drain.
        (Owner::Drain(_) | Owner::Outlet(_), _) => network.place(id),
    }
}
