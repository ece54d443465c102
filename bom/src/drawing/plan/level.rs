//! What stands on one sheet: rooms that do not lie above each other, and their main.

use super::crossing::{Crossing, crossings};
use crate::Beside;
use crate::Plan;
use crate::job::Direction;
use crate::network::{Extent, LinkId, NodeId, Owner, Point, Rooms, Walls};
use crate::quantity::Length;

/// The rooms of one level, and the main in them.
#[derive(Debug)]
pub(super) struct Level {
    /// `loft`, `workshop and store`; empty if it is the only one.
    pub(super) name: String,
    pub(super) rooms: Vec<Walls>,
    /// Its main, in walking order.
    pub(super) links: Vec<LinkId>,
    pub(super) straights: Vec<Straight>,
    pub(super) risers: Vec<Riser>,
    pub(super) crossings: Vec<Crossing>,
    /// Main that is taken out or comes later.
    pub(super) beside: Vec<Beside>,
    /// Where its main goes on in another level, and in which.
    pub(super) beyond: Vec<(NodeId, String)>,
}

/// Level main of one leg that goes one way.
#[derive(Debug, Clone)]
pub(super) struct Straight {
    pub(super) direction: Direction,
    /// Its places, one more than its links.
    pub(super) places: Vec<NodeId>,
    pub(super) links: Vec<LinkId>,
}

/// Upright main.
#[derive(Debug)]
pub(super) struct Riser {
    pub(super) at: Point,
    pub(super) low: Length,
    pub(super) high: Length,
}

impl Straight {
    fn meets(&self, other: &Self) -> bool {
        let line =
            other.direction == self.direction || other.direction.opposite() == self.direction;
        let ends = [other.places.first(), other.places.last()];
        line && [self.places.first(), self.places.last()]
            .iter()
            .any(|end| ends.contains(end))
    }

    /// Adds one that it meets; the places stand in no order then.
    fn join(&mut self, other: Self) {
        let new = other
            .places
            .into_iter()
            .filter(|place| !self.places.contains(place));
        let new: Vec<NodeId> = new.collect();
        self.places.extend(new);
        self.links.extend(other.links);
    }
}

/// The levels of a job, each with rooms that share no ground.
pub(super) fn levels(plan: &Plan) -> Vec<Level> {
    let mut groups: Vec<Vec<Walls>> = Vec::new();
    for room in &plan.network.walls {
        let free = |group: &&mut Vec<Walls>| {
            let mut others = group.iter();
            others.all(|one| !one.inside.overlaps(&room.inside))
        };
        match groups.iter_mut().find(free) {
            Some(group) => group.push(room.clone()),
            None => groups.push(vec![room.clone()]),
        }
    }
    if groups.is_empty() {
        groups.push(Vec::new());
    }
    let rooms = Rooms::of(&plan.job, &plan.network);
    let in_room = |room: Option<usize>| {
        let holds = |group: &Vec<Walls>| group.iter().any(|one| Some(one.room) == room);
        groups.iter().position(holds).unwrap_or(0)
    };
    let of = |link: LinkId| in_room(rooms.of_link(link));
    let several = groups.len() > 1;
    let name = |group: &[Walls]| {
        let names: Vec<&str> = group.iter().map(|room| room.name.as_str()).collect();
        names.join(" and ")
    };
    let names: Vec<String> = groups.iter().map(|group| name(group)).collect();
    let numbered = groups.iter().enumerate().map(|(number, group)| {
        let main = plan.network.links().filter(|(.., link)| link.is_main());
        let links: Vec<LinkId> = main
            .map(|(id, ..)| id)
            .filter(|id| of(*id) == number)
            .collect();
        let mut beyond: Vec<(NodeId, String)> = Vec::new();
        for link in &links {
            for place in plan.network.ends_of(*link) {
                for end in plan.network.ends(place) {
                    let other = of(end.link);
                    let main = plan.network.link(end.link).is_main();
                    let known = beyond
                        .iter()
                        .any(|(at, name)| (*at, name) == (place, &names[other]));
                    if main && other != number && !known {
                        beyond.push((place, names[other].clone()));
                    }
                }
            }
        }
        Level {
            name: if several {
                names[number].clone()
            } else {
                String::new()
            },
            straights: straights(plan, &links),
            risers: risers(plan, &links),
            crossings: crossings(plan, group, &links),
            rooms: group.clone(),
            beside: {
                let beside = plan.beside.iter();
                let here = beside.filter(|piece| in_room(piece.room) == number);
                here.cloned().collect()
            },
            links,
            beyond,
        }
    });
    numbered.collect()
}

