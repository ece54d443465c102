//! Which sizes the ties leave open.

use super::problem::{Malformed, Problem, Tie};

/// The choices of each pipe that stand in some assignment that keeps all ties.
///
/// Striking out from the leaves up and then from the source down leaves exactly
/// these, since the ties form a tree. The largest ones together keep all ties:
/// whatever two assignments keep a tie, their larger ones keep it too.
pub(super) fn open(problem: &Problem) -> Result<Vec<Vec<usize>>, Malformed> {
    let pipes = &problem.pipes;
    let mut open: Vec<Vec<usize>> = pipes
        .iter()
        .map(|pipe| (0..pipe.choices.len()).collect())
        .collect();
    let fits = |pipe: usize, choice: usize, parent: usize, above: usize| {
        let rank = pipes[pipe].choices[choice].rank;
        pipes[pipe]
            .tie
            .allows(rank, pipes[parent].choices[above].rank)
    };
    for (at, pipe) in pipes.iter().enumerate().rev() {
        if let Some(parent) = pipe.parent {
            let below = std::mem::take(&mut open[at]);
            open[parent]
                .retain(|&above| below.iter().any(|&choice| fits(at, choice, parent, above)));
            open[at] = below;
        }
    }
    for (at, pipe) in pipes.iter().enumerate() {
        if let Some(parent) = pipe.parent {
            let above = std::mem::take(&mut open[parent]);
            open[at].retain(|&choice| above.iter().any(|&above| fits(at, choice, parent, above)));
            open[parent] = above;
        }
        if open[at].is_empty() {
            return Err(Malformed::Untied(at));
        }
    }
    Ok(open)
}

/// The largest open choice of each pipe.
pub(super) fn largest(open: &[Vec<usize>]) -> Vec<usize> {
    open.iter()
        .filter_map(|choices| choices.last().copied())
        .collect()
}

/// The pipes that are tied to have one size, together under the first of them.
pub(super) fn legs(problem: &Problem) -> Vec<Vec<usize>> {
    let mut first: Vec<usize> = Vec::with_capacity(problem.pipes.len());
    let mut legs = vec![Vec::new(); problem.pipes.len()];
    for (at, pipe) in problem.pipes.iter().enumerate() {
        let head = match (pipe.tie, pipe.parent) {
            (Tie::Same, Some(parent)) => first[parent],
            _ => at,
        };
        first.push(head);
        legs[head].push(at);
    }
    legs
}
