//! The least cost if patterns could be taken in fractions: a bound on every
//! plan, and the prices and patterns from which plans are made.

use super::bars::Totals;
use super::knapsack::{Fill, Knapsack};
use super::master::{MISSING, Master};
use super::prices::{Prices, dearest, scale, whole_cost};
use super::problem::{Pattern, Problem, Range};

/// Rounds of pricing before the bound so far has to do.
const ROUNDS: usize = 1_000;
/// A pattern must save more than this part of the dearest bar.
const SAVING: f64 = 1e-8;
/// How strongly the prices asked are pulled towards the best so far. Without
/// this the proposed prices swing widely.
const PULL: f64 = 0.8;
const LEAST_PULL: f64 = 0.3;
/// Patterns taken over from one search of one bar.
const BEST: usize = 4;

/// The relaxed plan.
#[derive(Debug)]
pub(super) struct Relaxed {
    /// The best prices seen.
    pub(super) prices: Prices,
    /// No plan in the range costs less; a total that bars can cost.
    pub(super) bound: i64,
    /// Patterns (by their place in the pool) and how often each is taken.
    pub(super) taken: Vec<(usize, f64)>,
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
    let mut master = Master::new(demand, range, false);
    run(problem, demand, range, &mut master, pool, goal)
}

/// The whole problem, relaxed over one range after the other; each time from
/// where the last one left off.
#[derive(Debug)]
pub(super) struct Relaxation<'a> {
    problem: &'a Problem,
    demand: Vec<i64>,
    master: Master,
}

impl<'a> Relaxation<'a> {
    pub(super) fn new(problem: &'a Problem) -> Self {
        let demand = problem.demand();
        Self {
            master: Master::new(&demand, &problem.range(), true),
            problem,
            demand,
        }
    }

    pub(super) fn relax(&mut self, range: &Range, pool: &mut Vec<Pattern>, goal: i64) -> Relaxed {
        if !self.master.move_to(range) {
            self.master = Master::new(&self.demand, range, true);
        }
        run(
            self.problem,
            &self.demand,
            range,
            &mut self.master,
            pool,
            goal,
        )
    }
}

fn run(
    problem: &Problem,
    demand: &[i64],
    range: &Range,
    master: &mut Master,
    pool: &mut Vec<Pattern>,
    goal: i64,
) -> Relaxed {
    let totals = Totals::new(problem, range);
    for (index, pattern) in pool.iter().enumerate().skip(master.offered) {
        let possible = |(item, count): &(usize, i64)| *count <= demand[*item];
        if range.most[pattern.bar] > 0 && pattern.cuts.iter().all(possible) {
            master.offer(pattern, index, cost(problem, pattern.bar));
        }
    }
    let mut centre = by_length(problem);
    let mut relaxed = Relaxed::nothing(problem);
    let mut pull = 1.0;
    for _ in 0..ROUNDS {
        let settled = master.optimise();
        let proposed = proposed(problem, master);
        let mixed = proposed.iter().zip(&centre);
        let asked: Vec<f64> = mixed
            .map(|(new, old)| pull * old + (1.0 - pull) * new)
            .collect();
        let (prices, mut fresh) = price(problem, demand, range, &asked);
        if prices.bound > relaxed.prices.bound {
            relaxed.bound = totals.at_least(whole_cost(problem, prices.bound));
            relaxed.prices = prices;
            centre = asked;
            if relaxed.bound >= goal {
                break;
            }
        }
        fresh.retain(|pattern| saves(problem, pattern, &proposed));
        if fresh.is_empty() && pull == 0.0 || !settled {
            break;
        }
        pull = match fresh.is_empty() {
            false => PULL,
            // Nothing to gain at these prices: ask nearer to the proposed ones.
            true if pull > LEAST_PULL => pull * 0.7,
            true => 0.0,
        };
        for pattern in fresh {
            master.offer(&pattern, pool.len(), cost(problem, pattern.bar));
            pool.push(pattern);
        }
    }
    relaxed.taken = master.taken();
    relaxed
}

impl Relaxed {
    fn nothing(problem: &Problem) -> Self {
        Self {
            prices: Prices {
                items: vec![0; problem.items.len()],
                surplus: vec![0; problem.bars.len()],
                bound: 0,
            },
            bound: 0,
            taken: Vec::new(),
        }
    }
}

/// What a bar costs in units of the dearest.
fn cost(problem: &Problem, bar: usize) -> f64 {
    problem.bars[bar].cost as f64 / dearest(problem) as f64
}

/// Prices in units of the dearest bar: of the items, then what the limits add
/// to every bar.
fn proposed(problem: &Problem, master: &Master) -> Vec<f64> {
    let items = (0..problem.items.len()).map(|item| master.item_price(item));
    let bars = (0..problem.bars.len()).map(|bar| master.surcharge(bar));
    items.chain(bars).collect()
}

/// Every item at the least price per length of any bar.
fn by_length(problem: &Problem) -> Vec<f64> {
    let least = (0..problem.bars.len())
        .filter(|bar| problem.bars[*bar].cost > 0)
        .map(|bar| cost(problem, bar) / problem.bars[bar].room as f64)
        .fold(f64::INFINITY, f64::min);
    let least = if least.is_finite() { least } else { 0.0 };
    let items = problem.items.iter().map(|item| item.size as f64 * least);
    items.chain(problem.bars.iter().map(|_| 0.0)).collect()
}

/// Whether a pattern makes the relaxed plan cheaper.
fn saves(problem: &Problem, pattern: &Pattern, proposed: &[f64]) -> bool {
    let worth: f64 = pattern
        .cuts
        .iter()
        .map(|(item, count)| proposed[*item] * *count as f64)
        .sum();
    worth > cost(problem, pattern.bar) + proposed[problem.items.len() + pattern.bar] + SAVING
}

/// Turns the prices of the linear program into integers, finds what each bar
/// is worth at most, and with it the patterns that would save something.
fn price(
    problem: &Problem,
    demand: &[i64],
    range: &Range,
    asked: &[f64],
) -> (Prices, Vec<Pattern>) {
    let scale = scale(problem);
    let dearest = dearest(problem) * scale;
    let items: Vec<i64> = (0..problem.items.len())
        .map(|item| units(asked[item].clamp(0.0, MISSING), dearest))
        .collect();
    let knapsack = Knapsack::new(&problem.items, demand, &items);
    let mut fresh: Vec<Pattern> = Vec::new();
    let mut surplus = Vec::with_capacity(problem.bars.len());
    for (index, bar) in problem.bars.iter().enumerate() {
        let cost = bar.cost * scale;
        let above = cost + units(asked[problem.items.len() + index], dearest);
        let Fill { worth: most, fills } = knapsack.fill(bar.room, above);
        surplus.push(most - cost);
        if range.most[index] > 0 {
            let best = fills.into_iter().rev().take(BEST);
            fresh.extend(best.map(|cuts| Pattern { bar: index, cuts }));
        }
    }
    let mut prices = Prices {
        items,
        surplus,
        bound: 0,
    };
    prices.bound = prices.bound_on(demand, range);
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
