//! The bound of a set, by crediting goods with a share of their price.

use super::{Goods, ONE, STEPPED, Search, credited, up};
use std::cmp::Reverse;

/// Multipliers with the bound that they give.
#[derive(Debug, Clone, Copy)]
pub(in crate::buying) struct Relaxed {
    pub(super) credits: Goods,
    /// No choice of the set costs less.
    pub(in crate::buying) bound: i128,
}

impl Search {
    /// The multipliers with the highest bound, one after the other. The choices
    /// that they lead to are handed out.
    pub(in crate::buying) fn relax(&self, take: &mut dyn FnMut(Vec<usize>)) -> Relaxed {
        let mut credits = [0; STEPPED];
        for _ in 0..2 {
            for at in 0..self.stepped.len() {
                let best = self.best_credit(&credits, at);
                for credit in [best + 1, best] {
                    credits[at] = credit;
                    take(self.relaxed(&credits).1);
                }
            }
        }
        let (bound, choice) = self.relaxed(&credits);
        take(choice);
        Relaxed {
            credits,
            bound: up(bound),
        }
    }

    /// The best multiplier for one supplier, the others as they are: the bound
    /// is concave in it, so its slope is followed.
    fn best_credit(&self, credits: &Goods, supplier: usize) -> i64 {
        let mut others = *credits;
        others[supplier] = 0;
        let costs: Vec<i64> = self.ways.iter().map(|way| credited(way, &others)).collect();
        let stepped = &self.stepped[supplier];
        let most = self.most[supplier];
        let rises = |credit: i64| {
            let lines = self.lines.iter().map(|line| {
                let ways = line.clone().map(|at| {
                    let goods = self.ways[at].goods[supplier];
                    (costs[at] - credit * goods, Reverse(goods))
                });
                ways.min().map_or(0, |(_, Reverse(goods))| goods)
            });
            stepped.cheapest(credit, 0, most).1 > lines.sum()
        };
        let (mut low, mut high) = (0, ONE - 1);
        while low < high {
            let middle = (low + high) / 2;
            if rises(middle) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        low
    }

    /// A bound in units of [`ONE`], and the choice that it comes from.
    fn relaxed(&self, credits: &Goods) -> (i64, Vec<usize>) {
        let mut bound = self.fixed * ONE;
        let mut choice = Vec::with_capacity(self.lines.len());
        for line in 0..self.lines.len() {
            let ways = self.ways(line).iter();
            if let Some((cost, at)) = ways.map(|way| (credited(way, credits), way.at)).min() {
                bound += cost;
                choice.push(at);
            }
        }
        for (at, stepped) in self.stepped.iter().enumerate() {
            bound += stepped.cheapest(credits[at], 0, self.most[at]).0;
        }
        (bound, choice)
    }
}
