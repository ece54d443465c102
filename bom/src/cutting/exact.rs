//! The exhaustive search: every pattern that a better plan could contain, and
//! every way to put these together.
//!
//! A plan costs as much as the bound plus what each of its patterns wastes
//! against the prices. So few patterns can be part of a plan that beats the
//! goal, and few of their combinations.

use super::bars::Totals;
use super::problem::{Cutting, Pattern, Problem, Range};
use super::relax::{Prices, scale};
use std::collections::HashSet;

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
    let totals = Totals::new(problem, range);
    let Some(target) = totals.below(goal) else {
        return Outcome {
            found: None,
            complete: true,
        };
    };
    let scale = i128::from(scale(problem));
    let Some(columns) = columns(problem, range, prices, i128::from(target) * scale, effort) else {
        return Outcome {
            found: None,
            complete: false,
        };
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

/// A pattern and what it is worth.
#[derive(Debug)]
struct Column {
    pattern: Pattern,
    worth: i64,
    waste: i128,
}

/// All patterns whose waste fits between the bound and the target, by their
/// first item; none if they are too many.
fn columns(
    problem: &Problem,
    range: &Range,
    prices: &Prices,
    target: i128,
    effort: Effort,
) -> Option<Vec<Vec<Column>>> {
    let scale = scale(problem);
    // Per length, the best price among the items from each on.
    let mut best = vec![(0_i64, 1_i64); problem.items.len() + 1];
    for (index, item) in problem.items.iter().enumerate().rev() {
        let (price, size) = best[index + 1];
        let own = prices.items[index];
        let better = i128::from(own) * i128::from(size) > i128::from(price) * i128::from(item.size);
        best[index] = if better {
            (own, item.size)
        } else {
            (price, size)
        };
    }
    let mut listed: Vec<Vec<Column>> = problem.items.iter().map(|_| Vec::new()).collect();
    let mut number = 0;
    for (bar, kind) in problem.bars.iter().enumerate() {
        if range.most[bar] == 0 {
            continue;
        }
        // The least that taking one more of these bars adds to the bound.
        let surplus = prices.surplus[bar];
        let surcharge = if surplus >= 0 || range.least[bar] > 0 {
            surplus
        } else {
            0
        };
        let price = kind.cost * scale + surcharge;
        let needed = i128::from(price) - (target - prices.bound);
        let mut listing = Listing {
            problem,
            prices: &prices.items,
            best: &best,
            needed,
            bar,
            price,
            chosen: Vec::new(),
            listed: &mut listed,
            number: &mut number,
            most: effort.patterns,
        };
        if !listing.descend(0, kind.room, 0) {
            return None;
        }
    }
    for columns in &mut listed {
        columns.sort_by(|a, b| (a.waste, &a.pattern).cmp(&(b.waste, &b.pattern)));
    }
    Some(listed)
}

struct Listing<'a> {
    problem: &'a Problem,
    prices: &'a [i64],
    best: &'a [(i64, i64)],
    needed: i128,
    bar: usize,
    price: i64,
    chosen: Vec<(usize, i64)>,
    listed: &'a mut Vec<Vec<Column>>,
    number: &'a mut usize,
    most: usize,
}

impl Listing<'_> {
    /// False as soon as there are too many.
    fn descend(&mut self, from: usize, room: i64, worth: i64) -> bool {
        if let Some((first, _)) = self.chosen.first()
            && i128::from(worth) >= self.needed
        {
            if *self.number >= self.most {
                return false;
            }
            *self.number += 1;
            self.listed[*first].push(Column {
                pattern: Pattern {
                    bar: self.bar,
                    cuts: self.chosen.clone(),
                },
                worth,
                waste: i128::from(self.price - worth),
            });
        }
        for item in from..self.problem.items.len() {
            let (price, size) = self.best[item];
            let short = self.needed - i128::from(worth);
            if i128::from(room) * i128::from(price) < short * i128::from(size) {
                return true;
            }
            let kind = self.problem.items[item];
            for count in (1..=kind.count.min(room / kind.size)).rev() {
                self.chosen.push((item, count));
                let go_on = self.descend(
                    item + 1,
                    room - count * kind.size,
                    worth + count * self.prices[item],
                );
                self.chosen.pop();
                if !go_on {
                    return false;
                }
            }
        }
        true
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
        if !self.seen.insert(state) {
            return;
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
