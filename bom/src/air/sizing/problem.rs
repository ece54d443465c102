//! What is to be sized, and what came of it.

use std::fmt;

/// A tree of pipes with the sizes that each may have, and the pressures that
/// are wanted at their ends.
///
/// All pressures are squared absolute ones and all losses are `p1² − p2²`, in
/// any one unit (Pa² for example), so that losses along a path add up.
///
/// A case is one way in which air is drawn: one tool at its full flow while the
/// others run at their share of the time, or a set that somebody declared. A
/// pipe is *inside* a case if the case changes its flow; in all other cases it
/// carries the same flow, its *outside* one. What a case changes in a pipe it
/// also changes above, so the cases of a pipe are among those of its parent.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Pressure at the upper end of the pipes without a parent, in each case.
    pub source: Vec<f64>,
    /// The pipes; parents stand before children.
    pub pipes: Vec<Pipe>,
    /// The pressures that are wanted.
    pub needs: Vec<Need>,
}

/// One pipe of the tree.
#[derive(Debug, Clone, PartialEq)]
pub struct Pipe {
    /// The pipe from which it gets its air; none at the source.
    pub parent: Option<usize>,
    /// How its size is tied to that of its parent, or at the source to that of a
    /// ring, if there is one.
    pub tie: Tie,
    /// The cases that change its flow, rising.
    pub inside: Vec<usize>,
    /// What it may be made of, in rising order of size; at least one.
    pub choices: Vec<Choice>,
}

/// How the size of a pipe is tied to that of its parent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tie {
    /// Not at all.
    Free,
    /// It is no larger.
    AtMost,
    /// It is the same: one leg has one size.
    Same,
}

/// One size for one pipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Where the size stands among all sizes; a larger size has a larger rank.
    pub rank: u8,
    /// What it costs, 0 or more.
    pub cost: f64,
    /// What it loses at the outside flow, 0 or more; no more than a smaller size.
    pub outside: f64,
    /// The same in each of the pipe's inside cases.
    pub inside: Vec<f64>,
}

/// A pressure that is wanted at the far end of a pipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Need {
    /// The pipe.
    pub pipe: usize,
    /// The least pressure at the outside flow.
    pub outside: f64,
    /// The same in each of the pipe's inside cases.
    pub inside: Vec<f64>,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Sizes that keep every need.
    Best(Best),
    /// Even the largest sizes do not keep this need.
    Impossible(Row),
}

/// Sizes that keep every need in every case.
#[derive(Debug, Clone, PartialEq)]
pub struct Best {
    /// Which choice each pipe takes.
    pub choices: Vec<usize>,
    /// What they cost together.
    pub cost: f64,
    /// Whether no cheaper sizes keep every need.
    pub proven: bool,
    /// No sizes that keep every need cost less than this.
    pub bound: f64,
}

/// A need in a case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Which need.
    pub need: usize,
    /// In which case.
    pub case: usize,
    /// By how much the squared pressure falls short; below 0 it is to spare.
    pub short: f64,
}

/// A problem that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Malformed {
    /// There is no case, or a source that is no pressure.
    Source,
    /// A pipe, and what is wrong with it.
    Pipe(usize, &'static str),
    /// A need, and what is wrong with it.
    Need(usize, &'static str),
    /// A pipe of which no size suits its parent and its children.
    Untied(usize),
}

impl fmt::Display for Malformed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Source => write!(f, "the source needs a pressure in each case"),
            Self::Pipe(pipe, what) => write!(f, "pipe {pipe}: {what}"),
            Self::Need(need, what) => write!(f, "need {need}: {what}"),
            Self::Untied(pipe) => {
                write!(
                    f,
                    "pipe {pipe}: no size of it suits its parent and its children"
                )
            }
        }
    }
}

impl std::error::Error for Malformed {}

impl Tie {
    /// Whether a pipe of this rank may follow a parent of that.
    pub(super) const fn allows(self, rank: u8, parent: u8) -> bool {
        match self {
            Self::Free => true,
            Self::AtMost => rank <= parent,
            Self::Same => rank == parent,
        }
    }
}

impl Problem {
    /// The pipes that follow each pipe.
    pub(super) fn children(&self) -> Vec<Vec<usize>> {
        let mut children = vec![Vec::new(); self.pipes.len()];
        for (at, pipe) in self.pipes.iter().enumerate() {
            if let Some(parent) = pipe.parent {
                children[parent].push(at);
            }
        }
        children
    }

    pub(super) fn cost(&self, choices: &[usize]) -> f64 {
        let pipes = self.pipes.iter().zip(choices);
        pipes.map(|(pipe, &at)| pipe.choices[at].cost).sum()
    }

    /// A difference of squared pressures that is none: rounding of sums.
    pub(super) fn whisker(&self) -> f64 {
        1e-10 * self.source.iter().copied().fold(0.0, f64::max)
    }

    /// Whether the problem is one.
    pub(super) fn check(&self) -> Result<(), Malformed> {
        let pressure = |p: &f64| p.is_finite() && *p >= 0.0;
        if self.source.is_empty() || !self.source.iter().all(pressure) {
            return Err(Malformed::Source);
        }
        for (at, pipe) in self.pipes.iter().enumerate() {
            self.check_pipe(at, pipe)
                .map_err(|what| Malformed::Pipe(at, what))?;
        }
        for (at, need) in self.needs.iter().enumerate() {
            let wrong = |what| Err(Malformed::Need(at, what));
            let Some(pipe) = self.pipes.get(need.pipe) else {
                return wrong("there is no such pipe");
            };
            if need.inside.len() != pipe.inside.len() {
                return wrong("it needs one pressure for each case of its pipe");
            }
            if !pressure(&need.outside) || !need.inside.iter().all(pressure) {
                return wrong("a squared pressure is a number from 0 up");
            }
        }
        Ok(())
    }

    fn check_pipe(&self, at: usize, pipe: &Pipe) -> Result<(), &'static str> {
        let parent = match pipe.parent {
            Some(parent) if parent >= at => return Err("its parent stands behind it"),
            Some(parent) => Some(&self.pipes[parent]),
            None => None,
        };
        if !pipe.inside.is_sorted_by(|a, b| a < b) {
            return Err("its cases do not rise");
        }
        let known = |case: &usize| match parent {
            Some(parent) => parent.inside.binary_search(case).is_ok(),
            None => *case < self.source.len(),
        };
        if !pipe.inside.iter().all(known) {
            return Err("it has a case that is not above it");
        }
        if pipe.choices.is_empty() {
            return Err("it has no sizes");
        }
        if !pipe.choices.is_sorted_by(|a, b| a.rank < b.rank) {
            return Err("its sizes do not rise");
        }
        let fit = |choice: &Choice| choice.inside.len() == pipe.inside.len();
        if !pipe.choices.iter().all(fit) {
            return Err("a size needs one loss for each case of the pipe");
        }
        let figure = |figure: f64| figure.is_finite() && figure >= 0.0;
        if !pipe.choices.iter().all(|choice| {
            figure(choice.cost)
                && figure(choice.outside)
                && choice.inside.iter().all(|&loss| figure(loss))
        }) {
            return Err("a cost or loss is no number from 0 up");
        }
        let falls = pipe.choices.windows(2).all(|pair| {
            let inside = pair[0].inside.iter().zip(&pair[1].inside);
            pair[0].outside >= pair[1].outside && inside.into_iter().all(|(a, b)| a >= b)
        });
        if !falls {
            return Err("a larger size loses more than a smaller one");
        }
        Ok(())
    }
}