fn straights(plan: &Plan, links: &[LinkId]) -> Vec<Straight> {
    let network = &plan.network;
    let mut straights: Vec<(Option<usize>, Straight)> = Vec::new();
    for id in links {
        let link = network.link(*id);
        let [from, to] = network.ends_of(*id);
        if link.pipe.is_none() || !link.direction.is_level() {
            continue;
        }
        match straights.last_mut() {
            Some((leg, last))
                if *leg == link.leg
                    && last.direction == link.direction
                    && last.places.last() == Some(&from) =>
            {
                last.places.push(to);
                last.links.push(*id);
            }
            _ => straights.push((
                link.leg,
                Straight {
                    direction: link.direction,
                    places: vec![from, to],
                    links: vec![*id],
                },
            )),
        }
    }
    straights.into_iter().map(|(_, one)| one).collect()
}

fn risers(plan: &Plan, links: &[LinkId]) -> Vec<Riser> {
    let mut risers: Vec<Riser> = Vec::new();
    for id in links {
        if plan.network.link(*id).direction.is_level() {
            continue;
        }
        let [from, to] = plan
            .network
            .ends_of(*id)
            .map(|end| plan.network.node(end).at);
        let (low, high) = (from.up.min(to.up), from.up.max(to.up));
        let goes_on = |one: &&mut Riser| {
            let there = (one.at.east, one.at.north) == (from.east, from.north);
            there && (one.high == low || one.low == high)
        };
        match risers.iter_mut().find(goes_on) {
            Some(one) => (one.low, one.high) = (one.low.min(low), one.high.max(high)),
            None => risers.push(Riser {
                at: from,
                low,
                high,
            }),
        }
    }
    risers
}

impl Level {
    /// Its straights, those in one line joined where they meet.
    pub(super) fn joined(&self) -> Vec<Straight> {
        let mut joined: Vec<Straight> = Vec::new();
        for one in &self.straights {
            let mut one = one.clone();
            // One may meet another at either of its ends.
            while let Some(at) = joined.iter().position(|other| one.meets(other)) {
                let other = joined.remove(at);
                one.join(other);
            }
            joined.push(one);
        }
        joined
    }

    /// Whether a place of the main stands on this level.
    pub(super) fn has(&self, plan: &Plan, place: NodeId) -> bool {
        let mut ends = plan.network.ends(place);
        ends.any(|end| self.links.contains(&end.link))
    }

    /// Whether a supply's tank stands on this level.
    pub(super) fn has_supply(&self, plan: &Plan, supply: usize) -> bool {
        let network = &plan.network;
        let of = |id: NodeId| network.node(id).origin.owner == Owner::Supply(supply);
        let mut ends = self.links.iter().map(|link| network.ends_of(*link));
        ends.any(|[from, to]| of(from) || of(to))
    }

    /// All of its rooms and main; none if there is nothing.
    pub(super) fn extent(&self, plan: &Plan) -> Option<Extent> {
        let ends = self
            .links
            .iter()
            .flat_map(|link| plan.network.ends_of(*link));
        let pipe = ends.map(|end| plan.network.node(end).at);
        let beside = self.beside.iter().flat_map(|piece| piece.ends);
        let pipe = Extent::around(pipe.chain(beside))?;
        let rooms = self.rooms.iter().map(|room| &room.inside);
        Some(rooms.fold(pipe, |all, one| all.with(one)))
    }
}
