//! Many cases taken as few.
//!
//! A group of cases becomes one case, in one of two ways:
//!
//! * **Lenient**: in each pipe, the least loss of the group's cases that are
//!   inside it (the outside loss if none is), and the largest source. Whoever
//!   keeps all needs in the cases of the group keeps them in this one: for the
//!   need of a pipe, take a case of the group that is inside it (or inside the
//!   first pipe above that has one). It is inside all pipes further up, so it
//!   loses at least as much in every one of them.
//! * **Strict**: the largest loss of all cases of the group, and the smallest
//!   source. Whoever keeps all needs in this case keeps them in each of them.
//!
//! A group of one case is that case in both ways.

use super::problem::Problem;

/// In which way a group becomes one case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// Answers cost no more than the best: bounds.
    Lenient,
    /// Answers keep every need: sizes that can be built.
    Strict,
}

/// The problem with a few cases, all of them in all pipes.
#[derive(Debug)]
pub(super) struct Grouped {
    /// How many cases.
    pub(super) cases: usize,
    pub(super) way: Way,
    /// Source in each case.
    pub(super) source: Vec<f64>,
    /// Per pipe, then per choice, then per case.
    loss: Vec<Vec<f64>>,
    /// Per pipe, then per case: what is wanted at its end.
    least: Vec<Vec<f64>>,
    /// Per pipe: whether the group of each case has one inside it.
    inside: Vec<Vec<bool>>,
    /// Per pipe, then per case but the last: whether the next case loses as much or
    /// more in everything above the pipe.
    heavier: Vec<Vec<bool>>,
}

impl Grouped {
    /// `group` says to which group each case belongs, from 0 to `cases`.
    pub(super) fn new(problem: &Problem, group: &[usize], cases: usize, way: Way) -> Self {
        let mut size = vec![0_usize; cases];
        let start = match way {
            Way::Lenient => 0.0,
            Way::Strict => f64::INFINITY,
        };
        let mut source = vec![start; cases];
        for (&group, &pressure) in group.iter().zip(&problem.source) {
            size[group] += 1;
            source[group] = match way {
                Way::Lenient => pressure.max(source[group]),
                Way::Strict => pressure.min(source[group]),
            };
        }
        if way == Way::Lenient {
            // Sums along a path are rounded otherwise upwards than downwards.
            source
                .iter_mut()
                .for_each(|source| *source += 2.0 * problem.whisker());
        }
        let mut grouped = Self {
            cases,
            way,
            source,
            loss: Vec::with_capacity(problem.pipes.len()),
            least: vec![vec![f64::NEG_INFINITY; cases]; problem.pipes.len()],
            inside: Vec::with_capacity(problem.pipes.len()),
            heavier: Vec::new(),
        };
        for pipe in &problem.pipes {
            let mut count = vec![0_usize; cases];
            for &case in &pipe.inside {
                count[group[case]] += 1;
            }
            // What the outside flow has to say to each group.
            let start = |at: usize, outside: f64, none: f64| {
                let heard = match way {
                    Way::Lenient => count[at] == 0,
                    Way::Strict => count[at] < size[at],
                };
                if heard { outside } else { none }
            };
            let mut losses = Vec::with_capacity(pipe.choices.len() * cases);
            for choice in &pipe.choices {
                let none = if way == Way::Lenient {
                    f64::INFINITY
                } else {
                    0.0
                };
                let first = losses.len();
                losses.extend((0..cases).map(|at| start(at, choice.outside, none)));
                for (&case, &loss) in pipe.inside.iter().zip(&choice.inside) {
                    let entry = &mut losses[first + group[case]];
                    *entry = match way {
                        Way::Lenient => entry.min(loss),
                        Way::Strict => entry.max(loss),
                    };
                }
            }
            grouped.loss.push(losses);
            grouped
                .inside
                .push(count.iter().map(|&count| count > 0).collect());
        }
        for need in &problem.needs {
            let least = &mut grouped.least[need.pipe];
            let cases = &problem.pipes[need.pipe].inside;
            let inside = &grouped.inside[need.pipe];
            let mut count = vec![0_usize; inside.len()];
            for (&case, &wanted) in cases.iter().zip(&need.inside) {
                count[group[case]] += 1;
                least[group[case]] = wanted.max(least[group[case]]);
            }
            for (at, least) in least.iter_mut().enumerate() {
                let heard = match way {
                    Way::Lenient => count[at] == 0,
                    Way::Strict => count[at] < size[at],
                };
                if heard {
                    *least = need.outside.max(*least);
                }
            }
        }
        grouped.weigh(problem);
        grouped
    }

