//! The least cost if patterns could be taken in fractions: a bound on every
//! plan, and the prices and patterns from which plans are made.

use super::bars::Totals;
use super::knapsack::{Fill, Knapsack, worth};
use super::master::{MISSING, Master};
use super::problem::{Pattern, Problem, Range};

/// Rounds of pricing before the bound so far has to do.
const ROUNDS: usize = 5_000;
/// A pattern must save more than this part of the dearest bar.
const SAVING: i64 = 100_000_000;

/// Integer prices for items, and with them a bound that anyone can check: no
/// bar is worth more than its cost plus its surplus, so every plan costs at
/// least Σ price × count − Σ surplus × bars, with the number of bars in its
/// range that makes this least.
#[derive(Debug, Clone)]
pub(super) struct Prices {
    pub(super) items: Vec<i64>,
    pub(super) surplus: Vec<i64>,
    /// The bound in price units.
    pub(super) bound: i128,
}

/// The relaxed plan.
#[derive(Debug)]
pub(super) struct Relaxed {
    /// The best prices seen.
    pub(super) prices: Prices,
    /// No plan in the range costs less; a total that bars can cost.
    pub(super) bound: i64,
    /// Patterns (by their place in the pool) and how often each is taken;
    /// empty if the bound reached the goal before.
    pub(super) taken: Vec<(usize, f64)>,
}

/// How many price units one unit of cost has: some 2^40 for the dearest bar,
/// and so few that all pieces at the price of eight bars add up within 2^62.
pub(super) fn scale(problem: &Problem) -> i64 {
    let exact = (1_i64 << 59) / problem.pieces().max(1);
    (exact.min(1 << 40) / dearest(problem)).max(1)
}

fn dearest(problem: &Problem) -> i64 {
    let costs = problem.bars.iter().map(|bar| bar.cost);
    costs.max().unwrap_or(1).max(1)
}

impl Prices {
    /// What the bars of a kind take off the bound.
    pub(super) fn surcharge(&self, bar: usize, least: i64, most: i64) -> i128 {
        let surplus = i128::from(self.surplus[bar]);
        (surplus * i128::from(least)).max(surplus * i128::from(most))
    }

    fn bound(&self, demand: &[i64], range: &Range) -> i128 {
        let items: i128 = self
            .items
            .iter()
            .zip(demand)
            .map(|(price, count)| i128::from(*price) * i128::from(*count))
            .sum();
        let bars: i128 = (0..self.surplus.len())
            .map(|bar| self.surcharge(bar, range.least[bar], range.most[bar]))
            .sum();
        items - bars
    }
}

/// Relaxes the rest of a problem. Patterns found go into the pool; the work
/// ends early once no plan can cost less than `goal`.
pub(super) fn relax(
    problem: &Problem,
    demand: &[i64],
    range: &Range,
    pool: &mut Vec<Pattern>,
    goal: i64,
) -> Relaxed {
    let scale = scale(problem);
    let dearest = dearest(problem) as f64;
    let totals = Totals::new(problem, range);
    let mut master = Master::new(problem, demand, range);
    for (index, pattern) in pool.iter().enumerate() {
        if pattern
            .cuts
            .iter()
            .all(|(item, count)| *count <= demand[*item])
        {
            master.offer(
                pattern,
                index,
                problem.bars[pattern.bar].cost as f64 / dearest,
            );
        }
    }
    let mut best: Option<(Prices, i64)> = None;
    for _ in 0..ROUNDS {
        master.optimise();
        let (prices, fresh) = price(problem, demand, range, &master);
        if best
            .as_ref()
            .is_none_or(|(old, _)| prices.bound > old.bound)
        {
            let cost = -(-prices.bound).div_euclid(i128::from(scale));
            let bound = totals.at_least(i64::try_from(cost).unwrap_or(0));
            best = Some((prices, bound));
            if bound >= goal {
                break;
            }
        }
        if fresh.is_empty() {
            let (prices, bound) = best.unwrap_or_else(|| nothing(problem));
            return Relaxed {
                prices,
                bound,
                taken: master.taken(),
            };
        }
        for pattern in fresh {
            let cost = problem.bars[pattern.bar].cost as f64 / dearest;
            master.offer(&pattern, pool.len(), cost);
            pool.push(pattern);
        }
    }
    let (prices, bound) = best.unwrap_or_else(|| nothing(problem));
    let taken = if bound >= goal {
        Vec::new()
    } else {
        master.taken()
    };
    Relaxed {
        prices,
        bound,
        taken,
    }
}

fn nothing(problem: &Problem) -> (Prices, i64) {
    let prices = Prices {
        items: vec![0; problem.items.len()],
        surplus: vec![0; problem.bars.len()],
        bound: 0,
    };
    (prices, 0)
}

/// Turns the prices of the linear program into integers, finds what each bar
/// is worth at most, and with it the patterns that would save something.
fn price(
    problem: &Problem,
    demand: &[i64],
    range: &Range,
    master: &Master,
) -> (Prices, Vec<Pattern>) {
    let scale = scale(problem);
    let dearest = dearest(problem) * scale;
    let items: Vec<i64> = (0..problem.items.len())
        .map(|item| units(master.item_price(item).clamp(0.0, MISSING), dearest))
        .collect();
    let knapsack = Knapsack::new(&problem.items, demand, &items);
    let mut fresh: Vec<Pattern> = Vec::new();
    let mut surplus = Vec::with_capacity(problem.bars.len());
    for (index, bar) in problem.bars.iter().enumerate() {
        let cost = bar.cost * scale;
        let above = cost + units(master.surcharge(index), dearest);
        let Fill { worth: most, cuts } = knapsack.fill(bar.room, above);
        surplus.push(most - cost);
        if let Some(cuts) = cuts {
            let pattern = Pattern { bar: index, cuts };
            if range.most[index] > 0 && worth(&pattern, &items) - above > dearest / SAVING {
                fresh.push(pattern);
            }
        }
    }
    let mut prices = Prices {
        items,
        surplus,
        bound: 0,
    };
    prices.bound = prices.bound(demand, range);
    (prices, fresh)
}

/// A share of the dearest bar in integer price units, rounded down.
#[expect(
    clippy::cast_possible_truncation,
    reason = "prices are within a few thousand dearest bars, far below 2^63"
)]
fn units(share: f64, dearest: i64) -> i64 {
    (share.clamp(-4096.0, 4096.0) * dearest as f64).floor() as i64
}
