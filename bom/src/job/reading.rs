//! `[[check]]`: what a second walk with the tape read between two places.

use super::Wall;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

/// A reading of the second walk.
#[derive(Debug, Clone)]
pub struct Reading {
    /// The place of its table.
    pub span: Span,
    /// Where the tape was hooked.
    pub from: Spanned<Spot>,
    /// Where it was read.
    pub to: Spanned<Spot>,
    /// The room whose corners, walls or eave these are: an index.
    pub room: Option<usize>,
    /// What it read.
    pub read: Spanned<Length>,
}

/// An end of the tape.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spot {
    /// A mark, an end of a leg or a supply, by its name.
    Place(String),
    /// A corner of a room: whether it is the north one, and the east one.
    Corner(bool, bool),
    /// A wall of a room, square to it.
    Wall(Wall),
    /// The floor.
    Floor,
    /// The eave of a room.
    Eave,
    /// The main where it starts.
    Main,
}

const WALLS: [Wall; 4] = [Wall::North, Wall::South, Wall::East, Wall::West];

impl Spot {
    /// All corners, from the south-west one round.
    pub(crate) const CORNERS: [Self; 4] = [
        Self::Corner(false, false),
        Self::Corner(true, false),
        Self::Corner(true, true),
        Self::Corner(false, true),
    ];

    /// All walls.
    pub(crate) const WALLS: [Self; 4] = [
        Self::Wall(Wall::North),
        Self::Wall(Wall::South),
        Self::Wall(Wall::East),
        Self::Wall(Wall::West),
    ];

    /// As a job file writes it.
    #[must_use]
    pub fn written(&self) -> String {
        match self {
            Self::Place(name) => name.clone(),
            Self::Corner(north, east) => format!(
                "{}-{} corner",
                if *north { "north" } else { "south" },
                if *east { "east" } else { "west" }
            ),
            Self::Wall(wall) => format!("{} wall", wall.word()),
            Self::Floor => "floor".to_owned(),
            Self::Eave => "eave".to_owned(),
            Self::Main => "main".to_owned(),
        }
    }

    /// In a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Place(name) => name.clone(),
            Self::Main => "the main where it starts".to_owned(),
            other => format!("the {}", other.written()),
        }
    }

    /// What is written, if it is no name.
    pub(crate) fn parse(written: &str) -> Option<Self> {
        let fixed = Self::CORNERS
            .into_iter()
            .chain([Self::Floor, Self::Eave, Self::Main]);
        let walls = WALLS.into_iter().map(Self::Wall);
        let mut all = fixed.chain(walls);
        let same = |spot: &Self| {
            let word = spot.written();
            word == written || word.replacen('-', "", 1) == written
        };
        all.find(same)
    }

    /// Whether it belongs to a room.
    pub(crate) const fn is_of_room(&self) -> bool {
        matches!(self, Self::Corner(..) | Self::Wall(_) | Self::Eave)
    }
}
