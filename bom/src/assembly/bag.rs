//! The count laid out by seats; steps take from it what they build.

use super::chain::{self, Between, End};
use super::say::name;
use super::{Given, Hold, Step, StepJoints, StepPart, StepPiece};
use crate::network::{NodeId, NodeKind};
use crate::quantity::Length;
use crate::takeoff::{Of, PartLine, Seat, Straight};
use std::collections::BTreeMap;

/// A piece of pipe that has another label in every drop.
const SHORT: &str = "its piece of pipe";

/// What belongs to a seat: lines and joints by their index in the count.
#[derive(Debug, Clone, Default, PartialEq)]
struct Content {
    parts: BTreeMap<usize, u64>,
    joints: BTreeMap<usize, u64>,
    pieces: Vec<StepPiece>,
}

/// All that is counted, until it is taken.
#[derive(Debug)]
pub(super) struct Bag<'a> {
    given: Given<'a>,
    seats: BTreeMap<Seat, Content>,
    /// The line of what stands at a place.
    at: BTreeMap<NodeId, usize>,
}

/// A straight is told at either of its ends; here it has one seat.
fn whole(seat: Seat) -> Seat {
    match seat.of {
        Of::Straight(_) => Seat {
            place: NodeId::default(),
            ..seat
        },
        _ => seat,
    }
}

/// The seat of a straight.
pub(super) fn straight_seat(straight: &Straight) -> Seat {
    Seat {
        place: straight.from(),
        of: Of::Straight(straight.links()[0]),
    }
}

impl<'a> Bag<'a> {
    pub(super) fn of(given: Given<'a>) -> Self {
        let mut seats: BTreeMap<Seat, Content> = BTreeMap::new();
        for (index, line) in given.takeoff.lines.iter().enumerate() {
            for because in &line.because {
                let content = seats.entry(whole(because.at)).or_default();
                *content.parts.entry(index).or_default() += 1;
            }
        }
        for (index, joints) in given.takeoff.joints.iter().enumerate() {
            for seat in &joints.places {
                let content = seats.entry(whole(*seat)).or_default();
                *content.joints.entry(index).or_default() += 1;
            }
        }
        for line in &given.takeoff.pipe {
            for piece in &line.pieces {
                let content = seats.entry(whole(piece.seat)).or_default();
                content.pieces.push(StepPiece {
                    piece: *piece,
                    size: line.size,
                });
            }
        }
        let mut at = BTreeMap::new();
        for (seat, content) in &seats {
            if let (Of::Place, Some(index)) = (seat.of, content.parts.keys().next()) {
                at.insert(seat.place, *index);
            }
        }
        Self { given, seats, at }
    }

    fn line(&self, index: usize) -> &'a PartLine {
        &self.given.takeoff.lines[index]
    }

    /// Whether a part of this name is there and not taken.
    pub(super) fn has(&self, seat: Seat, part: &str) -> bool {
        self.seats.get(&whole(seat)).is_some_and(|content| {
            let mut parts = content.parts.keys();
            parts.any(|index| self.line(*index).key.part == part)
        })
    }

    /// Whether anything of a seat is not taken yet.
    pub(super) fn holds(&self, seat: Seat) -> bool {
        self.seats.contains_key(&whole(seat))
    }

    /// What is kept at hand, wherever it is told.
    pub(super) fn at_hand(&self) -> Vec<Seat> {
        let seats = self.seats.keys().copied();
        seats.filter(|seat| seat.of == Of::AtHand).collect()
    }

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
        let Some(content) = self.seats.get(&whole(seat)) else {
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
        let content = self.seats.get(&whole(straight_seat(straight)));
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

    /// Whether two sets of seats hold the same: parts, joints, lengths.
    pub(super) fn alike(&self, one: &[Seat], other: &[Seat]) -> bool {
        let of = |seats: &[Seat]| {
            let content = self.sum(seats);
            let pieces = content.pieces.iter();
            let lengths: Vec<_> = pieces.map(|one| (one.size, one.piece.length)).collect();
            (content.parts, content.joints, lengths)
        };
        of(one) == of(other)
    }

    fn sum(&self, seats: &[Seat]) -> Content {
        let mut sum = Content::default();
        for seat in seats {
            if let Some(content) = self.seats.get(&whole(*seat)) {
                sum.add(content.clone());
            }
        }
        sum
    }

    /// A step that builds these seats.
    pub(super) fn step(&mut self, title: String, hold: Hold, seats: Vec<Seat>) -> Step {
        let mut taken = Content::default();
        for seat in &seats {
            if let Some(content) = self.seats.remove(&whole(*seat)) {
                taken.add(content);
            }
        }
        let parts = taken.parts.into_iter().map(|(index, quantity)| {
            let line = self.line(index);
            StepPart {
                part: line.key.part.clone(),
                words: line.words.clone(),
                size: line.key.size,
                quantity,
                unit: line.unit.clone(),
            }
        });
        let joints = taken.joints.into_iter().map(|(index, count)| {
            let joints = &self.given.takeoff.joints[index];
            StepJoints {
                system: joints.system.clone(),
                joint: joints.joint,
                size: joints.size,
                count,
            }
        });
        Step {
            number: 0,
            title,
            hold,
            how: Vec::new(),
            pieces: taken.pieces,
            parts: parts.collect(),
            joints: joints.collect(),
            height: self.highest(&seats),
            seats,
            remarks: Vec::new(),
        }
    }

    fn highest(&self, seats: &[Seat]) -> Option<Length> {
        let network = self.given.network;
        let up = |place: NodeId| network.node(place).at.up;
        let heights = seats.iter().filter_map(|seat| match seat.of {
            Of::AtHand => None,
            Of::Straight(link) => network.ends_of(link).map(up).into_iter().max(),
            Of::Place | Of::End(_) | Of::Supports(_) => Some(up(seat.place)),
        });
        heights.max()
    }
}

impl Content {
    fn add(&mut self, other: Self) {
        for (index, count) in other.parts {
            *self.parts.entry(index).or_default() += count;
        }
        for (index, count) in other.joints {
            *self.joints.entry(index).or_default() += count;
        }
        self.pieces.extend(other.pieces);
    }
}
