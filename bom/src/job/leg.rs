//! Legs of the main, and what is marked on them.

use super::{DeviceUse, Direction, PointTo, SizeChoice, State};
use crate::quantity::{Fall, Length, Size};
use crate::source::{Span, Spanned};

/// One wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wall {
    /// The wall to the north, which runs east and west.
    North,
    /// The wall to the south.
    South,
    /// The wall to the east, which runs north and south.
    East,
    /// The wall to the west.
    West,
}

/// A stretch of the walk.
#[derive(Debug, Clone)]
pub struct Leg {
    /// 1, 2, 3 … in the file.
    pub number: usize,
    /// The line of its table.
    pub line: usize,
    /// The place of its table.
    pub span: Span,
    /// Where it starts; the end of the leg before it if left out.
    pub from: Option<Spanned<String>>,
    /// The name of its end.
    pub to: Option<Spanned<String>>,
    /// The wall that it follows.
    pub along: Option<Spanned<Wall>>,
    /// The room in which it stands, and whose wall that is.
    pub room: Option<Spanned<String>>,
    /// Its size, if other than the main's.
    pub size: Option<Spanned<SizeChoice>>,
    /// Its system, if other than the main's: an index into the library's.
    pub system: Option<Spanned<usize>>,
    /// Its fall away from the supply, if other than the main's.
    pub fall: Option<Spanned<Fall>>,
    /// The least height of its level pipe's centre above the floor.
    pub clear: Option<Spanned<Length>>,
    /// The point that it runs to, where that is said instead of a way.
    pub point: Option<PointTo>,
    /// Its straights, in walking order.
    pub straights: Vec<Spanned<Straight>>,
    /// Its marks, as written.
    pub marks: Vec<Mark>,
    /// Closing reading: from the last mark to the end.
    pub left: Option<Spanned<Length>>,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

impl Leg {
    /// The names of its marks and of its end.
    pub(crate) fn names(&self) -> impl Iterator<Item = &Spanned<String>> {
        self.marks.iter().map(|mark| &mark.name).chain(&self.to)
    }

    /// Its whole length along the pipe.
    #[must_use]
    pub fn length(&self) -> Length {
        self.straights
            .iter()
            .map(|straight| straight.value.length)
            .sum()
    }

    /// How messages and reasons call it: `leg 3 (north wall)`.
    #[must_use]
    pub fn label(&self) -> String {
        match &self.along {
            Some(along) => format!("leg {} ({} wall)", self.number, along.value.word()),
            None => format!("leg {}", self.number),
        }
    }
}

impl Wall {
    /// Every wall and its words in job files.
    pub(crate) const WORDS: [(&'static str, Self); 4] = [
        ("north wall", Self::North),
        ("south wall", Self::South),
        ("east wall", Self::East),
        ("west wall", Self::West),
    ];

    /// `north`, `south`, `east` or `west`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::North => "north",
            Self::South => "south",
            Self::East => "east",
            Self::West => "west",
        }
    }
}

/// One direction and a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Straight {
    /// Where it goes.
    pub direction: Direction,
    /// How far, along the pipe.
    pub length: Length,
}

/// Where something stands along a leg.
#[derive(Debug, Clone)]
pub struct Mark {
    /// The name of what stands there.
    pub name: Spanned<String>,
    /// The reading.
    pub reading: Spanned<Length>,
    /// Whether it was read from the far end.
    pub back: bool,
}

/// A drain of the main.
#[derive(Debug, Clone)]
pub struct MainDrain {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// What closes it.
    pub valve: DeviceUse,
    /// From the main's centre to the lower end of the leg.
    pub drip_leg: Length,
    /// Size of the leg, if other than the main's.
    pub size: Option<Size>,
    /// Whether the main falls to it from every side.
    pub low_point: bool,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

/// A line valve: it shuts off the main that goes on behind it.
#[derive(Debug, Clone)]
pub struct LineValve {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// What it is.
    pub device: DeviceUse,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}
