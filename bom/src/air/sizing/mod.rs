//! The cheapest sizes of a tree of pipes that keep every need in every case,
//! with a proven lower bound beside them.
//!
//! # Method
//! Squared pressures make losses along a path add up, so that a subtree is to the
//! rest of the tree what it costs and what squared pressure it wants above it in each
//! case. From the ends up to the source, each pipe and size gets the list of
//! such partial answers; one that another beats in cost and in all cases is
//! dropped (`labels`). At the source the cheapest that wants no more than there
//! is wins. This is label setting with dominance, and it is exact.
//!
//! Pipes that follow each other without a branch and have one size are one pipe
//! (`chains`). Three things keep the lists short, and none loses an answer that counts:
//!
//! * **Few cases** (`grouped`). Cases are taken in groups, leniently: answers cost
//!   no more than the best one. If the cheapest keeps every need in every case as it
//!   is, it is the best. Otherwise the group of the case that it fails is parted.
//!   Alone, a case is taken as it is, so this ends.
//! * **What the rest costs** (`bound`). With one case, what a subtree costs depends
//!   on one pressure, and a walk up and a walk down say what all the rest costs at
//!   least: in each group alone, and with all cases as one. A partial answer is
//!   dropped if it and the rest cost no less than a limit. That is little above the
//!   lower bound at first and goes up while nothing is found, to sizes that are known.
//! * **What can be had**. A partial answer that wants more than the largest
//!   sizes leave is dropped.
//!
//! If the work passes its limit, lists are thinned: leniently, neighbours become
//! one that costs and wants the least of them, so the bound stays a bound. Then sizes
//! come from groups taken strictly, which keep every need, and of neighbours one
//! stands, so the answer stays one; `proven` is false unless both meet. The limit
//! counts steps, not time, so the same problem gets the same answer on every machine.
//!
//! Of equally cheap answers each leg, from the source on, gets the largest size
//! that costs no more, and with it the larger pressure.

mod bound;
mod chains;
mod evaluate;
mod grouped;
mod groups;
mod labels;
mod problem;
mod search;
#[cfg(test)]
mod tests;
mod ties;
mod why;

pub use problem::{Best, Choice, Malformed, Need, Outcome, Pipe, Problem, Row, Tie};
pub use why::{Larger, Smaller, Why, why};

/// The cheapest choices that keep every need in every case.
///
/// # Errors
/// A problem that is none: the first pipe or need that cannot be read, or a pipe
/// that no size of it suits.
///
/// # Example
/// ```
/// use bom::air::sizing::{Choice, Need, Outcome, Pipe, Problem, Tie, solve};
///
/// let size = |rank, cost, outside| Choice { rank, cost, outside, inside: vec![] };
/// let problem = Problem {
///     source: vec![100.0],
///     pipes: vec![Pipe {
///         parent: None,
///         tie: Tie::Free,
///         inside: vec![],
///         choices: vec![size(0, 1.0, 40.0), size(1, 2.0, 10.0)],
///     }],
///     needs: vec![Need { pipe: 0, outside: 80.0, inside: vec![] }],
/// };
/// let Outcome::Best(best) = solve(&problem)? else { panic!() };
/// assert_eq!((best.choices, best.proven), (vec![1], true));
/// # Ok::<(), bom::air::sizing::Malformed>(())
/// ```
pub fn solve(problem: &Problem) -> Result<Outcome, Malformed> {
    search::solve(problem)
}
