//! What is in the bag in a fitter's words, in the order in which it goes together.

use super::bag::{Bag, straight_seat};
use super::chain::{self, Between, End};
use super::say::name;
use crate::network::{NodeId, NodeKind};
use crate::quantity::Length;
use crate::takeoff::{Of, Seat, Straight};

/// A piece of pipe that has another label in every drop.
const SHORT: &str = "its piece of pipe";

impl Bag<'_> {
    /// What stands at a place in a fitter's words.
    pub(super) fn names(&self, seat: Seat) -> Vec<String> {
        self.things(seat, true)
            .into_iter()
            .map(|thing| thing.name)
            .collect()
    }

    /// What joins a place to a link, in order from the place; pieces by their label
    /// where that is wanted.
    pub(super) fn outward(&self, seat: Seat, labels: bool) -> Vec<String> {
        let Of::End(link) = seat.of else {
            return self.names(seat);
        };
        let things = self.things(seat, labels);
        if things.len() < 2 {
            return things.into_iter().map(|thing| thing.name).collect();
        }
        let network = self.given.network;
        let pipe = network.link(link);
        let other = if pipe.pipe.is_some() {
            vec![End::of_pipe(self.given.library, pipe.system, pipe.size)]
        } else {
            let mut ends = network.ends_of(link).into_iter();
            let far = ends.find(|end| *end != seat.place);
            far.map_or_else(Vec::new, |far| self.ends_at(far))
        };
        chain::in_order(&self.ends_at(seat.place), things, &other)
    }

    /// The same in order towards the place.
    pub(super) fn inward(&self, seat: Seat, labels: bool) -> Vec<String> {
        let mut names = self.outward(seat, labels);
        names.reverse();
        names
    }

    /// What stands at a place, with the place: `the tee at bench`.
    pub(super) fn stands(&self, place: NodeId) -> String {
        let at = self.given.network.place(place);
        match self.at.get(&place) {
            Some(index) => format!(
                "the {} at {at}",
                self.line(*index).key.part.replace('-', " ")
            ),
            None => at,
        }
    }

    /// The ends of what stands at a place; where pipe of two systems meets, those
    /// of the pipe.
    fn ends_at(&self, place: NodeId) -> Vec<End> {
        let network = self.given.network;
        if let NodeKind::Port { size, gender } = network.node(place).kind {
            return vec![End::thread(size, gender)];
        }
        match self.at.get(&place) {
            Some(index) => chain::ends_of(self.given.library, &self.line(*index).key),
            None => network
                .ends(place)
                .map(|end| network.link(end.link))
                .map(|pipe| End::of_pipe(self.given.library, pipe.system, pipe.size))
                .collect(),
        }
    }

    /// The parts and pieces of a seat, each by itself.
    fn things(&self, seat: Seat, labels: bool) -> Vec<Between> {
        let Some(content) = self.content(seat) else {
            return Vec::new();
        };
        let mut things = Vec::new();
        for (index, count) in &content.parts {
            let key = &self.line(*index).key;
            for _ in 0..*count {
                things.push(Between {
                    name: name(key),
                    ends: chain::ends_of(self.given.library, key),
                });
            }
        }
        for piece in &content.pieces {
            let system = match seat.of {
                Of::End(link) | Of::Straight(link) => self.given.network.link(link).system,
                Of::Place | Of::Supports(_) | Of::AtHand => self.given.network.system,
            };
            let end = End::of_pipe(self.given.library, system, piece.size);
            things.push(Between {
                name: if labels {
                    piece.piece.label()
                } else {
                    SHORT.to_owned()
                },
                ends: vec![end.clone(), end],
            });
        }
        things
    }

    /// A straight in the order in which it is put together from one of its ends:
    /// pieces with what joins them.
    pub(super) fn in_order(&self, straight: &Straight, back: bool, labels: bool) -> Vec<String> {
        let content = self.content(straight_seat(straight));
        let mut cut = content.map_or_else(Vec::new, |content| content.pieces.clone());
        cut.sort_by_key(|piece| piece.piece.number);
        let ready = |length: Length| {
            let mut parts = content.iter().flat_map(|content| content.parts.keys());
            let own = |index: &&usize| self.line(**index).key.size.length() == Some(length);
            match parts.find(own) {
                Some(index) => name(&self.line(*index).key),
                None => format!("close nipple {}", straight.size()),
            }
        };
        let mut said = Vec::new();
        for (number, length) in straight.pieces().iter().enumerate() {
            if number > 0 {
                let union = number == 1 && straight.has_union();
                said.push(if union { "union" } else { "coupling" }.to_owned());
            }
            said.push(match cut.get(number) {
                Some(piece) if labels => piece.piece.label(),
                Some(_) => SHORT.to_owned(),
                None => ready(*length),
            });
        }
        if back {
            said.reverse();
        }
        said
    }
}
