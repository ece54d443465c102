//! Pipe systems read from data: sizes, dimensions, what joins what, supports.

mod describe;
mod recipe;
mod row;
mod shipped;

pub use describe::RowSource;
pub(crate) use shipped::SHIPPED;

use crate::job::Threading;
use crate::library::Gender;
use crate::quantity::{Length, PartSize, Size, Units};
use crate::rating::Rating;
use crate::source::{Source, Span};
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

/// What a system's pipe is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Metal {
    /// Carbon steel without a coating.
    #[serde(rename = "black steel")]
    BlackSteel,
    /// Carbon steel, hot-dip galvanised.
    #[serde(rename = "galvanised steel")]
    GalvanisedSteel,
    /// Austenitic stainless steel.
    #[serde(rename = "stainless steel")]
    StainlessSteel,
    /// Copper.
    Copper,
    /// Brass or bronze.
    Brass,
    /// Aluminium.
    Aluminium,
    /// A ductile plastic that its maker has made for compressed air.
    Plastic,
}

impl Metal {
    /// Its name in data files and in messages.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::BlackSteel => "black steel",
            Self::GalvanisedSteel => "galvanised steel",
            Self::StainlessSteel => "stainless steel",
            Self::Copper => "copper",
            Self::Brass => "brass",
            Self::Aluminium => "aluminium",
            Self::Plastic => "plastic",
        }
    }
}

/// A figure and who says it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced {
    /// The figure.
    pub value: f64,
    /// Its source.
    pub source: String,
}

impl Sourced {
    const fn new(value: f64, source: String) -> Self {
        Self { value, source }
    }
}

/// What each joint uses up.
#[derive(Debug, Clone)]
pub struct Consumable {
    /// The part that the catalog prices: `solder`.
    pub part: String,
    /// How much one of it holds.
    pub pack: f64,
    /// In what it is measured: `lb`.
    pub measure: String,
    /// How much a joint takes, by size.
    pub per_joint: BTreeMap<Size, f64>,
    /// Who says so.
    pub source: String,
}

/// The bend that leads a drop from the top of the main round and down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SwanNeck {
    /// How high its place stands above the main's centre.
    pub rise: Length,
    /// How far it stands beside the main's centre.
    pub reach: Length,
    /// From its place down to the end of the drop pipe in its socket.
    pub take_out: Length,
}

/// The threads that a size of tube has adapters for.
#[derive(Debug, Clone, Default)]
struct Adapter {
    male: Vec<Size>,
    female: Vec<Size>,
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
    /// The grade of the pipe, where it is sold in several: `type L`.
    pub grade: Option<String>,
    /// What it is made of.
    pub metal: Metal,
    /// What its threaded adapters are made of.
    pub adapter_metal: Metal,
    /// For tube, the threaded system whose nipples and bushings join the
    /// threads of devices.
    pub threads: Option<String>,
    /// Whether a main may be built of it; some are only nipples and bushings.
    pub carries_main: bool,
    /// Whether its joints come apart again, so that no union is needed.
    pub comes_apart: bool,
    /// What must be said wherever it is counted.
    pub cautions: Vec<String>,
    /// What it may carry, and its limits.
    pub services: String,
    /// The alloy of its joints where the job says none.
    pub alloy: Option<String>,
    /// What its pipe, fittings and joints may carry.
    pub ratings: Vec<Rating>,
    /// The length of a stick as bought.
    pub stick: Length,
    /// What the saw takes away at each cut.
    pub kerf: Length,
    /// Longest distance between supports of upright pipe.
    pub upright_spacing: Length,
    /// Uprights shorter than this hang on the level pipe.
    pub upright_free: Length,
    /// Roughness of the bore, millimetres.
    pub roughness_mm: Sourced,
    /// The same of old pipe, where the wall grows rough.
    pub aged_roughness_mm: Option<Sourced>,
    /// Growth by heat, millionths of the length per degree Fahrenheit.
    pub growth_per_million_per_f: Sourced,
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
    /// What its joints use up.
    pub consumables: Vec<Consumable>,
    sizes: BTreeMap<Size, SizeRow>,
    bushings: BTreeMap<Size, Vec<Size>>,
    adapters: BTreeMap<Size, Adapter>,
    saddles: BTreeSet<(Size, Size)>,
    swan_necks: BTreeMap<Size, SwanNeck>,
    reducing: BTreeMap<String, BTreeSet<PartSize>>,
    lacks: BTreeSet<String>,
    recipes: Vec<Recipe>,
    sources: Vec<RowSource>,
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
    /// The thread of the devices that go with it.
    pub thread: Option<Size>,
    /// Threads per inch, where the pipe is threaded.
    pub threads_per_inch: Option<f64>,
    /// How much thinner the wall may be.
    pub wall_tolerance: Length,
    /// How much larger the outside may be.
    pub outside_tolerance: Length,
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
    /// The shortest piece with a joint at both ends: the close nipple, or the
    /// piece of tube that joins two sockets.
    pub shortest: Length,
    /// Longest distance between supports of level pipe.
    pub support: Length,
    /// Who says the dimensions of the pipe, of the fittings, of the supports.
    pub sources: [String; 3],
}

impl SizeRow {
    /// The bore of the pipe.
    #[must_use]
    pub fn bore(&self) -> Length {
        self.outside - self.wall.times(2)
    }
}

/// What is wrong with a data file, and where if that is known.
#[derive(Debug)]
pub(crate) struct ReadError {
    pub(crate) span: Option<Span>,
    pub(crate) message: String,
}

