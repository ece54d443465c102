//! The card for a second walk: lengths that were not typed, which together hang on every
//! length that was.

use super::probe::Probe;
use super::reading::measure;
use super::typed::Typed;
use crate::job::{Job, Leg, Spot, Wall};
use crate::library::Library;
use crate::network::Lay;
use crate::quantity::Length;
use std::collections::BTreeSet;

/// Nearer places are one: there is nothing to read.
const SHORT: Length = Length::from_64ths(64);

/// What to measure on a second walk.
#[derive(Debug)]
pub struct Card {
    /// The readings, those first that say most.
    pub lines: Vec<Line>,
    /// Lengths that no tape has told yet, in words.
    pub unmeasured: Vec<String>,
    /// Typed lengths that no line hangs on, in words.
    pub unchecked: Vec<String>,
}

/// One reading.
#[derive(Debug, Clone)]
pub struct Line {
    /// Where the tape is hooked.
    pub from: Spot,
    /// Where it is read.
    pub to: Spot,
    /// The room whose walls or corners these are, as an index and by its name where
    /// there are several.
    pub room: Option<(usize, Option<String>)>,
    /// What the walk makes it.
    pub expected: Length,
    /// The typed lengths that it hangs on, in words.
    pub checks: Vec<String>,
}

impl Line {
    /// `from bench to the north-east corner of shop`.
    #[must_use]
    pub fn words(&self) -> String {
        let [from, to] = [&self.from, &self.to].map(|spot| match &self.room {
            Some((_, Some(room))) if spot.is_of_room() => format!("{} of {room}", spot.words()),
            _ => spot.words(),
        });
        format!("from {from} to {to}")
    }
}

/// How welcome a reading is: the lower, the better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    /// From corner to corner.
    Diagonal,
    /// Between neighbours on one wall.
    Plain,
    /// From one leg to another, or to the other end of a wall.
    Far,
    /// Square to a wall that the pipe does not follow, or upright.
    Square,
    /// What was typed, read once more.
    Again,
}

struct Candidate {
    from: Spot,
    to: Spot,
    room: Option<usize>,
    rank: Rank,
    behind: BTreeSet<Typed>,
}

pub(super) fn card(job: &Job, lay: &Lay, library: &Library) -> Card {
    let probe = Probe::of(job, lay, library);
    let mut candidates = candidates(job, lay);
    for one in &mut candidates {
        one.behind = probe
            .behind((&one.from, &one.to, one.room), 2)
            .into_iter()
            .collect();
        // What is one straight and nothing else was typed as it is.
        if let [Typed::Straight(..)] = one.behind.iter().copied().collect::<Vec<_>>()[..] {
            one.rank = Rank::Again;
        }
    }
    let mut open: BTreeSet<Typed> = probe.all().collect();
    // Every place stands on some line as well: a leg left out moves it and leaves all
    // lengths as they are.
    let mut bare: BTreeSet<&str> = lay.order.iter().map(String::as_str).collect();
    let mut lines = Vec::new();
    // Both diagonals of every room: no other line says whether it is square.
    for one in candidates.iter().filter(|one| one.rank == Rank::Diagonal) {
        open.retain(|typed| !one.behind.contains(typed));
        lines.extend(one.line(job, lay));
    }
    loop {
        let gain = |one: &Candidate| {
            let bare = one.level_places().filter(|name| bare.contains(name));
            one.behind.intersection(&open).count() + bare.count()
        };
        let Some(best) = candidates
            .iter()
            .filter(|one| gain(one) > 0)
            .min_by_key(|one| {
                (
                    one.rank == Rank::Again,
                    std::cmp::Reverse(gain(one)),
                    one.rank,
                )
            })
        else {
            break;
        };
        open.retain(|typed| !best.behind.contains(typed));
        for name in best.level_places() {
            bare.remove(name);
        }
        lines.extend(best.line(job, lay));
    }
    // Where a ring closes, heights add up, or a mark stands at the end, the walk itself
    // says what does not fit.
    open.retain(|typed| !probe.is_held(*typed));
    Card {
        lines,
        unmeasured: job.unmeasured.iter().map(|one| one.what.clone()).collect(),
        unchecked: open.into_iter().map(|typed| typed.words(job)).collect(),
    }
}

impl Candidate {
    /// The places at its ends, if it is level.
    fn level_places(&self) -> impl Iterator<Item = &str> {
        let upright = [&self.from, &self.to].map(|one| matches!(one, Spot::Floor | Spot::Eave));
        let ends = [&self.from, &self.to].into_iter();
        ends.filter_map(move |one| match one {
            Spot::Place(name) if upright == [false, false] => Some(name.as_str()),
            _ => None,
        })
    }

