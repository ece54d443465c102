//! In which room each pipe stands.

use super::{LinkId, Network, NodeId, Owner};
use crate::job::Job;
use crate::quantity::Temperature;
use std::collections::BTreeSet;

/// The room of every link, as an index into the job's rooms.
#[derive(Debug)]
pub(crate) struct Rooms<'a> {
    job: &'a Job,
    of_link: Vec<Option<usize>>,
    /// Those of the supplies: their first legs'.
    pub(crate) of_supplies: Vec<Option<usize>>,
}

impl<'a> Rooms<'a> {
    /// A leg stands in the room that it names, else in the file's first; drops
    /// and drains stand in their leg's.
    pub(crate) fn of(job: &'a Job, network: &Network) -> Self {
        let of_supply = |supply| {
            let first = job.legs_from(supply).next();
            job.room_of(first.map_or(0, |leg| leg.number - 1))
        };
        let mut rooms = Self {
            job,
            of_link: vec![None; network.link_count()],
            of_supplies: job.supplies.iter().map(of_supply).collect(),
        };
        for (id, _, to, link) in network.links() {
            rooms.of_link[id.index()] = match link.leg {
                Some(leg) => job.room_of(leg),
                None => rooms.of_place(network, to),
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
            Owner::Supply(supply) => self.of_supplies[supply],
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

    /// The coldest of the rooms in which links stand, and how cold it gets, as
    /// far as the job says it.
    pub(crate) fn coldest_of(
        &self,
        links: impl IntoIterator<Item = LinkId>,
    ) -> Option<(&'a str, Temperature)> {
        let rooms = links.into_iter().filter_map(|link| {
            let room = &self.job.rooms[self.of_link(link)?];
            Some((room.name.value.as_str(), room.coldest?))
        });
        rooms.min_by_key(|(_, coldest)| *coldest)
    }
}

#[cfg(test)]
mod tests {
    use super::Rooms;
    use crate::library::Library;
    use crate::network::Owner;
    use crate::source::Source;

    const RING: &str = r#"
[job]
title = "Rooms"
units = "feet"
[room.shop]
size = "20-0 x 20-0"
[room.outdoors]
[supply.compressor]
port    = "3/4in female"
height  = "2-6"
connect = ["valve", "hose 18in"]
[main]
system = "black-iron"
size   = "1/2in"
height = "7-6"
[[leg]]
from = "compressor"
go   = ["up 5-0", "east 2-0"]
to   = "entry"
[[leg]]
from = "entry"
go   = "north 10-0"
[[leg]]
go    = ["east 10-0", "south 10-0"]
marks = { bench = "5-0" }
[[leg]]
room = "outdoors"
go   = "west 10-0"
to   = "entry"
[drop.one]
foot  = "tee"
sides = [["valve", "coupler"]]
size  = "1/2in"
[outlet.bench]
drop   = "one"
height = "3-6"
"#;

    /// How much pipe stands outdoors, of the main and of drops, in mm.
    fn outdoors(job: &str) -> (f64, bool) {
        let library = Library::shipped().unwrap();
        let (job, findings) = crate::job::read(&Source::new("job", job), &library);
        assert!(findings.is_empty(), "{findings:#?}");
        let job = job.unwrap();
        let network = crate::network::build(&job, &library, crate::network::Open::Chart)
            .0
            .unwrap();
        let rooms = Rooms::of(&job, &network);
        let there = || {
            let links = network.links();
            links.filter(|(id, ..)| rooms.of_link(*id) == Some(1))
        };
        let main = there().filter(|(_, _, _, link)| link.is_main());
        let drop =
            there().any(|(_, _, to, _)| matches!(network.node(to).origin.owner, Owner::Outlet(_)));
        (
            main.filter_map(|(_, _, _, link)| link.pipe)
                .map(crate::quantity::Length::mm)
                .sum(),
            drop,
        )
    }

    // Each leg alone outdoors: the one that closes the ring has no place of its
    // own, and the one with a mark takes its drop along.
    #[test]
    fn a_leg_takes_all_that_hangs_on_it_along() {
        let feet = |feet: f64| feet * 304.8;
        assert_eq!(outdoors(RING), (feet(10.0), false));
        let moved = RING.replace("room = \"outdoors\"\n", "");
        for (go, length, drop) in [
            ("go   = \"north", 10.0, false),
            ("go    = [\"east", 20.0, true),
            ("go   = [\"up", 7.0, false),
        ] {
            let job = moved.replace(go, &format!("room = \"outdoors\"\n{go}"));
            assert_eq!(outdoors(&job), (feet(length), drop), "{go}");
        }
    }
}
