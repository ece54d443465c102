//! What becomes of each tool.

use crate::air::demand::ToolDemand;
use crate::air::ladder::{Part, Step, ToolAir};
use crate::quantity::Pressure;

/// What is to be said of a tool.
#[derive(Debug, Clone)]
pub struct Judged {
    /// As the pipework is put in.
    pub new: Fate,
    /// After years.
    pub aged: Fate,
    /// What could still be lost on its way until it gets its least, after years;
    /// below zero what it lacks. None where nothing says its least, or no air
    /// comes.
    pub to_spare: Option<Pressure>,
    /// The step that takes most, after years, by its number on the way. None
    /// where no air comes.
    pub takes_most: Option<usize>,
}

/// What a tool gets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fate {
    /// The pressure at its inlet; none where the air does not get through.
    pub gets: Option<Pressure>,
    /// What that means.
    pub state: State,
}

/// How well a tool is served, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// It gets what it works best at.
    Enough,
    /// Nothing says what it needs.
    Unknown,
    /// It works, and less well than it could.
    Weak,
    /// It gets less than its least.
    Starved,
    /// The air does not get through.
    Blocked,
}

impl State {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Enough => "enough",
            Self::Unknown => "not known",
            Self::Weak => "weak",
            Self::Starved => "starved",
            Self::Blocked => "blocked",
        }
    }
}

/// A gauge reads no finer than 1 % (common practice, no source): a tool that
/// lacks less lacks nothing.
pub(super) const READING: f64 = 1.01;

impl Fate {
    pub(in crate::air) fn of(tool: &ToolDemand, air: &ToolAir) -> Self {
        let state = match (air.gets, tool.least, tool.best) {
            (None, ..) => State::Blocked,
            (Some(gets), least, best) => {
                let below = |wanted: Pressure| gets.kpa() * READING < wanted.kpa();
                if least.is_some_and(|least| below(least.value)) {
                    State::Starved
                } else if best.is_some_and(|best| below(best.value)) {
                    State::Weak
                } else if least.or(best).is_some() {
                    State::Enough
                } else {
                    State::Unknown
                }
            }
        };
        Self {
            gets: air.gets,
            state,
        }
    }
}

impl Judged {
    pub(super) fn of(tool: &ToolDemand, new: &ToolAir, aged: &ToolAir) -> Self {
        let by_loss = |a: &(usize, &Step), b: &(usize, &Step)| {
            // Of equal ones the first.
            a.1.loss
                .kpa()
                .total_cmp(&b.1.loss.kpa())
                .then(b.0.cmp(&a.0))
        };
        // Where the air does not get through, it is no step that takes most.
        let steps = aged.steps.iter().enumerate();
        let most = steps.filter(|_| aged.gets.is_some()).max_by(by_loss);
        let margin = aged.gets.zip(tool.least);
        let margin = margin.map(|(gets, least)| gets.kpa() - least.value.kpa());
        let held_back: f64 = aged.steps.iter().map(|step| step.held_back.kpa()).sum();
        let to_spare = margin.map(|margin| match margin {
            lacks if lacks < 0.0 => lacks,
            margin => margin + held_back,
        });
        Self {
            new: Fate::of(tool, new),
            aged: Fate::of(tool, aged),
            to_spare: to_spare.map(Pressure::from_kpa),
            takes_most: most.map(|(number, _)| number),
        }
    }

    /// The worse of its two fates.
    #[must_use]
    pub fn state(&self) -> State {
        self.new.state.max(self.aged.state)
    }
}

/// The one that is worst off: a blocked one, else the one with least to spare.
pub(super) fn worst<'a>(tools: impl IntoIterator<Item = &'a Judged>) -> Option<usize> {
    let known = tools.into_iter().enumerate().filter_map(|(number, tool)| {
        let spare = tool.to_spare.map(Pressure::kpa);
        let blocked = tool.aged.state == State::Blocked;
        Some((number, if blocked { f64::NEG_INFINITY } else { spare? }))
    });
    let least = known.min_by(|a, b| a.1.total_cmp(&b.1));
    least.map(|(number, _)| number)
}

impl ToolAir {
    /// What a part of the way takes.
    #[must_use]
    pub fn takes(&self, part: Part) -> Pressure {
        let of_part = self.steps.iter().filter(|step| step.part == part);
        Pressure::from_kpa(of_part.map(|step| step.loss.kpa()).sum())
    }
}
