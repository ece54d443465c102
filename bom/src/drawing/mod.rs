//! Pictures as data: lines, areas, discs and texts on a sheet, in millimetres of
//! paper. No colours and no file format: what draws a [`Sheet`] decides nothing.
//!
//! **Invariant:** no text of a sheet touches another text, a line or the sheet's
//! edge; [`collisions`] finds those that do.

mod board;
mod collide;
mod drop;
mod hatch;
mod isometric;
mod legend;
mod list;
mod page;
mod pages;
pub mod plan;
mod pressure;
mod reading;
mod shape;
mod signs;
mod sketch;
mod symbol;
mod table;
mod tags;
mod text;
mod valves;
mod water;

pub use board::{Board, Label};
pub use collide::{Collision, collisions};
pub use drop::drop;
pub use hatch::{Hatch, hatch};
pub use isometric::isometric;
pub use legend::{Entry, legend};
pub use list::{List, Row};
pub use pages::{Named, Pages};
pub use plan::plan;
pub use pressure::pressure;
pub use shape::{Area, At, Dash, Fill, Shape, Stroke, Weight};
pub use signs::signs;
pub use symbol::{Symbol, symbol, symbols};
pub use table::{Column, table, table_by_row};
pub use tags::{Tags, tags};
pub use text::{Anchor, Text, TextSize, shorten, width, wrap};
pub(crate) use valves::letter;
pub use valves::valves;
pub use water::water;

use crate::Plan;
use crate::library::Library;

/// What is drawn: a planned job, and the paper that there is for it.
#[derive(Debug, Clone, Copy)]
pub struct Scene<'a> {
    /// The job.
    pub plan: &'a Plan,
    /// The library that it was planned with.
    pub library: &'a Library,
    /// The room for a drawing on an upright sheet of paper.
    pub field: Field,
}

/// The room for a drawing on a sheet of paper between heads, feet and margins,
/// in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Across an upright sheet.
    pub width: f64,
    /// Down an upright sheet.
    pub height: f64,
    /// Across a lying one.
    pub lying_width: f64,
    /// Down a lying one.
    pub lying_height: f64,
}

impl Field {
    /// Fits both A4 and Letter paper, upright or lying.
    pub const COMMON: Self = Self {
        width: 172.0,
        height: 228.0,
        lying_width: 240.0,
        lying_height: 160.0,
    };
}

/// A kind of drawing of a job.
#[derive(Debug, Clone, Copy)]
pub struct Drawing {
    /// Its name on the command line.
    pub word: &'static str,
    /// Draws its sheets.
    pub sheets: fn(&Scene<'_>) -> Vec<Sheet>,
}

/// Every kind of drawing of a job, in the order in which a set of them lies.
pub const DRAWINGS: &[Drawing] = &[
    Drawing {
        word: "plan",
        sheets: plan,
    },
    Drawing {
        word: "isometric",
        sheets: isometric,
    },
    Drawing {
        word: "drop",
        sheets: drop,
    },
    Drawing {
        word: "water",
        sheets: water,
    },
    Drawing {
        word: "valves",
        sheets: valves,
    },
    Drawing {
        word: "pressure",
        sheets: pressure,
    },
];

impl Scene<'_> {
    /// The sheets of every kind of drawing that is wanted, by its word.
    pub fn sheets(&self, wanted: impl Fn(&str) -> bool) -> Vec<Sheet> {
        let drawings = DRAWINGS.iter().filter(|drawing| wanted(drawing.word));
        drawings
            .flat_map(|drawing| (drawing.sheets)(self))
            .collect()
    }
}

/// What the signs of all drawings mean; no drawing of the job itself.
pub const SIGNS: Drawing = Drawing {
    word: "signs",
    sheets: signs,
};

/// A finished drawing.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Its name in files and links: `plan`, `isometric-2`.
    pub id: String,
    /// Its title: `Plan`, `Isometric: east wall`.
    pub title: String,
    /// What it shows, in a sentence or two, for those who cannot see it.
    pub about: String,
    /// Across, in millimetres.
    pub width: f64,
    /// Down, in millimetres.
    pub height: f64,
    /// What is drawn, in drawing order.
    pub marks: Vec<Mark>,
}

/// Things that belong together on a sheet.
#[derive(Debug, Clone)]
pub struct Mark {
    /// Where it belongs.
    pub layer: Layer,
    /// Its name in links, unique on its sheet: `outlet-3`.
    pub id: Option<String>,
    /// What it is, for those who cannot see it: `Outlet 3, press`.
    pub title: Option<String>,
    /// Its shapes, in drawing order.
    pub shapes: Vec<Shape>,
}

/// What a mark belongs to. Layers are drawn in this order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Rooms, walls, floors and grids.
    Room,
    /// Dimension lines and their figures.
    Dimension,
    /// Pipe.
    Pipe,
    /// Fittings, devices, drains and hangers.
    Part,
    /// Arrows of flow and fall.
    Flow,
    /// Labels and their leaders.
    Label,
    /// Legends, tables and notes.
    Note,
}

impl Layer {
    /// Its name in files.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Room => "room",
            Self::Dimension => "dimension",
            Self::Pipe => "pipe",
            Self::Part => "part",
            Self::Flow => "flow",
            Self::Label => "label",
            Self::Note => "note",
        }
    }
}

impl Mark {
    /// Shapes without a name.
    #[must_use]
    pub const fn new(layer: Layer, shapes: Vec<Shape>) -> Self {
        Self {
            layer,
            id: None,
            title: None,
            shapes,
        }
    }

    /// The same, to the right and down of there.
    #[must_use]
    pub fn moved(mut self, x: f64, y: f64) -> Self {
        self.shapes = self.shapes.iter().map(|shape| shape.moved(x, y)).collect();
        self
    }

    /// Shapes with a name and a title.
    #[must_use]
    pub fn named(layer: Layer, id: &str, title: &str, shapes: Vec<Shape>) -> Self {
        Self {
            layer,
            id: Some(id.to_owned()),
            title: Some(title.to_owned()),
            shapes,
        }
    }
}

impl Sheet {
    /// Puts the marks in the order of their layers; those of one layer stay in theirs.
    #[must_use]
    pub fn layered(mut self) -> Self {
        self.marks.sort_by_key(|mark| mark.layer);
        self
    }

    /// Every text on it, in drawing order.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        let shapes = self.marks.iter().flat_map(|mark| &mark.shapes);
        shapes.filter_map(|shape| match shape {
            Shape::Text(text) => Some(text),
            Shape::Path { .. } | Shape::Disc { .. } => None,
        })
    }
}