    fn weigh(&mut self, problem: &Problem) {
        let sources: Vec<bool> = self
            .source
            .windows(2)
            .map(|pair| pair[0] >= pair[1])
            .collect();
        for pipe in &problem.pipes {
            let flags = match pipe.parent {
                None => sources.clone(),
                Some(parent) => {
                    let mut flags: Vec<bool> = self.heavier[parent].clone();
                    for losses in self.loss[parent].chunks(self.cases) {
                        for (flag, pair) in flags.iter_mut().zip(losses.windows(2)) {
                            *flag &= pair[0] <= pair[1];
                        }
                    }
                    flags
                }
            };
            self.heavier.push(flags);
        }
    }

    /// What a choice loses in each case.
    pub(super) fn loss(&self, pipe: usize, choice: usize) -> &[f64] {
        &self.loss[pipe][choice * self.cases..][..self.cases]
    }

    /// What is wanted at the end of a pipe in each case; −∞ if nothing is.
    pub(super) fn least(&self, pipe: usize) -> &[f64] {
        &self.least[pipe]
    }

    /// What is wanted for sure when all cases are taken as one, and in each group
    /// alone. Taken as one, only those count that change the flow of the pipe, and so
    /// of everything above it.
    pub(super) fn each_alone<'a>(
        &'a self,
        pipe: usize,
        wanted: &'a [f64],
    ) -> impl Iterator<Item = f64> + 'a {
        let inside = &self.inside[pipe];
        let any = inside.contains(&true);
        let counted = wanted
            .iter()
            .zip(inside)
            .filter(move |&(_, &inside)| inside || !any);
        let as_one = counted
            .map(|(&wanted, _)| wanted)
            .fold(f64::NEG_INFINITY, f64::max);
        std::iter::once(as_one).chain(wanted.iter().copied())
    }

    /// Raises what is wanted above a pipe to what follows from a heavier case
    /// anyway. It changes no answer, and makes answers alike that are.
    pub(super) fn lift(&self, pipe: usize, wanted: &mut [f64]) {
        for (at, &heavier) in self.heavier[pipe].iter().enumerate().rev() {
            if heavier && wanted[at] < wanted[at + 1] {
                wanted[at] = wanted[at + 1];
            }
        }
    }

    /// One of its cases alone.
    pub(super) fn only(&self, case: usize) -> Self {
        let of = |figures: &Vec<f64>| {
            figures
                .iter()
                .skip(case)
                .step_by(self.cases)
                .copied()
                .collect()
        };
        Self {
            cases: 1,
            way: self.way,
            source: vec![self.source[case]],
            loss: self.loss.iter().map(of).collect(),
            least: self.least.iter().map(of).collect(),
            inside: self
                .inside
                .iter()
                .map(|inside| vec![inside[case]])
                .collect(),
            heavier: vec![Vec::new(); self.loss.len()],
        }
    }

    /// The most pressure that each case can have above each pipe.
    pub(super) fn most(&self, problem: &Problem, largest: &[usize]) -> Vec<Vec<f64>> {
        let mut most: Vec<Vec<f64>> = Vec::with_capacity(problem.pipes.len());
        for pipe in &problem.pipes {
            most.push(match pipe.parent {
                None => self.source.clone(),
                Some(parent) => {
                    let losses = self.loss(parent, largest[parent]);
                    most[parent]
                        .iter()
                        .zip(losses)
                        .map(|(most, loss)| most - loss)
                        .collect()
                }
            });
        }
        most
    }
}
