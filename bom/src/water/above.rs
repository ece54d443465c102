//! How much pipe lies above a place: the most that may come there, whichever
//! way the water takes where it may take several. No order of walking changes
//! it.

use super::ends::{level_main, low_end, ways_down};
use crate::network::{Network, NodeId};
use crate::quantity::Length;

/// The network upside down.
pub(super) struct Above {
    /// The pipe that runs to each place by itself.
    own: Vec<Length>,
    /// The places from which water may come to each.
    from: Vec<Vec<NodeId>>,
    /// The stretch of level main on which each place lies.
    stretch_of: Vec<Option<usize>>,
    /// The places of each stretch and its own length.
    stretches: Vec<(Vec<NodeId>, Length)>,
    /// Whether what comes to each place leaves it downwards.
    leaves: Vec<bool>,
}

impl Above {
    pub(super) fn of(network: &Network) -> Self {
        let mut above = Self {
            own: vec![Length::ZERO; network.node_count()],
            from: vec![Vec::new(); network.node_count()],
            stretch_of: vec![None; network.node_count()],
            stretches: Vec::new(),
            leaves: vec![false; network.node_count()],
        };
        for (id, _) in network.nodes() {
            for lower in ways_down(network, id) {
                above.leaves[id.index()] = true;
                above.from[lower.index()].push(id);
            }
        }
        let mut level = vec![Length::ZERO; network.node_count()];
        for (id, from, to, link) in network.links() {
            let Some(length) = link.pipe else { continue };
            match low_end(network, id, [from, to]) {
                Some(low) => above.own[low.index()] += length,
                None => level[from.index()] += length,
            }
        }
        for (id, _) in network.nodes() {
            if above.stretch_of[id.index()].is_none() && level_main(network, id).next().is_some() {
                let places = above.gather(network, id);
                let own: Length = places.iter().map(|place| level[place.index()]).sum();
                above.stretches.push((places, own));
            }
        }
        above
    }

    /// The places of a stretch of level main, which are marked as its own.
    fn gather(&mut self, network: &Network, start: NodeId) -> Vec<NodeId> {
        let stretch = Some(self.stretches.len());
        self.stretch_of[start.index()] = stretch;
        let mut places = vec![start];
        let mut next = 0;
        while let Some(here) = places.get(next).copied() {
            next += 1;
            for far in level_main(network, here) {
                if self.stretch_of[far.index()].is_none() {
                    self.stretch_of[far.index()] = stretch;
                    places.push(far);
                }
            }
        }
        places
    }

    /// All pipe whose water may come down to a place.
    pub(super) fn may_come(&self, place: NodeId) -> Length {
        self.running_to(vec![place])
    }

    /// All pipe whose water may pass a place of the main: on level main that of
    /// its whole stretch, but for what comes down where it leaves the stretch at
    /// once, by a drain or another drop.
    pub(super) fn may_pass(&self, place: NodeId) -> Length {
        let Some(stretch) = self.stretch_of[place.index()] else {
            return self.may_come(place);
        };
        let (places, own) = &self.stretches[stretch];
        let stays = |other: &NodeId| *other == place || !self.leaves[other.index()];
        *own + self.running_to(places.iter().copied().filter(stays).collect())
    }

    fn running_to(&self, mut open: Vec<NodeId>) -> Length {
        let mut seen = vec![false; self.own.len()];
        let mut pipe = Length::ZERO;
        while let Some(here) = open.pop() {
            if !std::mem::replace(&mut seen[here.index()], true) {
                pipe += self.own[here.index()];
                open.extend(&self.from[here.index()]);
            }
        }
        pipe
    }
}
