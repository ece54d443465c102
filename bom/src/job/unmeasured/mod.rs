//! Lengths that no tape has told: `"?"` is not measured yet, `"~36-0"` is paced.
//! The job goes on with what follows from the rest, else with a stand-in, and every
//! one of them is said.

mod marks;
mod rings;
mod walls;

use super::{Direction, Leg, Main, Outlet, Room, Supply};
use crate::quantity::{Length, Units};
use crate::source::{Span, Spanned};
use std::collections::BTreeMap;

/// How a length is known that was not measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guess {
    /// Paced, or read off from afar.
    Paced,
    /// Not at all.
    NotMeasured,
}

/// A length that is to be confirmed.
#[derive(Debug, Clone)]
pub struct Unmeasured {
    /// Where it is written.
    pub span: Span,
    /// How it is known.
    pub how: Guess,
    /// What it is the length of: `leg 3 (north wall), east`.
    pub what: String,
    /// The leg whose straight it is, by its number; none for marks and heights.
    pub leg: Option<usize>,
    /// What it is taken as.
    pub taken: Length,
    /// Where that comes from: `the length of the wall`.
    pub from: String,
}

/// The guessed lengths of a file, by where they stand.
pub(super) type Guesses = BTreeMap<Span, Guess>;

/// Takes up to a fifth of a paced length are put right; more is a mistake to be told.
const PACED_OFF: (i64, i64) = (1, 5);

/// A stand-in for a straight that nothing tells; common practice, no source.
pub(super) const fn straight(units: Units) -> Length {
    match units {
        Units::Feet => Length::from_feet(10),
        Units::Metric => Length::from_mm(3_000),
    }
}

/// The same for a height; common practice, no source.
pub(super) const fn height(units: Units, feet: i64) -> Length {
    match units {
        Units::Feet => Length::from_feet(feet),
        Units::Metric => Length::from_mm(feet * 300),
    }
}

/// The heights taken where none is measured: of ports, mains and outlets, in feet or
/// in 300 mm.
pub(super) const PORT: i64 = 3;
pub(super) const MAIN: i64 = 10;
pub(super) const OUTLET: i64 = 4;

/// Where the tables of a job stand while its lengths are settled.
pub(super) struct Settling<'a> {
    pub(super) legs: &'a mut [Leg],
    pub(super) rooms: &'a [Room],
    pub(super) supplies: &'a mut [Supply],
    pub(super) main: &'a mut Main,
    pub(super) outlets: &'a [Outlet],
    pub(super) units: Units,
    pub(super) guesses: &'a Guesses,
    /// What is settled, and where from.
    from: BTreeMap<Span, &'static str>,
}

/// Settles every guessed length.
pub(super) fn settle(
    legs: &mut [Leg],
    rooms: &[Room],
    supplies: &mut [Supply],
    main: &mut Main,
    outlets: &[Outlet],
    (units, guesses): (Units, &Guesses),
) -> Vec<Unmeasured> {
    if guesses.is_empty() {
        return Vec::new();
    }
    let mut settling = Settling {
        legs,
        rooms,
        supplies,
        main,
        outlets,
        units,
        guesses,
        from: BTreeMap::new(),
    };
    settling.walls();
    settling.risers();
    settling.rings();
    settling.reach();
    settling.marks();
    settling.told()
}

impl Settling<'_> {
    fn is_guess(&self, span: Span) -> bool {
        self.guesses.contains_key(&span)
    }

    /// Whether a length is guessed and nothing has settled it.
    fn is_open(&self, span: Span) -> bool {
        self.is_guess(span) && !self.from.contains_key(&span)
    }

    /// The one open straight of some, if there is exactly one.
    fn only_open(&self, straights: impl Iterator<Item = (usize, usize)>) -> Option<(usize, usize)> {
        let mut open =
            straights.filter(|(leg, number)| self.is_open(self.legs[*leg].straights[*number].span));
        let one = open.next()?;
        open.next().is_none().then_some(one)
    }

    /// Gives a straight its length, unless that is none or too far from what was paced.
    fn take(&mut self, (leg, number): (usize, usize), length: Length, from: &'static str) {
        let straight = &mut self.legs[leg].straights[number];
        let paced = self.guesses.get(&straight.span) == Some(&Guess::Paced);
        let off = (length - straight.value.length).abs();
        let most = straight.value.length.scaled(PACED_OFF.0, PACED_OFF.1);
        if length > Length::ZERO && !(paced && off > most) {
            straight.value.length = length;
            self.from.insert(straight.span, from);
        }
    }

    /// What has to be said of every guess, in the order of the file.
    fn told(self) -> Vec<Unmeasured> {
        let mut told = Vec::new();
        let mut tell = |length: Spanned<Length>, leg: Option<usize>, what: String| {
            let Some(how) = self.guesses.get(&length.span) else {
                return;
            };
            let from = match (self.from.get(&length.span), how) {
                (Some(from), _) => *from,
                (None, Guess::Paced) => "as paced",
                (None, Guess::NotMeasured) => "a stand-in",
            };
            told.push(Unmeasured {
                span: length.span,
                how: *how,
                what,
                leg,
                taken: length.value,
                from: from.to_owned(),
            });
        };
        for supply in self.supplies.iter() {
            tell(
                supply.height,
                None,
                format!("the height of the port of {}", supply.name.value),
            );
        }
        tell(self.main.height, None, "the height of the main".to_owned());
        for leg in self.legs.iter() {
            for straight in &leg.straights {
                let way = straight.value.direction.word();
                let length = Spanned::new(straight.value.length, straight.span);
                tell(length, Some(leg.number), format!("{}, {way}", leg.label()));
            }
            for mark in &leg.marks {
                tell(
                    mark.reading,
                    None,
                    format!("where {} stands on {}", mark.name.value, leg.label()),
                );
            }
        }
        for outlet in self.outlets {
            tell(
                outlet.height,
                None,
                format!("the height of outlet {}", outlet.name.value),
            );
        }
        told.sort_by_key(|one| one.span);
        told
    }
}

impl Unmeasured {
    /// What papers say of it.
    pub(super) fn words(&self, units: Units) -> String {
        let taken = self.taken.show(units);
        match self.how {
            Guess::Paced if self.from == "as paced" => {
                format!("To confirm: {} is paced, not measured: {taken}.", self.what)
            }
            Guess::Paced => format!(
                "To confirm: {} is paced, not measured, and taken as {taken}: {}.",
                self.what, self.from
            ),
            Guess::NotMeasured => format!(
                "To confirm: {} is not measured and taken as {taken}: {}.",
                self.what, self.from
            ),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Axis {
    East,
    North,
    Up,
}

impl Axis {
    const fn index(self) -> usize {
        match self {
            Self::East => 0,
            Self::North => 1,
            Self::Up => 2,
        }
    }
}

/// Which way along an axis a direction goes: 1, -1, or 0 across it.
const fn step(direction: Direction, axis: Axis) -> i64 {
    let (east, north, up) = direction.steps();
    match axis {
        Axis::East => east,
        Axis::North => north,
        Axis::Up => up,
    }
}

#[cfg(test)]
mod tests;
