//! Why a pipe has the size that it has.

use super::evaluate::worst;
use super::problem::{Malformed, Problem, Row};
use super::ties::legs;

/// What one size less and one size more would do to a pipe, or to the whole leg
/// that must have one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// The pipes that change together, this one too.
    pub leg: Vec<usize>,
    /// The need with the least to spare as it is; none if nothing is needed.
    pub now: Option<Row>,
    /// One size smaller.
    pub smaller: Smaller,
    /// One size larger.
    pub larger: Larger,
}

/// What one size smaller would do.
#[derive(Debug, Clone, PartialEq)]
pub enum Smaller {
    /// There is none that the whole leg can have.
    None,
    /// The pipe behind it would be larger than it, and may not.
    Limit(usize),
    /// The need that would fall shortest.
    Fails(Row),
    /// Nothing would fail.
    Holds {
        /// What it would save; below 0 it would cost more.
        saves: f64,
        /// The need with the least to spare; none if nothing is needed.
        tightest: Option<Row>,
    },
}

/// What one size larger would do.
#[derive(Debug, Clone, PartialEq)]
pub enum Larger {
    /// There is none that the whole leg can have.
    None,
    /// It would be larger than this pipe before it, and may not.
    Limit(usize),
    /// It would do this.
    Gives {
        /// What it would cost more; below 0 it would save.
        costs: f64,
        /// The need with the least to spare; none if nothing is needed.
        tightest: Option<Row>,
    },
}

/// What forces the size of a pipe, with all other choices as they are.
///
/// # Errors
/// A problem that is none, or a pipe or choice that is not there.
pub fn why(problem: &Problem, choices: &[usize], pipe: usize) -> Result<Why, Malformed> {
    problem.check()?;
    let there = |(at, choice): (usize, &usize)| problem.pipes[at].choices.len() > *choice;
    if choices.len() != problem.pipes.len() || !choices.iter().enumerate().all(there) {
        return Err(Malformed::Pipe(
            pipe,
            "the choices are not those of the pipes",
        ));
    }
    if pipe >= problem.pipes.len() {
        return Err(Malformed::Pipe(pipe, "there is no such pipe"));
    }
    let mut legs = legs(problem).into_iter();
    let leg = legs.find(|leg| leg.contains(&pipe)).unwrap_or_default();
    Ok(Why {
        now: worst(problem, choices),
        smaller: smaller(problem, choices, &leg),
        larger: larger(problem, choices, &leg),
        leg,
    })
}

fn smaller(problem: &Problem, choices: &[usize], leg: &[usize]) -> Smaller {
    let Some(changed) = moved(problem, choices, leg, false) else {
        return Smaller::None;
    };
    if let Some((child, _)) = broken(problem, &changed) {
        return Smaller::Limit(child);
    }
    match worst(problem, &changed) {
        Some(row) if row.short > problem.whisker() => Smaller::Fails(row),
        tightest => Smaller::Holds {
            saves: problem.cost(choices) - problem.cost(&changed),
            tightest,
        },
    }
}

fn larger(problem: &Problem, choices: &[usize], leg: &[usize]) -> Larger {
    let Some(changed) = moved(problem, choices, leg, true) else {
        return Larger::None;
    };
    if let Some((_, parent)) = broken(problem, &changed) {
        return Larger::Limit(parent);
    }
    Larger::Gives {
        costs: problem.cost(&changed) - problem.cost(choices),
        tightest: worst(problem, &changed),
    }
}

/// The choices with the leg at the next size that all its pipes have.
fn moved(problem: &Problem, choices: &[usize], leg: &[usize], up: bool) -> Option<Vec<usize>> {
    let first = *leg.first()?;
    let sizes = &problem.pipes[first].choices;
    let next: Vec<usize> = match up {
        true => (choices[first] + 1..sizes.len()).collect(),
        false => (0..choices[first]).rev().collect(),
    };
    next.into_iter().find_map(|choice| {
        let rank = sizes[choice].rank;
        let mut changed = choices.to_vec();
        for &pipe in leg {
            let sizes = &problem.pipes[pipe].choices;
            changed[pipe] = sizes
                .binary_search_by_key(&rank, |choice| choice.rank)
                .ok()?;
        }
        Some(changed)
    })
}

/// The first pipe whose tie to its parent does not hold, and the parent.
fn broken(problem: &Problem, choices: &[usize]) -> Option<(usize, usize)> {
    problem.pipes.iter().enumerate().find_map(|(at, pipe)| {
        let parent = pipe.parent?;
        let rank = |at: usize| problem.pipes[at].choices[choices[at]].rank;
        (!pipe.tie.allows(rank(at), rank(parent))).then_some((at, parent))
    })
}
