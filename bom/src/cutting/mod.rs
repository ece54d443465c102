//! The cut plan: pieces out of sticks, at the least cost, with a proven lower
//! bound beside it.
//!
//! A saw cut takes the kerf, and the last piece of a stick may finish flush, so
//! a stick holds pieces while Σ (piece + kerf) ≤ stock + kerf.
//!
//! The plan comes from linear programming over whole sticks (`relax`), made
//! whole by diving (`dive`) and, where little is left open, by an exhaustive
//! search (`exact`). The floating-point solver only proposes; bounds and
//! plans are worked out and checked in integers.

mod bars;
mod columns;
mod dive;
mod error;
mod exact;
mod greedy;
mod group;
mod inverse;
mod knapsack;
mod master;
mod prices;
mod problem;
mod relax;
mod rough;
mod search;
mod simplex;
#[cfg(test)]
mod tests;
mod verify;

pub use error::CutError;

use crate::quantity::Length;
use group::Job;

/// Different lengths up to which they are taken as they are.
const KINDS: usize = 300;

/// Pieces of one length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Demand {
    /// How long each is.
    pub length: Length,
    /// How many are wanted.
    pub count: u64,
}

/// Sticks of one length that can be cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stock {
    /// How long each is.
    pub length: Length,
    /// What one costs in any whole unit: cents; 1 for the fewest sticks of one
    /// length; 0 for an offcut that is already there.
    pub cost: u64,
    /// How many there are; none means as many as it takes.
    pub available: Option<u64>,
}

/// Equal sticks, cut alike.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stick {
    /// Which of the given stocks, counted from 0.
    pub stock: usize,
    /// What is cut from it, the longest first.
    pub pieces: Vec<Length>,
    /// What is left of it behind the last cut.
    pub rest: Length,
    /// How many sticks are cut like this.
    pub count: u64,
}

/// Every piece in a stick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The sticks; their order does not depend on the order of the demand.
    pub sticks: Vec<Stick>,
    /// What all sticks cost.
    pub cost: u64,
    /// No way to cut these pieces costs less than this.
    pub bound: u64,
}

impl Plan {
    /// Whether no cheaper plan exists.
    #[must_use]
    pub const fn proven(&self) -> bool {
        self.bound == self.cost
    }
}

/// Cuts the demanded pieces out of the stock at the least cost found.
///
/// The same pieces and stock give the same plan, on any machine and in any
/// order of the demand.
///
/// # Errors
/// A length that is none, a piece longer than every stock, numbers too large
/// to add up exactly, or too little stock.
///
/// # Example
/// ```
/// use bom::cutting::{Demand, Stock, plan};
/// use bom::quantity::Length;
///
/// let demand = [Demand { length: Length::from_mm(1998), count: 3 }];
/// let stock = [Stock { length: Length::from_mm(6000), cost: 1, available: None }];
/// let plan = plan(&demand, &stock, Length::from_mm(3))?;
/// assert_eq!((plan.cost, plan.proven()), (1, true));
/// # Ok::<(), bom::cutting::CutError>(())
/// ```
pub fn plan(demand: &[Demand], stock: &[Stock], kerf: Length) -> Result<Plan, CutError> {
    let job = Job::new(demand, stock, kerf, KINDS)?;
    let solved = search::solve(&job);
    let plan = job.plan(&solved);
    let plan = if verify::holds(&plan, demand, &job.stock, kerf) {
        plan
    } else {
        job.plan(&search::plain(&job))
    };
    job.refuse_shortage(&plan)?;
    Ok(plan)
}
