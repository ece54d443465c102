//! The count laid out by seats; steps take from it what they build.

use super::{Given, Hold, Step, StepJoints, StepPart, StepPiece};
use crate::network::NodeId;
use crate::quantity::Length;
use crate::takeoff::{Of, PartLine, Seat, Straight};
use std::collections::BTreeMap;

/// What belongs to a seat: lines and joints by their index in the count.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Content {
    pub(super) parts: BTreeMap<usize, u64>,
    pub(super) joints: BTreeMap<usize, u64>,
    pub(super) pieces: Vec<StepPiece>,
}

/// All that is counted, until it is taken.
#[derive(Debug)]
pub(super) struct Bag<'a> {
    pub(super) given: Given<'a>,
    seats: BTreeMap<Seat, Content>,
    /// The line of what stands at a place.
    pub(super) at: BTreeMap<NodeId, usize>,
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

    /// What is there and not taken.
    pub(super) fn content(&self, seat: Seat) -> Option<&Content> {
        self.seats.get(&whole(seat))
    }

    pub(super) fn line(&self, index: usize) -> &'a PartLine {
        &self.given.takeoff.lines[index]
    }

    /// Whether a part of this name is there and not taken.
    pub(super) fn has(&self, seat: Seat, part: &str) -> bool {
        self.content(seat).is_some_and(|content| {
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
            if let Some(content) = self.content(*seat) {
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
