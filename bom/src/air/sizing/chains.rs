//! Pipes that follow each other without a branch and have one size, as one pipe.

use super::problem::{Pipe, Problem, Tie};

/// A problem with each chain as one pipe.
#[derive(Debug)]
pub(super) struct Joined {
    pub(super) problem: Problem,
    /// The pipe of it in which each pipe is.
    within: Vec<usize>,
}

impl Joined {
    pub(super) fn new(problem: &Problem, children: &[Vec<usize>]) -> Self {
        let mut wanted = vec![false; problem.pipes.len()];
        for need in &problem.needs {
            wanted[need.pipe] = true;
        }
        let mut within: Vec<usize> = Vec::with_capacity(problem.pipes.len());
        let mut pipes: Vec<Pipe> = Vec::new();
        for pipe in &problem.pipes {
            let chained = pipe.parent.filter(|&above| {
                let one = &problem.pipes[above];
                let branches = children[above].len() > 1 || wanted[above];
                let ranks = one.choices.iter().map(|choice| choice.rank);
                pipe.tie == Tie::Same
                    && !branches
                    && one.inside == pipe.inside
                    && ranks.eq(pipe.choices.iter().map(|choice| choice.rank))
            });
            let parent = pipe.parent.map(|above| within[above]);
            let Some(head) = chained.and(parent) else {
                within.push(pipes.len());
                pipes.push(Pipe {
                    parent,
                    ..pipe.clone()
                });
                continue;
            };
            within.push(head);
            for (sum, more) in pipes[head].choices.iter_mut().zip(&pipe.choices) {
                sum.cost += more.cost;
                sum.outside += more.outside;
                for (sum, more) in sum.inside.iter_mut().zip(&more.inside) {
                    *sum += more;
                }
            }
        }
        let mut needs = problem.needs.clone();
        needs
            .iter_mut()
            .for_each(|need| need.pipe = within[need.pipe]);
        let source = problem.source.clone();
        Self {
            problem: Problem {
                source,
                pipes,
                needs,
            },
            within,
        }
    }

    /// The choices of the pipes that are one here.
    pub(super) fn each(&self, choices: &[usize]) -> Vec<usize> {
        self.within.iter().map(|&pipe| choices[pipe]).collect()
    }
}
