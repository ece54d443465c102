//! The take-off: every part that the layout needs, each with its reason.

mod assumptions;
mod heights;
mod joins;
mod more;
mod pieces;
mod proof;
mod ready;
mod runs;
mod seat;
mod share;
mod stand_in;
mod supports;
mod tally;
mod used;
mod valves;
mod walk;

pub use heights::{Above, Heights, Stretch};
pub use pieces::Straight;
pub use proof::Proof;
pub use seat::{Of, Seat};
pub use share::Counts;
pub use supports::{Hanger, hangers};
pub use used::{Use, used, used_pipe};
pub use walk::{taken_out, takeoff};

use crate::network::{Network, NodeId};
use crate::quantity::{Length, PartSize, Size};
use crate::system::Joint;

/// Which catalog row a counted part asks for.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartKey {
    /// Our plain word for the kind of part, as in the catalog: `elbow-90`.
    pub part: String,
    /// The pipe system, or empty for parts that fit any (valves, hoses).
    pub system: String,
    /// The size in the trade's order; [`PartSize::NONE`] for none.
    pub size: PartSize,
}

/// Where a part stands on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Pipe and nipples.
    Pipe,
    /// Fittings.
    Fittings,
    /// Valves and drains.
    Valves,
    /// The connection to the tank.
    Supply,
    /// Filters, regulators, lubricators, dryers.
    Treatment,
    /// Couplers and plugs.
    Outlets,
    /// Hangers and brackets.
    Supports,
    /// Sealant and the like.
    Sundries,
}

impl Group {
    /// Every group in the order of the papers.
    pub const ALL: [Self; 8] = [
        Self::Pipe,
        Self::Fittings,
        Self::Valves,
        Self::Supply,
        Self::Treatment,
        Self::Outlets,
        Self::Supports,
        Self::Sundries,
    ];

    /// The word in `data/parts.csv`.
    pub(crate) const fn key(self) -> &'static str {
        match self {
            Self::Pipe => "pipe",
            Self::Fittings => "fittings",
            Self::Valves => "valves",
            Self::Supply => "supply",
            Self::Treatment => "treatment",
            Self::Outlets => "outlets",
            Self::Supports => "supports",
            Self::Sundries => "sundries",
        }
    }

    /// The heading on paper.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Pipe => "Pipe and nipples",
            Self::Fittings => "Fittings",
            Self::Valves => "Valves and drains",
            Self::Supply => "Connection to the tank",
            Self::Treatment => "Filters, regulators, lubricators",
            Self::Outlets => "Couplers and plugs",
            Self::Supports => "Supports",
            Self::Sundries => "Sealant and sundries",
        }
    }
}

/// One kind of part and how many are needed (pipe stands in [`Takeoff::pipe`]).
#[derive(Debug, Clone)]
pub struct PartLine {
    /// The catalog row that it asks for.
    pub key: PartKey,
    /// The part in shelf words: `black iron elbow 90`.
    pub words: String,
    /// Where it stands on paper.
    pub group: Group,
    /// How many, in `unit`s.
    pub quantity: u64,
    /// What one is: `each`, `roll`.
    pub unit: String,
    /// Why each of them is there, in walking order.
    pub because: Vec<Because>,
}

/// All pipe of one size.
#[derive(Debug, Clone)]
pub struct PipeLine {
    /// The catalog row that it asks for; its part is `pipe`.
    pub key: PartKey,
    /// The pipe in shelf words.
    pub words: String,
    /// The size.
    pub size: Size,
    /// As measured along the layout, fitting centre to fitting centre; straights
    /// that are made of a nipple included.
    pub centre_to_centre: Length,
    /// The sum of the pieces, cut or ready; nipples not included.
    pub end_to_end: Length,
    /// What is ordered beyond that, for lengths that are paced or not measured.
    pub more: Length,
    /// The pieces to cut, in walking order.
    pub pieces: Vec<Piece>,
    /// The length of a stick as bought.
    pub stick: Length,
    /// What the saw takes away at each cut.
    pub kerf: Length,
    /// Mass of the pipe, pounds per foot.
    pub mass_lb_per_ft: f64,
    /// Whether all of it is built of ready-threaded lengths: those stand among
    /// the parts, and no piece is cut.
    pub ready: bool,
}

/// As long as a piece of what is ordered more is at most: any stick holds it.
const MORE_AT_ONCE: Length = Length::from_feet(5);

impl PipeLine {
    /// What is ordered: the pieces, and what is ordered more.
    #[must_use]
    pub fn ordered(&self) -> Length {
        self.end_to_end + self.more
    }

    /// What is ordered more, as pieces.
    #[must_use]
    pub fn more_pieces(&self) -> Vec<Length> {
        let mut pieces = Vec::new();
        let mut left = self.more;
        while left > Length::ZERO {
            let piece = left.min(MORE_AT_ONCE);
            pieces.push(piece);
            left -= piece;
        }
        pieces
    }
}

