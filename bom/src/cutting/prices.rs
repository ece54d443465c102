//! Prices that prove a bound.

use super::problem::{Problem, Range};

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

impl Prices {
    /// What the bars of a kind take off the bound.
    pub(super) fn surcharge(&self, bar: usize, least: i64, most: i64) -> i128 {
        let surplus = i128::from(self.surplus[bar]);
        (surplus * i128::from(least)).max(surplus * i128::from(most))
    }

    pub(super) fn bound_on(&self, demand: &[i64], range: &Range) -> i128 {
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

/// How many price units one unit of cost has: some 2^40 for the dearest bar,
/// and so few that all pieces at the price of eight bars add up within 2^62.
pub(super) fn scale(problem: &Problem) -> i64 {
    let exact = (1_i64 << 59) / problem.pieces().max(1);
    (exact.min(1 << 40) / dearest(problem)).max(1)
}

/// What the dearest bar costs, at least 1.
pub(super) fn dearest(problem: &Problem) -> i64 {
    let costs = problem.bars.iter().map(|bar| bar.cost);
    costs.max().unwrap_or(1).max(1)
}

/// The least whole cost that a bound in price units allows.
pub(super) fn whole_cost(problem: &Problem, bound: i128) -> i64 {
    let cost = -(-bound).div_euclid(i128::from(scale(problem)));
    i64::try_from(cost).unwrap_or(0)
}
