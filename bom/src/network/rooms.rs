//! In which room each pipe stands.

use super::{Link, LinkId, Network, NodeId, Owner};
use crate::job::{Job, Leg};
use crate::quantity::Temperature;
use std::collections::BTreeSet;

/// The room of every link, as an index into the job's rooms.
#[derive(Debug)]
pub(crate) struct Rooms<'a> {
    job: &'a Job,
    of_link: Vec<Option<usize>>,
    /// That of the supply: its first leg's.
    pub(crate) of_supply: Option<usize>,
}

impl<'a> Rooms<'a> {
    /// A leg stands in the room that it names, else in the file's first; drops
    /// and drains stand in their leg's.
    pub(crate) fn of(job: &'a Job, network: &Network) -> Self {
        let with_places: BTreeSet<usize> = network
            .nodes()
            .filter_map(|(_, node)| match node.origin.owner {
                Owner::Leg(leg) => Some(leg),
                Owner::Supply | Owner::Drain(_) | Owner::Outlet(_) => None,
            })
            .collect();
        let first = job.legs.iter().position(|leg| {
            let from = leg.from.as_ref();
            from.is_some_and(|from| from.value == job.supply.name.value)
        });
        let mut rooms = Self {
            job,
            of_link: vec![None; network.link_count()],
            of_supply: job.room_of(first.unwrap_or_default()),
        };
        for (id, from, to, link) in network.links() {
            // A leg that only closes a ring has no place of its own.
            let closing = link.main && to.index() < from.index();
            let without_place = |(leg, said): (usize, &Leg)| {
                (!with_places.contains(&leg) && is_whole(said, link)).then_some(leg)
            };
            let leg = closing.then(|| job.legs.iter().enumerate().find_map(without_place));
            rooms.of_link[id.index()] = match leg.flatten() {
                Some(leg) => job.room_of(leg),
                None => rooms.of_place(network, if closing { from } else { to }),
            };
        }
        rooms
    }

    fn of_place(&self, network: &Network, place: NodeId) -> Option<usize> {
        let origin = network.node(place).origin;
        let marked = |name: &str| {
            let mut legs = self.job.legs.iter();
            let leg = legs.position(|leg| leg.marks.iter().any(|mark| mark.name.value == name));
            leg.and_then(|leg| self.job.room_of(leg))
        };
        match origin.owner {
            Owner::Supply => self.of_supply,
            Owner::Leg(leg) => self.job.room_of(leg),
            Owner::Drain(drain) => marked(&network.drains[drain].name),
            Owner::Outlet(outlet) => marked(&network.drops[outlet].name),
        }
    }

    /// The room of a link; none where the job has none.
    pub(crate) fn of_link(&self, link: LinkId) -> Option<usize> {
        self.of_link[link.index()]
    }

    /// Every room in which something stands.
    pub(crate) fn used(&self) -> BTreeSet<Option<usize>> {
        self.of_link.iter().copied().collect()
    }

    /// The coldest of the rooms whose pipe meets at a place, and how cold it
    /// gets, as far as the job says it.
    pub(crate) fn coldest_at(
        &self,
        network: &Network,
        place: NodeId,
    ) -> Option<(&'a str, Temperature)> {
        let rooms = network.ends(place).filter_map(|end| {
            let room = &self.job.rooms[self.of_link(end.link)?];
            Some((room.name.value.as_str(), room.coldest?))
        });
        rooms.min_by_key(|(_, coldest)| *coldest)
    }
}

/// Whether a link is all of a leg.
fn is_whole(leg: &Leg, link: &Link) -> bool {
    matches!(&leg.straights[..], [straight]
        if Some(straight.value.length) == link.pipe && straight.value.direction == link.direction)
}
