//! Every pattern that a plan below a target could contain.

use super::prices::{Prices, scale};
use super::problem::{Pattern, Problem, Range};

/// A pattern and what it is worth.
#[derive(Debug)]
pub(super) struct Column {
    pub(super) pattern: Pattern,
    pub(super) worth: i64,
    pub(super) waste: i128,
}

/// All patterns whose waste fits between the bound and the target, by their
/// first item; none if they are too many.
pub(super) fn columns(
    problem: &Problem,
    range: &Range,
    prices: &Prices,
    target: i128,
    limit: usize,
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
            most: limit,
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