    fn line(&self, job: &Job, lay: &Lay) -> Option<Line> {
        let several = job
            .rooms
            .iter()
            .filter(|room| room.east_west > Length::ZERO);
        let several = several.count() > 1;
        let room = self.room.map(|room| {
            let name = several.then(|| job.rooms[room].name.value.clone());
            (room, name)
        });
        Some(Line {
            from: self.from.clone(),
            to: self.to.clone(),
            room,
            expected: measure(job, lay, &self.from, &self.to, self.room)?,
            checks: self.behind.iter().map(|typed| typed.words(job)).collect(),
        })
    }
}

/// Every reading that could stand on the card.
fn candidates(job: &Job, lay: &Lay) -> Vec<Candidate> {
    let mut found = Vec::new();
    let mut add = |from: Spot, to: Spot, room: Option<usize>, rank: Rank| {
        let length = measure(job, lay, &from, &to, room);
        let known = |one: &Candidate| {
            let ends = (&one.from, &one.to);
            one.room == room && (ends == (&from, &to) || ends == (&to, &from))
        };
        if length.is_some_and(|length| length >= SHORT) && !found.iter().any(known) {
            found.push(Candidate {
                from,
                to,
                room,
                rank,
                behind: BTreeSet::new(),
            });
        }
    };
    for walls in lay.walls.iter() {
        let [south_west, north_west, north_east, south_east] = Spot::CORNERS;
        add(
            south_west.clone(),
            north_east,
            Some(walls.room),
            Rank::Diagonal,
        );
        add(
            north_west.clone(),
            south_east.clone(),
            Some(walls.room),
            Rank::Diagonal,
        );
        // A narrow room's diagonals hardly change with its width.
        add(
            south_west.clone(),
            north_west,
            Some(walls.room),
            Rank::Again,
        );
        add(south_west, south_east, Some(walls.room), Rank::Again);
    }
    for (number, leg) in job.legs.iter().enumerate() {
        let room = job.room_of(number);
        let mut marks: Vec<_> = leg.marks.iter().collect();
        marks.sort_by_key(|mark| leg.place_of(mark));
        for pair in marks.windows(2) {
            let [first, second] = pair else { continue };
            add(
                place(&first.name.value),
                place(&second.name.value),
                None,
                Rank::Plain,
            );
        }
        let Some((start, end)) = corners(leg) else {
            continue;
        };
        for mark in &marks {
            let (far, hook) = match mark.back {
                true => (&start, &end),
                false => (&end, &start),
            };
            let last = marks.last().is_some_and(|last| last.name == mark.name);
            let typed = leg.left.is_some() && last;
            let rank = if typed { Rank::Again } else { Rank::Far };
            add(place(&mark.name.value), far.clone(), room, rank);
            add(place(&mark.name.value), hook.clone(), room, Rank::Again);
        }
    }
    for pair in lay.order.windows(2) {
        let [first, second] = pair else { continue };
        add(place(first), place(second), None, Rank::Far);
    }
    for walls in lay.walls.iter().filter(|walls| walls.known) {
        let room = Some(walls.room);
        for name in &lay.order {
            let Some(at) = lay.places.get(name) else {
                continue;
            };
            // From outside, a tape reaches the wall that it stands before and no other.
            let before = walls.inside.beyond(*at);
            for wall in before.map_or(Spot::WALLS.to_vec(), |(_, wall)| vec![Spot::Wall(wall)]) {
                add(place(name), wall, room, Rank::Square);
            }
        }
    }
    if let Some(room) = job.room_of(0) {
        add(Spot::Eave, Spot::Main, Some(room), Rank::Square);
        for supply in &job.supplies {
            add(
                Spot::Eave,
                place(&supply.name.value),
                Some(room),
                Rank::Square,
            );
        }
    }
    add(Spot::Floor, Spot::Main, None, Rank::Again);
    for supply in &job.supplies {
        add(Spot::Floor, place(&supply.name.value), None, Rank::Again);
    }
    found
}

fn place(name: &str) -> Spot {
    Spot::Place(name.to_owned())
}

/// The corners between which a leg along a wall runs.
fn corners(leg: &Leg) -> Option<(Spot, Spot)> {
    let wall = leg.along.as_ref()?.value;
    let (mut east, mut north) = (Length::ZERO, Length::ZERO);
    for straight in &leg.straights {
        let by = straight.value.direction.displacement(straight.value.length);
        east += by.0;
        north += by.1;
    }
    let ahead = Length::ZERO;
    let ends = match wall {
        Wall::North | Wall::South => {
            let north = wall == Wall::North;
            [east < ahead, east > ahead].map(|east| Spot::Corner(north, east))
        }
        Wall::East | Wall::West => {
            let east = wall == Wall::East;
            [north < ahead, north > ahead].map(|north| Spot::Corner(north, east))
        }
    };
    let [start, end] = ends;
    Some((start, end))
}
