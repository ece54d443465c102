//! What was read on site, as a record file says it. What is left empty was not read.

mod blank;
mod moment;
mod read;
mod table;
#[cfg(test)]
mod tests;

pub use blank::blank;
pub use read::read;

use crate::quantity::{Pressure, Temperature};

/// The whole pipework, as a part is called.
const ALL: &str = "all";

/// A record of readings. Names, days and remarks are printed as they were written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Record {
    /// Whether it was written for another layout than the one that is read with it.
    pub other_layout: bool,
    /// Who read.
    pub tested_by: String,
    /// Who was there.
    pub seen_by: String,
    /// The day.
    pub date: String,
    /// The test for strength.
    pub test: Option<Test>,
    /// Shut-in parts, watched.
    pub tightness: Vec<Tightness>,
    /// The whole system with its tanks, watched while it falls.
    pub bleed_down: Vec<BleedDown>,
    /// Machines that pumped up.
    pub machines: Vec<Machine>,
    /// Tools under flow.
    pub flow: Vec<Flow>,
}

impl Record {
    /// Whether nothing was read.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.test.is_none()
            && self.tightness.is_empty()
            && self.bleed_down.is_empty()
            && self.machines.is_empty()
            && self.flow.is_empty()
    }
}

/// The test for strength.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Test {
    /// The pressure that was reached.
    pub reached: Option<Pressure>,
    /// For how long it was held, s.
    pub held: Option<f64>,
    /// What the relief valve of the test was set to.
    pub relief: Option<Pressure>,
    /// The gauge, and when it was last checked.
    pub gauge: String,
    /// When it began.
    pub begun: String,
    /// When it was at the test.
    pub at_test: String,
    /// When it was down again.
    pub down: String,
    /// With whom it was agreed.
    pub agreed_with: String,
    /// What else is to be known.
    pub remarks: String,
}

/// A gauge and, where it was read, the pipe's temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// What the gauge showed.
    pub gauge: Pressure,
    /// What the pipe had.
    pub pipe: Option<Temperature>,
}

/// A shut-in part that was watched.
#[derive(Debug, Clone, PartialEq)]
pub struct Tightness {
    /// The part, by its place among all; none is the whole pipework.
    pub part: Option<usize>,
    /// When it began and ended, as written; empty where the time alone was noted.
    pub times: (String, String),
    /// What was read first.
    pub first: Shown,
    /// What was read last. Either both have the pipe's temperature or neither.
    pub last: Shown,
    /// The time between, s.
    pub seconds: f64,
    /// One mark of the gauge, if it was noted.
    pub mark: Option<Pressure>,
    /// What else is to be known.
    pub remarks: String,
}

/// The whole system with its tanks, compressor off, no tool running.
#[derive(Debug, Clone, PartialEq)]
pub struct BleedDown {
    /// What the gauge showed first.
    pub from: Pressure,
    /// What it showed last: less.
    pub to: Pressure,
    /// The time between, s.
    pub seconds: f64,
    /// What else is to be known.
    pub remarks: String,
}

/// A machine that pumped up.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// The supply, by its place in the job.
    pub supply: usize,
    /// What the gauge showed first.
    pub from: Pressure,
    /// What it showed last: more.
    pub to: Pressure,
    /// The time between, s.
    pub seconds: f64,
    /// Whether the pipe was pumped up with the tank.
    pub with_pipe: bool,
    /// What else is to be known.
    pub remarks: String,
}

/// A tool's inlet, read while it ran.
#[derive(Debug, Clone, PartialEq)]
pub struct Flow {
    /// The outlet, by its place among the network's drops.
    pub outlet: usize,
    /// The tool, by its place in the demand, if the record names it.
    pub tool: Option<usize>,
    /// What the tank had.
    pub tank: Pressure,
    /// What the gauge at the tool showed.
    pub read: Pressure,
    /// One mark of that gauge, if it was noted.
    pub mark: Option<Pressure>,
    /// What ran.
    pub ran: String,
    /// What else is to be known.
    pub remarks: String,
}
