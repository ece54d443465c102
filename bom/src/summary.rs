//! The layout in a few facts, for scopes and headings.

use crate::quantity::{Length, Size, Units};

/// What a page about this job says before any list.
#[derive(Debug, Clone)]
pub struct Summary {
    /// The job's title.
    pub title: String,
    /// Who it is for; empty if the file does not say.
    pub customer: String,
    /// The file's revision; empty if the file does not say.
    pub revision: String,
    /// How lengths print.
    pub units: Units,
    /// The supply in words, one fact each: `compressor: 24 cfm free air`.
    pub supply: Vec<String>,
    /// What connects each tank with the pipe, in the order of the supplies.
    pub connections: Vec<Connection>,
    /// Sizes of the main, largest first.
    pub main_sizes: Vec<Size>,
    /// The main by pipe system, its own first.
    pub main_pipe: Vec<MainPipe>,
    /// Length of the main, centre to centre, feed and branches included.
    pub main_length: Length,
    /// How many rings the main closes.
    pub rings: usize,
    /// Where the main starts above the floor.
    pub main_height: Length,
    /// The fall in words: `1/8in per ft`, `level`, `1 %, otherwise on leg 3`.
    pub fall: String,
    /// Drains of the main.
    pub drains: Vec<DrainSummary>,
    /// Line valves, in the file's order.
    pub valves: Vec<ValveSummary>,
    /// Every outlet, in walking order.
    pub outlets: Vec<OutletSummary>,
}

/// What connects one tank with the pipe.
#[derive(Debug, Clone)]
pub struct Connection {
    /// The supply's name.
    pub supply: String,
    /// What stands between, in order: `ball valve 1in`, `hose 1in x 24in`; empty
    /// where the pipe is screwed into the tank.
    pub items: Vec<String>,
}

/// What of the main is of one pipe system.
#[derive(Debug, Clone)]
pub struct MainPipe {
    /// The pipe system in words.
    pub system_title: String,
    /// Its sizes, largest first.
    pub sizes: Vec<Size>,
    /// Its length, centre to centre.
    pub length: Length,
}

/// A drain of the main.
#[derive(Debug, Clone)]
pub struct DrainSummary {
    /// Its name in the job file.
    pub name: String,
    /// Pipe centre of the main there, above the floor.
    pub height: Length,
    /// Its valve.
    pub valve: Size,
}

/// A line valve.
#[derive(Debug, Clone)]
pub struct ValveSummary {
    /// Its name in the job file.
    pub name: String,
    /// Its middle above the floor.
    pub height: Length,
    /// Its size.
    pub size: Size,
}

/// One outlet as the customer knows it.
#[derive(Debug, Clone)]
pub struct OutletSummary {
    /// 1, 2, 3 … in walking order.
    pub number: usize,
    /// Its name in the job file.
    pub name: String,
    /// The kind of drop.
    pub drop: String,
    /// Size of the drop pipe.
    pub size: Size,
    /// The outlet above the floor.
    pub height: Length,
    /// How the drop leaves the main: `top`, `side`, `bottom`.
    pub take_off: String,
    /// What hangs on each side, in order: `valve, filter, regulator, coupler`.
    pub sides: Vec<String>,
    /// What drains it: `valve 1/2in`, `automatic 1/2in`, `none`.
    pub drain: String,
}
