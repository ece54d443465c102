//! Kinds of drops, outlets, and the tools that hang on them.

use super::{DeviceUse, SizeChoice, State};
use crate::library::{Library, ToolKind};
use crate::quantity::{AirFlow, Length, Pressure};
use crate::source::{Span, Spanned};

/// How a drop leaves the main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakeOff {
    /// Up, over and down.
    Top,
    /// Sideways, then down.
    Side,
    /// Straight down.
    Bottom,
}

/// What ends the down pipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Foot {
    /// Two sides and a drip leg.
    Cross,
    /// One side and a drip leg.
    Tee,
    /// One side, no drip leg.
    Elbow,
}

/// What ends a drip leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LegEnd {
    /// A drain.
    Drain(DeviceUse),
    /// A cap.
    Cap,
}

/// A kind of drop.
#[derive(Debug, Clone)]
pub struct DropKind {
    /// Its name.
    pub name: Spanned<String>,
    /// How it leaves the main.
    pub take_off: TakeOff,
    /// The drop pipe.
    pub size: SizeChoice,
    /// Where the size stands, for messages.
    pub size_span: Span,
    /// Main centre to upper elbow.
    pub rise: Length,
    /// How far it stands over from the main.
    pub reach: Length,
    /// What ends the down pipe.
    pub foot: Foot,
    /// The devices of each side, outwards.
    pub sides: Vec<Vec<Spanned<DeviceUse>>>,
    /// From the foot's centre to the lower end of the drip leg.
    pub drip_leg: Length,
    /// What ends the drip leg.
    pub drain: LegEnd,
    /// What becomes of its outlets that say nothing themselves.
    pub state: Option<Spanned<State>>,
}

/// An outlet.
#[derive(Debug, Clone)]
pub struct Outlet {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// Index into the job's drops; none if the name is unknown.
    pub drop: Option<usize>,
    /// Foot centre above the floor.
    pub height: Spanned<Length>,
    /// What its air is for.
    pub quality: Option<Spanned<Quality>>,
    /// What its regulator is set to, if other than its kind of drop says.
    pub set: Option<Spanned<Pressure>>,
    /// What hangs on it.
    pub tools: Vec<Tool>,
    /// Whether an isolating valve stands at the head of its drop, if the job says so.
    pub head: Option<bool>,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

impl Outlet {
    /// What the regulator of one of its sides is said to be set to.
    pub(crate) fn set_for(&self, side: &[Spanned<DeviceUse>]) -> Option<Pressure> {
        let on_side = || side.iter().find_map(|used| used.value.set);
        self.set.map(|set| set.value).or_else(on_side)
    }
}

/// What the air of an outlet is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quality {
    /// Ordinary tools.
    General,
    /// Paint: no oil, no dirt.
    Paint,
}

/// A tool at an outlet. Its hose is the user's own.
#[derive(Debug, Clone)]
pub struct Tool {
    /// Where its table stands.
    pub span: Span,
    /// What it is.
    pub name: Option<Spanned<String>>,
    /// Index into the library's tools, if its name is known.
    pub kind: Option<usize>,
    /// What it uses while it runs.
    pub air: Option<Spanned<AirFlow>>,
    /// What it uses over the day: its share of time is in it already.
    pub average: Option<Spanned<AirFlow>>,
    /// The pressure at which it works best.
    pub pressure: Option<Spanned<Pressure>>,
    /// The share of time in which it runs, from 0 to 1.
    pub share: Option<Spanned<f64>>,
    /// Its hose.
    pub hose: Option<Spanned<Hose>>,
    /// The side of the foot that it hangs on, from 1.
    pub side: Option<Spanned<usize>>,
    /// Whatever else is to be said of it.
    pub note: Option<Spanned<String>>,
}

/// The hose of a tool.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hose {
    /// Its length.
    pub length: Length,
    /// Its bore.
    pub bore: Length,
}

impl DropKind {
    /// The index of the side that a tool hangs on: what it says, else the last
    /// that has a regulator, else the first. None if the drop has no such side.
    #[must_use]
    pub fn side_of(&self, tool: &Tool, library: &Library) -> Option<usize> {
        let stated = tool.side.map(|side| side.value.saturating_sub(1));
        let regulated = |side: &Vec<Spanned<DeviceUse>>| {
            let mut names = side
                .iter()
                .map(|used| &library.devices()[used.value.device].name);
            names.any(|name| name == "regulator")
        };
        let usual = || self.sides.iter().rposition(regulated).unwrap_or(0);
        Some(stated.unwrap_or_else(usual)).filter(|side| *side < self.sides.len())
    }
}

impl Tool {
    /// Its row in the library's list of tools, if its name is known.
    #[must_use]
    pub fn listed<'a>(&self, library: &'a Library) -> Option<&'a ToolKind> {
        library.tools().get(self.kind?)
    }

    /// What messages call it.
    #[must_use]
    pub fn words(&self) -> &str {
        let name = self.name.as_ref().or(self.note.as_ref());
        name.map_or("the tool", |name| &name.value)
    }
}