/// One length of pipe to cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// End to end, threads included.
    pub length: Length,
    /// Where its straight begins.
    pub from: NodeId,
    /// Where its straight ends.
    pub to: NodeId,
    /// The number of its straight, from 1 in walking order.
    pub straight: usize,
    /// Its number on that straight, from 1.
    pub number: usize,
    /// What it is part of.
    pub seat: Seat,
}

impl Piece {
    /// By what crews call it: `12.1`, the first piece of straight 12.
    #[must_use]
    pub fn label(&self) -> String {
        format!("{}.{}", self.straight, self.number)
    }
}

/// Why a part is there: a place and a reason. [`Takeoff::reason`] says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Because {
    pub(crate) at: Seat,
    pub(crate) why: Why,
}

impl Because {
    /// Where it stands.
    #[must_use]
    pub const fn seat(self) -> Seat {
        self.at
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Why {
    Meets,
    Stands,
    Joins,
    StandsIn,
    Spans,
    ServicesSupply,
    ServicesSet,
    ServicesValve,
    TiesIn,
    ClosesRing,
    LongerThanStick,
    Carries,
    HoldsFoot,
    FitsCoupler,
    Spare,
    Seals,
}

impl Why {
    const fn words(self) -> &'static str {
        match self {
            Self::Meets => "the pipes that meet here",
            Self::Stands => "it stands here",
            Self::Joins => "it joins two ends here",
            Self::StandsIn => "the price list lacks the part that it helps to make",
            Self::Spans => "it is the straight that leads here",
            Self::ServicesSupply => "the pipe can be taken off the tank here",
            Self::ServicesSet => "the set can be taken out here",
            Self::ServicesValve => "the valve can be taken out here",
            Self::TiesIn => "new pipe goes into pipe that stands here",
            Self::ClosesRing => "it closes the ring on the straight from here",
            Self::LongerThanStick => "the straight from here takes more than one length",
            Self::Carries => "it carries the straight here",
            Self::HoldsFoot => "it holds the drop's foot",
            Self::FitsCoupler => "a hose or tool for the coupler here",
            Self::Spare => "one spare for the job",
            Self::Seals => "the joints of the whole job",
        }
    }
}

/// Made-up joints of one system, method and size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JointCount {
    /// The system whose joints they are.
    pub system: String,
    /// How they are made.
    pub joint: Joint,
    /// The pipe or thread size.
    pub size: Size,
    /// How many joints are made.
    pub count: u64,
    /// Where each of them is made.
    pub places: Vec<Seat>,
}

/// The whole count.
#[derive(Debug, Clone)]
pub struct Takeoff {
    /// The pipe system's name: `black-iron`.
    pub system: String,
    /// The pipe system in words: `Black iron, threaded, Schedule 40`.
    pub system_title: String,
    /// All parts but pipe, by group, part and size.
    pub lines: Vec<PartLine>,
    /// Pipe by system and size, largest first.
    pub pipe: Vec<PipeLine>,
    /// Joints by system, largest size first.
    pub joints: Vec<JointCount>,
    /// How many drops are built.
    pub drops: u64,
    /// How many drains are built (drop drains and main drains).
    pub drains: u64,
    /// What was taken as given although the job does not say it.
    pub assumptions: Vec<String>,
    /// What must be said of the pipe that is laid.
    pub cautions: Vec<String>,
    /// What was proved of the count; a take-off with a failed proof is not
    /// handed out.
    pub proofs: Vec<Proof>,
    /// Every straight as it is cut, in walking order.
    pub straights: Vec<Straight>,
    /// How high above the floor everything is.
    pub heights: Heights,
    /// What stands already: it carries air, and is not bought.
    pub standing: Counts,
    /// What is taken out.
    pub taken_out: Counts,
    /// How many places there are where new pipe meets pipe that stands.
    pub tie_ins: u64,
}

impl Takeoff {
    /// Whether all of it stands and nothing is built.
    #[must_use]
    pub fn builds_nothing(&self) -> bool {
        self.lines.is_empty() && self.pipe.is_empty()
    }

    /// All that there is after the work: what is bought and what stands.
    #[must_use]
    pub fn whole(&self) -> Counts {
        self.bought().with(&self.standing)
    }

    /// Whether there is anything to do.
    #[must_use]
    pub fn is_work(&self) -> bool {
        let out = &self.taken_out;
        let bought = !self.lines.is_empty() || !self.pipe.is_empty() || !self.joints.is_empty();
        bought || !out.lines.is_empty() || !out.pipe.is_empty()
    }

    fn bought(&self) -> Counts {
        Counts {
            lines: self.lines.clone(),
            pipe: self.pipe.clone(),
            joints: self.joints.clone(),
        }
    }

    /// A reason in words, with the line of the job that it comes from.
    #[must_use]
    pub fn reason(network: &Network, because: Because) -> String {
        format!(
            "{}: {}",
            network.describe(because.at.place),
            because.why.words()
        )
    }
}
