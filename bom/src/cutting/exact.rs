//! The exhaustive search: every pattern that a better plan could contain, and
//! every way to put these together.
//!
//! A plan costs as much as the bound plus what each of its patterns wastes
//! against the prices. So few patterns can be part of a plan that beats the
//! goal, and few of their combinations.

use super::bars::Totals;
use super::columns::{Column, columns};
use super::prices::{Prices, scale};
use super::problem::{Cutting, Problem, Range};
use std::collections::HashSet;

/// Pieces up to which the search is tried at all.
const DEEPEST: i64 = 1_000;

/// States that are remembered so as not to be searched twice.
const SEEN: usize = 50_000;

/// How far the search goes before it gives up.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    pub(super) patterns: usize,
    pub(super) steps: u32,
}

/// What the search came to.
#[derive(Debug)]
pub(super) struct Outcome {
    /// The cheapest plan below the goal, if it found one.
    pub(super) found: Option<Cutting>,
    /// Whether it looked everywhere.
    pub(super) complete: bool,
}

/// Looks for plans in the range that cost less than `goal`.
pub(super) fn search(
    problem: &Problem,
    range: &Range,
    prices: &Prices,
    goal: i64,
    effort: Effort,
) -> Outcome {
    let nothing = |complete| Outcome {
        found: None,
        complete,
    };
    // The search descends once for every bar.
    if problem.pieces() > DEEPEST {
        return nothing(false);
    }
    let totals = Totals::new(problem, range);
    let Some(target) = totals.below(goal) else {
        return nothing(true);
    };
    let scale = i128::from(scale(problem));
    let limit = i128::from(target) * scale;
    let Some(columns) = columns(problem, range, prices, limit, effort.patterns) else {
        return nothing(false);
    };
    let mut walk = Walk {
        problem,
        prices,
        totals,
        scale,
        columns,
        target,
        steps: effort.steps,
        rest: problem.demand(),
        range: range.clone(),
        bars: vec![0; problem.bars.len()],
        chosen: Vec::new(),
        seen: HashSet::new(),
        found: None,
        finished: false,
    };
    let worth = walk.worth_of_rest();
    walk.descend(0, 0, 0, worth);
    Outcome {
        complete: walk.steps > 0,
        found: walk.found,
    }
}

/// What is left, the bars taken, and the first column allowed.
type State = (Vec<i64>, Vec<i64>, usize);

struct Walk<'a> {
    problem: &'a Problem,
    prices: &'a Prices,
    totals: Totals,
    scale: i128,
    columns: Vec<Vec<Column>>,
    target: i64,
    steps: u32,
    rest: Vec<i64>,
    range: Range,
    bars: Vec<i64>,
    chosen: Vec<(usize, usize)>,
    seen: HashSet<State>,
    found: Option<Cutting>,
    finished: bool,
}

impl Walk<'_> {
    fn worth_of_rest(&self) -> i128 {
        self.rest
            .iter()
            .zip(&self.prices.items)
            .map(|(count, price)| i128::from(*count) * i128::from(*price))
            .sum()
    }

    /// The bound on every plan that goes on from here.
    fn bound(&self, cost: i64, worth: i128) -> i128 {
        let bars: i128 = (0..self.bars.len())
            .map(|bar| {
                let (least, most) = (self.range.least[bar], self.range.most[bar]);
                let taken = self.bars[bar];
                self.prices
                    .surcharge(bar, (least - taken).max(0), most - taken)
            })
            .sum();
        i128::from(cost) * self.scale + worth - bars
    }

    /// Cuts the first item that is left in every way; of the columns with this
    /// first item only those from `start` on, for their order is no matter.
    fn descend(&mut self, first: usize, start: usize, cost: i64, worth: i128) {
        let next = (first..self.rest.len()).find(|item| self.rest[*item] > 0);
        let Some(item) = next else {
            self.keep(cost);
            return;
        };
        let start = if item == first { start } else { 0 };
        let state = (self.rest[item..].to_vec(), self.bars.clone(), start);
        if self.seen.contains(&state) {
            return;
        }
        if self.seen.len() < SEEN {
            self.seen.insert(state);
        }
        let limit = i128::from(self.target) * self.scale;
        let spare = limit - self.bound(cost, worth);
        for index in start..self.columns[item].len() {
            let column = &self.columns[item][index];
            // Columns stand in the order of their waste.
            if column.waste > spare || self.steps == 0 {
                return;
            }
            self.steps -= 1;
            let bar = column.pattern.bar;
            let fits = self.bars[bar] < self.range.most[bar]
                && column
                    .pattern
                    .cuts
                    .iter()
                    .all(|(item, count)| *count <= self.rest[*item]);
            if !fits {
                continue;
            }
            let cost = cost + self.problem.bars[bar].cost;
            let worth = worth - i128::from(column.worth);
            self.shift(item, index, -1);
            if self.bound(cost, worth) <= i128::from(self.target) * self.scale {
                self.chosen.push((item, index));
                self.descend(item, index, cost, worth);
                self.chosen.pop();
            }
            self.shift(item, index, 1);
            if self.finished || self.steps == 0 {
                return;
            }
        }
    }

    /// Takes a column from the rest (-1) or gives it back (1).
    fn shift(&mut self, item: usize, index: usize, sign: i64) {
        let pattern = &self.columns[item][index].pattern;
        for (item, count) in &pattern.cuts {
            self.rest[*item] += sign * count;
        }
        self.bars[pattern.bar] -= sign;
    }

    fn keep(&mut self, cost: i64) {
        if cost > self.target {
            return;
        }
        let mut cutting = Cutting::default();
        for (item, index) in &self.chosen {
            let pattern = self.columns[*item][*index].pattern.clone();
            cutting.push(self.problem, pattern, 1);
        }
        self.found = Some(cutting);
        match self.totals.below(cost) {
            Some(target) if i128::from(target) * self.scale >= self.prices.bound => {
                self.target = target;
            }
            _ => self.finished = true,
        }
    }
}
