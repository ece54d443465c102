//! The legs of the main from the answers: along the walls, with every outlet as it was
//! read off the tape wherever that reading can stand.

use super::answers::{Answers, By, Spot};
use super::reading::Taped;
use super::route::{self, Arm};
use crate::job::{Direction, Wall};
use crate::quantity::{Length, Units};

/// A leg along a wall.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    pub(super) wall: Wall,
    pub(super) direction: Direction,
    pub(super) length: Taped,
    /// Whether it is the wall from corner to corner.
    pub(super) whole: bool,
    /// Whether it starts where the pipe from the compressor arrives.
    pub(super) first: bool,
    /// Whether it comes back to there.
    pub(super) closes: bool,
    pub(super) marks: Vec<Placed>,
}

/// What stands along a leg.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placed {
    pub(super) name: String,
    pub(super) reading: Taped,
    /// Read from the leg's far end.
    pub(super) back: bool,
}

/// So far behind its last outlet the main ends in its drain.
const BEYOND: Length = Length::from_64ths(64 * 12);
/// Where less than this is left to the corner, the main ends at its last outlet.
const LEAST_BEYOND: Length = Length::from_64ths(64 * 5);

/// The legs behind the riser, and the names of the drains on them.
pub(super) fn stretches(answers: &Answers, low: &str) -> (Vec<Stretch>, Vec<String>) {
    let mut stretches = Vec::new();
    let mut drains = Vec::new();
    for (number, arm) in route::arms(answers).into_iter().enumerate() {
        let drain = match drains.len() {
            0 => low.to_owned(),
            more => format!("{low}-{}", more + 1),
        };
        let (own, drained) = match answers.ring {
            true => ring(answers, &arm, &drain),
            false => tree(answers, &arm, number == 0, &drain),
        };
        stretches.extend(own);
        if drained {
            drains.push(drain);
        }
    }
    (stretches, drains)
}

/// A stretch of a wall, from one place to another as read from its left corner.
struct Reach {
    wall: Wall,
    from: Taped,
    to: Taped,
    clockwise: bool,
    /// Whether outlets of its wall that are not measured stand on it.
    unmeasured: bool,
}

impl Reach {
    /// The whole wall.
    fn wall(answers: &Answers, wall: Wall, clockwise: bool) -> Self {
        let (start, end) = (Taped::Measured(Length::ZERO), answers.length_of(wall));
        let (from, to) = match clockwise {
            true => (start, end),
            false => (end, start),
        };
        Self {
            wall,
            from,
            to,
            clockwise,
            unmeasured: true,
        }
    }

    fn spots<'a>(&self, answers: &'a Answers) -> Vec<&'a Spot> {
        let (low, high) = match self.clockwise {
            true => (self.from, self.to),
            false => (self.to, self.from),
        };
        let inside = |spot: &&Spot| match answers.from_left(spot).length() {
            None => self.unmeasured,
            Some(at) => {
                low.length().is_none_or(|low| at > low)
                    && high.length().is_none_or(|high| at <= high)
            }
        };
        let here = answers.spots.iter().filter(|spot| spot.wall == self.wall);
        let mut spots: Vec<&Spot> = here.filter(inside).collect();
        // What is not measured stands where it was told, as long as the others were told
        // from left to right.
        let place = |spot: &&Spot| answers.from_left(spot).length();
        let known: Vec<Length> = spots.iter().filter_map(place).collect();
        if !known.is_sorted() {
            spots.sort_by_key(|spot| (place(spot).is_none(), place(spot)));
        }
        if !self.clockwise {
            spots.reverse();
        }
        spots
    }

    /// A place on the wall as the tape of this leg reads it.
    fn reading(&self, answers: &Answers, spot: &Spot) -> (Taped, bool) {
        let wall = answers.length_of(spot.wall);
        let zero = Taped::Measured(Length::ZERO);
        if spot.reading == Taped::Open {
            return (Taped::Open, false);
        }
        // The hook, and the far end, as the user's own corner.
        let hooked = |end: Taped| match spot.by {
            By::Left => end == zero,
            By::Right => end == wall,
        };
        match (hooked(self.from), hooked(self.to)) {
            (true, _) => (spot.reading, false),
            (false, true) => (spot.reading, true),
            (false, false) => (self.along(answers.from_left(spot)), false),
        }
    }

    /// From the hook to a place on the wall.
    fn along(&self, place: Taped) -> Taped {
        match self.clockwise {
            true => place.with(self.from, |place, from| place - from),
            false => self.from.with(place, |from, place| from - place),
        }
    }

    fn stretch(&self, answers: &Answers) -> Stretch {
        let marks = self.spots(answers).into_iter().map(|spot| {
            let (reading, back) = self.reading(answers, spot);
            Placed {
                name: spot.name.clone(),
                reading,
                back,
            }
        });
        let length = self.along(self.to);
        Stretch {
            wall: self.wall,
            direction: direction(self.wall, self.clockwise),
            whole: length == answers.length_of(self.wall),
            length,
            first: false,
            closes: false,
            marks: marks.collect(),
        }
    }
}

