//! What a walk with the tape has found, before it is a job file.
//!
//! Values are texts as the job file writes them (`12-6`, `?`, `~36-0`), and may be
//! left out wherever somebody may not know them yet: [`write`] puts a stand-in there
//! and a comment that says what to measure.

mod kinds;
mod length;
pub mod sheet;
pub(crate) mod table;
mod write;

pub use kinds::{LINE, PAINT, REGULATED, TWO_SIDED, usual_drop};
pub use length::as_written;
pub use write::write;

use crate::job::Direction;
use crate::quantity::Units;

/// The whole walk.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Survey {
    /// What the file begins with, a comment for each.
    pub remarks: Vec<String>,
    /// The job's title.
    pub title: Option<String>,
    /// Who it is for.
    pub customer: Option<String>,
    /// How plain lengths read.
    pub units: Units,
    /// The file's revision; `A` if left out.
    pub revision: Option<String>,
    /// How many people use air at the same time.
    pub people: Option<u8>,
    /// How high the site is above the sea.
    pub altitude: Option<String>,
    /// The rooms; one without a size is not written.
    pub rooms: Vec<Room>,
    /// The compressors. The walk starts at the first.
    pub supplies: Vec<Supply>,
    /// What holds for every leg.
    pub main: Main,
    /// The legs, in walking order.
    pub legs: Vec<Leg>,
    /// Drains of the main.
    pub drains: Vec<Drain>,
    /// Line valves.
    pub valves: Vec<Valve>,
    /// Kinds of drops. Those of [`usual_drop`] need not stand here.
    pub drops: Vec<DropKind>,
    /// The outlets.
    pub outlets: Vec<Outlet>,
}

/// A room.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// From the west wall to the east wall, and from the south wall to the north wall.
    pub size: Option<(String, String)>,
    /// Height of the eave.
    pub eave: Option<String>,
    /// The coldest that it gets.
    pub coldest: Option<String>,
    /// The hottest that it gets.
    pub hottest: Option<String>,
}

/// A compressor.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Supply {
    /// Its name, from which the first leg starts.
    pub name: String,
    /// Where it stands, or whatever else is to be said.
    pub remark: Option<String>,
    /// Free air delivered.
    pub free_air: Option<String>,
    /// The pressure at which it starts.
    pub cut_in: Option<String>,
    /// The pressure at which it stops.
    pub cut_out: Option<String>,
    /// Setting of the relief valve.
    pub relief: Option<String>,
    /// Volume of the tank.
    pub tank: Option<String>,
    /// Size and thread of the tank's port; `1in female` if left out.
    pub port: Option<String>,
    /// Height of the port above the floor; `?` if left out.
    pub height: Option<String>,
    /// What stands between tank and pipe; a valve and a hose if left out.
    pub connect: Option<Vec<String>>,
}

/// What holds for every leg.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Main {
    /// The pipe system; `black-iron` if left out.
    pub system: Option<String>,
    /// The size; `auto` if left out.
    pub size: Option<String>,
    /// Pipe centre above the floor where the main starts; `?` if left out.
    pub height: Option<String>,
    /// The fall; 1/8 in per ft, or 1 %, if left out.
    pub fall: Option<String>,
    /// Where unions stand; `loops` if left out.
    pub unions: Option<String>,
    /// Where threads come from; `cut` if left out.
    pub threading: Option<String>,
    /// From the wall to the pipe's centre.
    pub stand_off: Option<String>,
}

/// A stretch of the walk, measured with one hook of the tape.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Leg {
    /// What the walk calls it, for the comment.
    pub name: Option<String>,
    /// Whatever else is to be said of it.
    pub remark: Option<String>,
    /// The place where it starts; the end of the leg before it if left out.
    pub from: Option<String>,
    /// The name of its end.
    pub to: Option<String>,
    /// The wall that it follows: `north wall`.
    pub along: Option<String>,
    /// The room in which it stands.
    pub room: Option<String>,
    /// Its size, if other than the main's.
    pub size: Option<String>,
    /// Its fall, if other than the main's.
    pub fall: Option<String>,
    /// Its straights, in walking order: a direction and a length.
    pub go: Vec<(Direction, String)>,
    /// What stands along it.
    pub marks: Vec<Mark>,
    /// From the last mark to the end.
    pub left: Option<String>,
}

/// Where something stands along a leg.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mark {
    /// The name of what stands there.
    pub name: String,
    /// The reading.
    pub reading: String,
    /// Whether it was read from the far end.
    pub from_end: bool,
}

/// A drain of the main.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drain {
    /// Its name.
    pub name: String,
    /// Size of its valve; `1/2in` if left out.
    pub valve: Option<String>,
    /// Whether the pipe falls on past it, so that it is no low point.
    pub falls_on: bool,
}

/// A line valve.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Valve {
    /// Its name.
    pub name: String,
    /// What it is; a ball valve if left out.
    pub kind: Option<String>,
    /// Its size, if other than the pipe's.
    pub size: Option<String>,
}

/// A kind of drop. What is left out takes what is usual.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DropKind {
    /// Its name.
    pub name: String,
    /// What it is for, for the comment.
    pub remark: Option<String>,
    /// `top`, `side` or `bottom`.
    pub take_off: Option<String>,
    /// The size of its pipe; `auto` if left out.
    pub size: Option<String>,
    /// `cross`, `tee` or `elbow`; what its sides need if left out.
    pub foot: Option<String>,
    /// The devices of each side, outwards.
    pub sides: Vec<Vec<String>>,
    /// From the foot to the drain.
    pub drip_leg: Option<String>,
    /// `valve`, `automatic` or `none`.
    pub drain: Option<String>,
}

/// An outlet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outlet {
    /// Its name, which is a mark of a leg.
    pub name: String,
    /// Whatever is to be said of it.
    pub remark: Option<String>,
    /// Its kind of drop; by its quality if left out.
    pub drop: Option<String>,
    /// Height above the floor; `?` if left out.
    pub height: Option<String>,
    /// Whether its air is for paint.
    pub paint: bool,
    /// What hangs on it.
    pub tools: Vec<Tool>,
}

/// A tool.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tool {
    /// What it is.
    pub tool: Option<String>,
    /// What it takes while it runs.
    pub air: Option<String>,
    /// The pressure at which it works best.
    pub pressure: Option<String>,
    /// The share of time in which it runs: `0.6` or `60 %`.
    pub share: Option<String>,
    /// Its hose: `25ft x 3/8in`.
    pub hose: Option<String>,
    /// Whatever else is to be said of it.
    pub note: Option<String>,
}

impl Outlet {
    /// The name of its kind of drop.
    #[must_use]
    pub fn kind(&self) -> &str {
        match &self.drop {
            Some(drop) => drop,
            None if self.paint => PAINT,
            None => REGULATED,
        }
    }
}

#[cfg(test)]
mod tests;
