//! The job in stretches, the least that a sheet shows: main of one leg with one
//! drop at most, and all that hangs on it.

use crate::job::Direction;
use crate::network::{LinkId, Network, NodeId, Owner};
use std::collections::BTreeSet;

/// Main of one leg, from place to place, with what hangs on it.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    /// The leg, by its index.
    pub(super) leg: usize,
    /// Its main, in walking order.
    pub(super) main: Vec<LinkId>,
    /// The places of main that are drawn with it.
    pub(super) places: Vec<NodeId>,
    /// What hangs on these, each after what it hangs on.
    pub(super) limbs: Vec<Limb>,
}

/// A place that hangs on another: of a drop, a drain, or the connection of a tank.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limb {
    /// The place.
    pub(super) place: NodeId,
    /// What joins it to the one before.
    pub(super) link: LinkId,
    /// The one before.
    pub(super) on: NodeId,
    /// Where it is drawn from there.
    pub(super) way: Direction,
}

/// All stretches, in walking order. There are never more than legs and drops.
pub(super) fn stretches(network: &Network) -> Vec<Stretch> {
    let take_offs: BTreeSet<NodeId> = network.drops.iter().map(|drop| drop.take_off_at).collect();
    let mut drawn = vec![false; network.node_count()];
    let mut stretches: Vec<Stretch> = Vec::new();
    for (id, from, to, link) in network.links() {
        let Some(leg) = link.leg else { continue };
        let begins = stretches.last().is_none_or(|last| {
            let has_drop = last.places.iter().any(|place| take_offs.contains(place));
            last.leg != leg || has_drop && take_offs.contains(&to) && !drawn[to.index()]
        });
        if begins {
            stretches.push(Stretch {
                leg,
                main: Vec::new(),
                places: Vec::new(),
                limbs: Vec::new(),
            });
        }
        if let Some(stretch) = stretches.last_mut() {
            stretch.main.push(id);
            for place in [from, to] {
                if !std::mem::replace(&mut drawn[place.index()], true) {
                    stretch.places.push(place);
                }
            }
        }
    }
    for stretch in &mut stretches {
        for place in &stretch.places {
            stretch.limbs.extend(limbs(network, *place));
        }
    }
    stretches
}

/// What hangs on a place of the main.
fn limbs(network: &Network, place: NodeId) -> Vec<Limb> {
    let supply = matches!(network.node(place).origin.owner, Owner::Supply(_));
    // The tank stands behind the beginning of its first pipe.
    let behind = network
        .ends(place)
        .find(|end| network.link(end.link).is_main())
        .map(|end| end.direction.opposite())
        .filter(|_| supply);
    let mut limbs: Vec<Limb> = Vec::new();
    let mut ways = vec![(place, None)];
    while let Some((on, by)) = ways.pop() {
        let mut next: Vec<_> = network
            .ends(on)
            .filter(|end| Some(end.link) != by && !network.link(end.link).is_main())
            .collect();
        next.sort_by_key(|end| end.link);
        for end in next {
            limbs.push(Limb {
                place: end.far,
                link: end.link,
                on,
                way: behind.unwrap_or(end.direction),
            });
            ways.push((end.far, Some(end.link)));
        }
    }
    limbs
}