/// Which way one walks along a wall.
const fn direction(wall: Wall, clockwise: bool) -> Direction {
    match (wall, clockwise) {
        (Wall::North, true) | (Wall::South, false) => Direction::East,
        (Wall::East, true) | (Wall::West, false) => Direction::South,
        (Wall::South, true) | (Wall::North, false) => Direction::West,
        (Wall::West, true) | (Wall::East, false) => Direction::North,
    }
}

fn entry(answers: &Answers) -> Taped {
    answers.place.map_or(Taped::Open, |place| place.from_left)
}

/// All the way round, with the low point on its wall.
fn ring(answers: &Answers, arm: &Arm, low: &str) -> (Vec<Stretch>, bool) {
    let place = answers.low.flatten();
    let at = place.map_or(Taped::Open, |place| match place.from_left {
        Taped::Open => route::widest_gap(answers, place.wall),
        known => known,
    });
    let mut answers = answers.clone();
    if let Some(place) = place {
        answers.spots.push(Spot {
            name: low.to_owned(),
            wall: place.wall,
            reading: at,
            by: By::Left,
        });
    }
    let first = arm.walls[0];
    let mut reaches: Vec<Reach> = arm
        .walls
        .iter()
        .map(|wall| Reach::wall(&answers, *wall, true))
        .collect();
    reaches[0].from = entry(&answers);
    reaches.push(Reach {
        wall: first,
        from: Taped::Measured(Length::ZERO),
        to: entry(&answers),
        clockwise: true,
        unmeasured: false,
    });
    let mut stretches: Vec<Stretch> = reaches
        .iter()
        .map(|reach| reach.stretch(&answers))
        .collect();
    stretches[0].first = true;
    if let Some(last) = stretches.last_mut() {
        last.closes = true;
    }
    (stretches, place.is_some())
}

/// An arm to its last outlet, and a little beyond to its drain.
fn tree(answers: &Answers, arm: &Arm, first: bool, low: &str) -> (Vec<Stretch>, bool) {
    let mut reaches: Vec<Reach> = arm
        .walls
        .iter()
        .map(|wall| Reach::wall(answers, *wall, arm.clockwise))
        .collect();
    reaches[0].from = entry(answers);
    reaches[0].unmeasured = first;
    let drained = answers.low.flatten().is_some();
    let mut beyond = true;
    if let Some(last) = reaches.last_mut() {
        let spots = last.spots(answers);
        let mut places = spots.iter().map(|spot| answers.from_left(spot));
        let known = places.clone().all(|place| place != Taped::Open);
        if let Some(place) = places.next_back().filter(|_| known) {
            let rest = last.along(last.to).length().unwrap_or_default()
                - last.along(place).length().unwrap_or_default();
            beyond = drained && rest >= LEAST_BEYOND;
            let more = match beyond {
                true => rest.min(beyond_in(answers.in_units())),
                false => Length::ZERO,
            };
            let more = if arm.clockwise { more } else { -more };
            last.to = place.map(|place| place + more);
        }
    }
    let mut stretches: Vec<Stretch> = reaches.iter().map(|reach| reach.stretch(answers)).collect();
    stretches[0].first = true;
    let drained = drained && beyond;
    if let Some(last) = stretches.last_mut().filter(|_| drained) {
        last.marks.push(Placed {
            name: low.to_owned(),
            reading: last.length,
            back: false,
        });
    }
    (stretches, drained)
}

const fn beyond_in(units: Units) -> Length {
    match units {
        Units::Feet => BEYOND,
        Units::Metric => Length::from_mm(300),
    }
}
