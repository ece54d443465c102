//! Pipe systems read from data: sizes, dimensions, what joins what, supports.

mod recipe;
mod row;

use crate::quantity::{Length, Size};
use crate::source::Span;
use recipe::Recipe;
use row::Table;
use std::collections::{BTreeMap, BTreeSet};

/// How a system's pipe is joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Joint {
    /// Tapered pipe thread, sealed with tape or paste.
    Threaded,
    /// Soft solder in a cup.
    Soldered,
    /// Brazing alloy in a cup.
    Brazed,
    /// A sleeve with a seal, pressed with a tool.
    Pressed,
    /// Pushed in and held by a grip ring; comes apart again.
    PushFit,
}

impl Joint {
    /// Every method.
    pub const ALL: [Self; 5] = [
        Self::Threaded,
        Self::Soldered,
        Self::Brazed,
        Self::Pressed,
        Self::PushFit,
    ];

    /// The word in data files and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Threaded => "threaded",
            Self::Soldered => "soldered",
            Self::Brazed => "brazed",
            Self::Pressed => "pressed",
            Self::PushFit => "push-fit",
        }
    }
}

/// A pipe system: a material, its joint method and its dimensions.
#[derive(Debug, Clone)]
pub struct System {
    /// The name in job files: `black-iron`.
    pub name: String,
    /// The name on paper.
    pub title: String,
    /// How its pipe is joined.
    pub joint: Joint,
    /// The material in words.
    pub material: String,
    /// The material as a store's label calls it: `black`.
    pub shelf: String,
    /// The length of a stick as bought.
    pub stick: Length,
    /// What the saw takes away at each cut.
    pub kerf: Length,
    /// Longest distance between supports of upright pipe.
    pub upright_spacing: Length,
    /// Uprights shorter than this hang on the level pipe.
    pub upright_free: Length,
    /// Lengths of the ready-made nipples beside the close one, shortest first.
    pub nipples: Vec<Length>,
    /// Lengths of ready-threaded pipe, shortest first.
    pub ready: Vec<Length>,
    /// The ready-made pieces that can be had, where a price list says so; none
    /// means every listed length of every size.
    pub at_hand: Option<BTreeSet<(Size, Length)>>,
    /// How far a straight built of ready lengths may be off.
    pub ready_within: Length,
    /// Turns of tape on each thread.
    pub tape_turns: u32,
    /// Length of a roll of tape.
    pub tape_roll: Length,
    sizes: BTreeMap<Size, SizeRow>,
    bushings: BTreeMap<Size, Vec<Size>>,
    recipes: Vec<Recipe>,
}

/// The dimensions of one size.
#[derive(Debug, Clone)]
pub struct SizeRow {
    /// The size.
    pub size: Size,
    /// Outside diameter of the pipe.
    pub outside: Length,
    /// Wall of the pipe.
    pub wall: Length,
    /// Mass of the pipe, pounds per foot.
    pub mass_lb_per_ft: f64,
    /// Centre to end of elbow, tee and cross.
    pub centre_to_end: Length,
    /// Centre to end of the 45 elbow.
    pub centre_to_end_45: Length,
    /// Length of the coupling.
    pub coupling: Length,
    /// Length of pipe that goes into a fitting.
    pub make_up: Length,
    /// Length of the union.
    pub union: Length,
    /// Length of the close nipple: the shortest piece with two threads.
    pub close_nipple: Length,
    /// Longest distance between supports of level pipe.
    pub support: Length,
}

/// What is wrong with a data file, and where if that is known.
#[derive(Debug)]
pub(crate) struct ReadError {
    pub(crate) span: Option<Span>,
    pub(crate) message: String,
}

impl System {
    /// Reads a system from its data file.
    ///
    /// # Errors
    /// What is wrong with the file, in words.
    pub fn read(text: &str) -> Result<Self, String> {
        Self::parse(text).map_err(|error| error.message)
    }

    /// Reads a system, and keeps the place of what cannot be read.
    pub(crate) fn parse(text: &str) -> Result<Self, ReadError> {
        let table: Table = toml::from_str(text).map_err(|error| ReadError {
            span: error.span().map(Span::from),
            message: error.message().to_owned(),
        })?;
        table.into_system().map_err(|message| ReadError {
            span: None,
            message,
        })
    }

    /// The dimensions of a size, if the system has it.
    #[must_use]
    pub fn row(&self, size: Size) -> Option<&SizeRow> {
        self.sizes.get(&size)
    }

    /// The sizes of the system, smallest first.
    pub fn sizes(&self) -> impl Iterator<Item = &SizeRow> {
        self.sizes.values()
    }

    /// The ready-made nipple nearest to a piece of this size: its length, and
    /// the longer of two that are equally near. None for a piece that is
    /// shorter than the close nipple or longer than the longest one.
    #[must_use]
    pub fn nearest_nipple(&self, size: Size, piece: Length) -> Option<Length> {
        let close = self.row(size)?.close_nipple;
        let longest = *self.nipples.last()?;
        if piece < close || piece > longest {
            return None;
        }
        let longer = self
            .nipples
            .iter()
            .copied()
            .filter(|length| *length > close);
        std::iter::once(close)
            .chain(longer)
            .min_by_key(|length| ((*length - piece).abs(), std::cmp::Reverse(*length)))
    }

    /// Whether a piece of this size is a ready-made nipple longer than the
    /// close one.
    #[must_use]
    pub fn is_nipple(&self, size: Size, piece: Length) -> bool {
        self.row(size).is_some_and(|row| piece > row.close_nipple) && self.nipples.contains(&piece)
    }

    /// The bushings that lead from a female end of `outside` down to a female
    /// end of `inside`: as few as there are, the largest step first.
    #[must_use]
    pub fn bushings(&self, outside: Size, inside: Size) -> Option<Vec<(Size, Size)>> {
        let mut chain = Vec::new();
        let mut from = outside;
        while from > inside {
            let next = self
                .bushings
                .get(&from)?
                .iter()
                .copied()
                .filter(|size| *size >= inside && *size < from)
                .min()?;
            chain.push((from, next));
            from = next;
        }
        Some(chain)
    }
}
