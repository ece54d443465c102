//! A ring main of one size, and the branches on it.

use super::problem::{Best, Choice, Malformed, Outcome, Problem, Row};
use super::solve;

/// One size for the whole ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Where the size stands among all sizes; the first pipes of the branches
    /// are tied to it.
    pub rank: u8,
    /// What the ring costs in this size, 0 or more.
    pub cost: f64,
}

/// What came of a ring.
#[derive(Debug, Clone, PartialEq)]
pub enum RingOutcome {
    /// Sizes that keep every need.
    Best {
        /// Which size the ring takes.
        ring: usize,
        /// The branches, in their order.
        branches: Vec<Best>,
        /// What ring and branches cost.
        cost: f64,
        /// Whether no cheaper sizes keep every need.
        proven: bool,
        /// No sizes that keep every need cost less than this.
        bound: f64,
    },
    /// No size of the ring will do. The size that comes nearest, the branch that
    /// falls shortest in it, and its need.
    Impossible {
        /// Which size of the ring.
        ring: usize,
        /// Which branch.
        branch: usize,
        /// By how much it falls short there, with the largest branches.
        row: Row,
    },
}

/// The cheapest ring with its branches; none if no size of it carries the air and
/// suits the branches.
///
/// `pressures` says, for a size of the ring, the squared pressure at each take-off in
/// each case; none if the ring cannot carry the air in this size. It becomes the
/// source of the branch.
///
/// The air that the branches draw does not depend on their sizes, so with
/// the size of the ring the pressures at its take-offs are settled, and the branches
/// no longer touch each other: each is a tree of its own. The cheapest over
/// all sizes of the ring is therefore the best among rings of one size, and the
/// least over all sizes of ring and branch bounds is a bound. A size is skipped
/// if the ring and the smallest branches alone cost no less than what is known.
///
/// The bound says nothing of rings in several sizes, and no pressure from the
/// largest ring would: to widen one side draws air to it, which takes pressure from
/// the take-offs on that side.
///
/// # Errors
/// The first branch that is no problem, or whose pressures are none.
pub fn rings(
    sizes: &[Ring],
    branches: &[Problem],
    mut pressures: impl FnMut(usize) -> Option<Vec<Vec<f64>>>,
) -> Result<Option<RingOutcome>, Malformed> {
    let mut best: Option<RingOutcome> = None;
    let mut known = f64::INFINITY;
    let mut least = f64::INFINITY;
    for (ring, &size) in sizes.iter().enumerate() {
        if size.cost + branches.iter().map(cheapest).sum::<f64>() >= known {
            continue;
        }
        let Some(sources) = pressures(ring) else {
            continue;
        };
        if sources.len() != branches.len() {
            return Err(Malformed::Source);
        }
        let Some(on) = branches_on(size, branches, sources)? else {
            continue;
        };
        match on {
            Ok(solved) => {
                let cost = size.cost + solved.iter().map(|best| best.cost).sum::<f64>();
                least = least.min(size.cost + solved.iter().map(|best| best.bound).sum::<f64>());
                if cost < known {
                    known = cost;
                    best = Some(RingOutcome::Best {
                        ring,
                        branches: solved,
                        cost,
                        proven: false,
                        bound: 0.0,
                    });
                }
            }
            Err((branch, row)) => {
                let nearer = match &best {
                    Some(RingOutcome::Best { .. }) => false,
                    Some(RingOutcome::Impossible { row: other, .. }) => row.short < other.short,
                    None => true,
                };
                if nearer {
                    best = Some(RingOutcome::Impossible { ring, branch, row });
                }
            }
        }
    }
    if let Some(RingOutcome::Best {
        cost,
        proven,
        bound,
        ..
    }) = &mut best
    {
        *bound = least.min(*cost);
        *proven = *cost <= *bound * (1.0 + 1e-9);
    }
    Ok(best)
}

type Branches = Result<Vec<Best>, (usize, Row)>;

/// The branches on a ring of this size; none if no sizes suit it.
fn branches_on(
    size: Ring,
    branches: &[Problem],
    sources: Vec<Vec<f64>>,
) -> Result<Option<Branches>, Malformed> {
    let mut solved = Vec::with_capacity(branches.len());
    let mut shortest: Option<(usize, Row)> = None;
    for (at, (branch, source)) in branches.iter().zip(sources).enumerate() {
        branch.check()?;
        let mut tied = Problem {
            source,
            ..branch.clone()
        };
        let mut left_out = vec![0; tied.pipes.len()];
        for (pipe, left_out) in tied.pipes.iter_mut().zip(&mut left_out) {
            if pipe.parent.is_none() {
                let fits = |choice: &Choice| pipe.tie.allows(choice.rank, size.rank);
                *left_out = pipe
                    .choices
                    .iter()
                    .take_while(|choice| !fits(choice))
                    .count();
                let tie = pipe.tie;
                pipe.choices
                    .retain(|choice| tie.allows(choice.rank, size.rank));
                if pipe.choices.is_empty() {
                    return Ok(None);
                }
            }
        }
        match solve(&tied) {
            Ok(Outcome::Best(mut best)) => {
                best.choices
                    .iter_mut()
                    .zip(left_out)
                    .for_each(|(choice, left_out)| *choice += left_out);
                solved.push(best);
            }
            Ok(Outcome::Impossible(row)) => {
                if shortest.is_none_or(|(_, other)| row.short > other.short) {
                    shortest = Some((at, row));
                }
            }
            Err(Malformed::Untied(_)) => return Ok(None),
            Err(malformed) => return Err(malformed),
        }
    }
    Ok(Some(shortest.map_or(Ok(solved), Err)))
}

/// What a branch costs with the cheapest size of every pipe.
fn cheapest(branch: &Problem) -> f64 {
    let pipes = branch.pipes.iter();
    let costs = pipes.map(|pipe| pipe.choices.iter().map(|choice| choice.cost));
    costs.map(|costs| costs.fold(f64::INFINITY, f64::min)).sum()
}