fn of_millimetres(figure: &Sourced) -> Length {
    let text = format!("{}mm", figure.value);
    Length::parse(&text, Units::Metric).unwrap_or_default()
}

impl System {
    /// Reads a system from its data file.
    ///
    /// # Errors
    /// What is wrong with the file, in words.
    pub fn read(text: &str) -> Result<Self, String> {
        Self::parse(text).map_err(|error| match error.span {
            Some(span) => {
                let line = Source::new("", text).line(span.start);
                format!("line {line}: {}", error.message)
            }
            None => error.message,
        })
    }

    /// Reads a system, and keeps the place of what cannot be read.
    pub(crate) fn parse(text: &str) -> Result<Self, ReadError> {
        let table: Table = toml::from_str(text).map_err(|error| ReadError {
            span: error.span().map(Span::from),
            message: error.message().to_owned(),
        })?;
        let mut system = table.into_system().map_err(|message| ReadError {
            span: None,
            message,
        })?;
        system.sources = describe::sources(text);
        Ok(system)
    }

    /// Every size that a row names is one of its pipe.
    fn holds_together(&self) -> Result<(), String> {
        let saddles = self
            .saddles
            .iter()
            .flat_map(|(main, branch)| [main, branch]);
        let bushings = self
            .bushings
            .iter()
            .flat_map(|(outside, inside)| std::iter::once(outside).chain(inside));
        let sizes = self.adapters.keys().chain(self.swan_necks.keys());
        for size in sizes.chain(saddles).chain(bushings) {
            if !self.sizes.contains_key(size) {
                return Err(format!("{size} is named, and `pipe` has no row for it"));
            }
        }
        for consumable in &self.consumables {
            let lacking = self
                .sizes
                .keys()
                .find(|size| !consumable.per_joint.contains_key(size));
            if let Some(size) = lacking {
                return Err(format!("{} says nothing for {size}", consumable.part));
            }
        }
        Ok(())
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

    /// Roughness of the bore.
    #[must_use]
    pub fn roughness(&self) -> Length {
        of_millimetres(&self.roughness_mm)
    }

    /// Roughness of the bore after years of use: that of new pipe where the
    /// data has no other.
    #[must_use]
    pub fn aged_roughness(&self) -> Length {
        of_millimetres(
            self.aged_roughness_mm
                .as_ref()
                .unwrap_or(&self.roughness_mm),
        )
    }

    /// Whether its pipe is joined by threads.
    #[must_use]
    pub fn is_threaded(&self) -> bool {
        self.joint == Joint::Threaded
    }

    /// Where the threads of its pipe come from, if the job says so: tube has
    /// none and is always cut.
    #[must_use]
    pub fn threading(&self, wanted: Threading) -> Threading {
        if self.is_threaded() && !self.ready.is_empty() {
            wanted
        } else {
            Threading::Cut
        }
    }

    /// The size that goes with a thread: the smallest that is as large, else
    /// the largest.
    #[must_use]
    pub fn size_for_thread(&self, thread: Size) -> Option<Size> {
        let fits = |row: &&SizeRow| row.thread.is_some_and(|own| own >= thread);
        let row = self.sizes.values().find(fits);
        row.or_else(|| self.sizes.values().last())
            .map(|row| row.size)
    }

    /// The thread that goes with a size of its pipe.
    #[must_use]
    pub fn thread_of(&self, size: Size) -> Size {
        self.row(size).and_then(|row| row.thread).unwrap_or(size)
    }

    /// The thread of the adapter that leads from tube of this size towards
    /// `near`: that thread, or one from which few steps lead to it.
    #[must_use]
    pub fn adapter(&self, tube: Size, gender: Gender, near: Size) -> Option<Size> {
        let adapter = self.adapters.get(&tube)?;
        // A male thread goes through a bushing into a larger female one; a
        // female thread takes a smaller male one through a bushing.
        match gender {
            Gender::Male => {
                let down = adapter.male.iter().filter(|size| **size <= near).max();
                down.or_else(|| adapter.male.iter().min())
            }
            Gender::Female => {
                let up = adapter.female.iter().filter(|size| **size >= near).min();
                up.or_else(|| adapter.female.iter().max())
            }
        }
        .copied()
    }

    /// Whether a fitting of this size is made.
    #[must_use]
    pub fn makes(&self, part: &str, size: PartSize) -> bool {
        if self.lacks.contains(part) {
            return false;
        }
        let listed = self.reducing.get(part);
        !size.reduces() || listed.is_none_or(|sizes| sizes.contains(&size))
    }

    /// Whether a branch of this size can be clamped on a main of that size.
    #[must_use]
    pub fn has_saddle(&self, main: Size, branch: Size) -> bool {
        self.saddles.contains(&(main, branch))
    }

    /// The alloys that its joints may be made with and that have a rating.
    pub fn alloys(&self) -> impl Iterator<Item = &str> {
        self.ratings
            .iter()
            .filter_map(|rating| rating.alloy.as_deref())
    }

    /// The bend of a drop of this size, if the system has it.
    #[must_use]
    pub fn swan_neck(&self, size: Size) -> Option<SwanNeck> {
        self.swan_necks.get(&size).copied()
    }

    /// The ready-made nipple nearest to a piece of this size: its length, and
    /// the longer of two that are equally near. None for a piece that is
    /// shorter than the close nipple or longer than the longest one.
    #[must_use]
    pub fn nearest_nipple(&self, size: Size, piece: Length) -> Option<Length> {
        let close = self.row(size)?.shortest;
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
        self.row(size).is_some_and(|row| piece > row.shortest) && self.nipples.contains(&piece)
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
