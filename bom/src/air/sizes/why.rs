//! Why a leg or a drop has the size that was chosen.

use super::Sizes;
use super::tree::Of;
use super::whole::Part;
use crate::air::sizing::{self, Smaller};
use crate::quantity::{Size, Speed};

/// Why a pipe has its size.
#[derive(Debug, Clone, PartialEq)]
pub struct Forced {
    /// Its size.
    pub size: Size,
    /// The next smaller one that may be had, if any.
    pub smaller: Option<Size>,
    /// What that would do.
    pub because: Because,
}

/// What one size smaller would do.
#[derive(Debug, Clone, PartialEq)]
pub enum Because {
    /// There is none.
    Smallest,
    /// The air would run as fast as this, faster than the limit.
    TooFast(Speed),
    /// Something behind it would be larger.
    Follows,
    /// No fittings would join it.
    Unjoined,
    /// It might do: there was more to try than could be.
    Untried,
    /// This tool would lack so much in this case, Pa.
    Lacks {
        /// Its number in the demand.
        tool: usize,
        /// The case.
        case: usize,
        /// Gauge or absolute alike, Pa.
        by: f64,
    },
    /// Nothing would lack: a smaller size is no cheaper.
    NotCheaper,
}

impl Sizes {
    /// Why a leg has its size; none if the job gives it.
    #[must_use]
    pub fn why_leg(&self, leg: usize) -> Option<Forced> {
        self.legs.get(&leg)?;
        self.why(Part::Leg(leg), |of| match of {
            Of::Leg(own) => *own == leg,
            Of::Ring(legs) => legs.contains(&leg),
            Of::Drop(_) | Of::Round(_) => false,
        })
    }

    /// Why the drop of an outlet has its size; none if the job gives it.
    #[must_use]
    pub fn why_drop(&self, outlet: usize) -> Option<Forced> {
        self.drops.get(&outlet)?;
        self.why(Part::Drop(outlet), |of| *of == Of::Drop(outlet))
    }

    fn why(&self, part: Part, wanted: impl Fn(&Of) -> bool) -> Option<Forced> {
        if let Some(forced) = self.forced.get(&part) {
            return Some(forced.clone());
        }
        let basis = self.basis.as_ref()?;
        let pipes = &basis.tree.pipes;
        let pipe = pipes.iter().position(|branch| wanted(&branch.of))?;
        let branch = &pipes[pipe];
        let choice = basis.choices[pipe];
        let why = sizing::why(&basis.problem, &basis.choices, pipe).ok()?;
        let because = match why.smaller {
            Smaller::None => match branch.too_fast {
                Some((_, speed)) => Because::TooFast(speed),
                None => Because::Smallest,
            },
            Smaller::Limit(_) => Because::Follows,
            Smaller::Holds { .. } => Because::NotCheaper,
            Smaller::Fails(row) => {
                let need = basis.tree.need_in(&basis.needs, row.need, row.case)?;
                let need = &basis.needs[need];
                let asked = need.asked();
                Because::Lacks {
                    tool: need.tool,
                    case: need.case,
                    by: asked.sqrt() - (asked - row.short).max(0.0).sqrt(),
                }
            }
        };
        let smaller = choice.checked_sub(1).map(|smaller| branch.sizes[smaller]);
        Some(Forced {
            size: branch.sizes[choice],
            smaller: smaller.or(branch.too_fast.map(|(size, _)| size)),
            because,
        })
    }
}
