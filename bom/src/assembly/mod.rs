//! The order in which a crew puts a job together: what is made up on the bench,
//! which piece goes into what stands already, where each ring is closed.
//!
//! **Invariant:** every part, piece and joint of the count stands in one step, and
//! no threaded pipe is turned between two ends that both stand, unless a remark
//! of its step says that no union is there.

mod bag;
mod bench;
mod chain;
mod checks;
mod connect;
mod drops;
mod main;
mod names;
mod order;
mod prepare;
mod rings;
mod say;
mod standing;
mod tools;

use crate::job::Job;
use crate::library::Library;
use crate::network::{Network, NodeId};
use crate::quantity::{Length, PartSize, Size};
use crate::system::Joint;
use crate::takeoff::{Piece, Seat, Takeoff};
use bag::Bag;

/// The whole order of work.
#[derive(Debug, Clone)]
pub struct Assembly {
    /// What the crew brings.
    pub tools: Vec<String>,
    /// What it must know first.
    pub cautions: Vec<String>,
    /// The stages that have work, in order.
    pub groups: Vec<Group>,
}

/// The steps of one stage.
#[derive(Debug, Clone)]
pub struct Group {
    /// Which stage.
    pub stage: Stage,
    /// What holds for all of its steps.
    pub notes: Vec<String>,
    /// The steps, in order.
    pub steps: Vec<Step>,
}

/// A stage of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Hangers, and what is kept at hand.
    Prepare,
    /// What is made up before it is hung.
    Bench,
    /// The main, straight after straight.
    Main,
    /// What closes rings.
    Rings,
    /// The drops.
    Drops,
    /// Drains of the main, and the tank.
    Connect,
    /// Before air goes in.
    Checks,
}

impl Stage {
    /// The heading on paper.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Prepare => "Before you start",
            Self::Bench => "On the bench",
            Self::Main => "The main",
            Self::Rings => "Close the rings",
            Self::Drops => "The drops",
            Self::Connect => "Drains and the tank",
            Self::Checks => "Before air goes in",
        }
    }

    /// The word for programs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Prepare => "prepare",
            Self::Bench => "bench",
            Self::Main => "main",
            Self::Rings => "rings",
            Self::Drops => "drops",
            Self::Connect => "connect",
            Self::Checks => "checks",
        }
    }
}

/// One thing that is done.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its number, from 1 through all stages.
    pub number: usize,
    /// What is done.
    pub title: String,
    /// What it holds on to.
    pub hold: Hold,
    /// How, a sentence each.
    pub how: Vec<String>,
    /// The pieces of pipe that go in.
    pub pieces: Vec<StepPiece>,
    /// The parts that go in.
    pub parts: Vec<StepPart>,
    /// The joints that are made.
    pub joints: Vec<StepJoints>,
    /// What is built, in the order in which it is put together.
    pub seats: Vec<Seat>,
    /// How high above the floor its highest place is.
    pub height: Option<Length>,
    /// What cannot be done as it is counted, and what to mind.
    pub remarks: Vec<String>,
}

impl Step {
    /// How many joints are made in it.
    #[must_use]
    pub fn joint_count(&self) -> u64 {
        self.joints.iter().map(|joints| joints.count).sum()
    }
}

/// What a step holds on to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// Nothing of the pipework.
    Nothing,
    /// It is made up by itself.
    Bench,
    /// It is the first thing that stands.
    Start,
    /// What stands at this place.
    Onto(NodeId),
    /// Both of these places, which stand.
    Between([NodeId; 2]),
}

/// A piece of pipe in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepPiece {
    /// The piece as it is cut.
    pub piece: Piece,
    /// Its size.
    pub size: Size,
}

/// Parts of one kind in a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepPart {
    /// The part: `elbow-90`.
    pub part: String,
    /// The part in shelf words.
    pub words: String,
    /// Its size.
    pub size: PartSize,
    /// How many.
    pub quantity: u64,
    /// What one is.
    pub unit: String,
}

/// Joints of one kind in a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepJoints {
    /// The system whose joints they are.
    pub system: String,
    /// How they are made.
    pub joint: Joint,
    /// Their size.
    pub size: Size,
    /// How many.
    pub count: u64,
}

/// What the order is worked out from.
#[derive(Debug, Clone, Copy)]
struct Given<'a> {
    job: &'a Job,
    network: &'a Network,
    library: &'a Library,
    takeoff: &'a Takeoff,
}

/// The order in which a counted job is put together.
#[must_use]
pub fn assembly(job: &Job, network: &Network, library: &Library, takeoff: &Takeoff) -> Assembly {
    let given = Given {
        job,
        network,
        library,
        takeoff,
    };
    let mut bag = Bag::of(given);
    let order = order::order(given, &bag);
    let (bench, folded) = bench::steps(given, &mut bag);
    let (begun, later) = connect::steps(given, &mut bag, &order);
    let mut main = begun;
    main.extend(main::steps(given, &mut bag, &order));
    let rings = rings::steps(given, &mut bag, &order);
    let drops = drops::steps(given, &mut bag, &folded);
    let stages = [
        (Stage::Prepare, prepare::steps(given, &mut bag)),
        (Stage::Bench, bench),
        (Stage::Main, main),
        (Stage::Rings, rings),
        (Stage::Drops, drops),
        (Stage::Connect, later),
        (Stage::Checks, checks::steps(given)),
    ];
    let all_new = network.is_all_new();
    // Of what stands nothing is taken, and nothing is done.
    let does = |stage: Stage, step: &Step| {
        let builds = !(step.parts.is_empty() && step.pieces.is_empty() && step.joints.is_empty());
        all_new || stage == Stage::Checks || builds
    };
    let mut number = 0;
    let groups = stages
        .into_iter()
        .map(|(stage, mut steps)| {
            steps.retain(|step| does(stage, step));
            (stage, steps)
        })
        .filter(|(_, steps)| !steps.is_empty())
        .map(|(stage, mut steps)| {
            for step in &mut steps {
                number += 1;
                step.number = number;
            }
            Group {
                notes: say::notes(given, stage),
                stage,
                steps,
            }
        });
    Assembly {
        tools: tools::tools(given),
        cautions: tools::cautions(given),
        groups: groups.collect(),
    }
}

#[cfg(test)]
mod tests;
