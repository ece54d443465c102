//! Within a set of suppliers: the choice of a way for each line that weighs
//! dearer ways against the sums from which an order costs less.
//!
//! Goods of such a supplier are first credited with a share of their price (a
//! Lagrange multiplier), which gives a bound and good choices; then the choices
//! are gone through line by line, equal ones merged and those that the bound
//! rules out dropped. All of it in whole numbers.

use super::sets::{Found, Way};
use super::terms::Charge;
use std::cmp::Reverse;

/// The multipliers' unit: a share of one is this much.
const ONE: i128 = 1024;

/// Partial choices that are kept; beyond, the worst are given up and the
/// answer is not proven.
const KEPT: usize = 1_000;

/// The ways of each line with their places among all ways of the line, and the
/// suppliers of the set.
pub(super) struct Search<'a> {
    lines: Vec<Vec<(usize, &'a Way)>>,
    /// Those with whom it matters how much is ordered.
    stepped: Vec<(usize, &'a Charge)>,
    /// What the others charge.
    fixed: i128,
}

/// A way for each of the first lines.
#[derive(Debug, Clone)]
struct Partial {
    /// Goods by stepped supplier, none beyond the last step.
    goods: Vec<i128>,
    cost: i128,
    /// In units of [`ONE`].
    bound: i128,
    /// Where the lines before the last are traced, and the way of the last.
    trace: (Option<usize>, usize),
}

impl<'a> Search<'a> {
    pub(super) fn new(
        mut lines: Vec<Vec<(usize, &'a Way)>>,
        charges: Vec<(usize, &'a Charge)>,
    ) -> Self {
        let (stepped, plain): (Vec<_>, Vec<_>) = charges
            .into_iter()
            .partition(|(_, charge)| charge.has_step());
        for ways in &mut lines {
            *ways = unbeaten(ways, &stepped);
        }
        Self {
            lines,
            fixed: plain.iter().map(|(_, charge)| charge.delivery).sum(),
            stepped,
        }
    }

    /// Betters the best choice, and gives what no choice of this set is below.
    pub(super) fn better(&self, best: &mut Found, total: &dyn Fn(&[usize]) -> i128) -> i128 {
        let mut take = |choice: Vec<usize>| {
            let total = total(&choice);
            if total < best.total {
                best.choice = choice;
                best.total = total;
            }
            best.total
        };
        let credits = self.credits(&mut take);
        let (bound, choice) = self.relaxed(&credits);
        let known = take(choice);
        if bound >= known * ONE {
            return known;
        }
        let (found, given_up) = self.through(&credits, known);
        let known = found.map_or(known, take);
        given_up.map_or(known, |bound| known.min(up(bound)))
    }

    /// The multipliers with the highest bound, one after the other.
    fn credits(&self, take: &mut dyn FnMut(Vec<usize>) -> i128) -> Vec<i128> {
        let mut credits = vec![0; self.stepped.len()];
        for _ in 0..2 {
            for at in 0..credits.len() {
                let mut bound_at = |credit: i128| {
                    let mut tried = credits.clone();
                    tried[at] = credit;
                    let (bound, choice) = self.relaxed(&tried);
                    take(choice);
                    bound
                };
                // The bound is concave in each multiplier.
                let (mut low, mut high) = (0, ONE);
                while low < high {
                    let middle = (low + high) / 2;
                    if bound_at(middle) < bound_at(middle + 1) {
                        low = middle + 1;
                    } else {
                        high = middle;
                    }
                }
                credits[at] = low;
            }
        }
        credits
    }

    /// A bound in units of [`ONE`], and the choice that it comes from.
    fn relaxed(&self, credits: &[i128]) -> (i128, Vec<usize>) {
        let mut bound = self.fixed * ONE;
        let mut most = vec![0; credits.len()];
        let mut choice = Vec::with_capacity(self.lines.len());
        for ways in &self.lines {
            let credited = ways
                .iter()
                .map(|way| (self.credited(way.1, credits), way.0));
            if let Some((cost, at)) = credited.min() {
                bound += cost;
                choice.push(at);
            }
            for (most, goods) in most.iter_mut().zip(self.most(ways)) {
                *most += goods;
            }
        }
        for (at, (_, charge)) in self.stepped.iter().enumerate() {
            bound += least_beyond(charge, credits[at], 0, most[at]);
        }
        (bound, choice)
    }

    /// The cost of a way less the credit for its goods, in units of [`ONE`].
    fn credited(&self, way: &Way, credits: &[i128]) -> i128 {
        let suppliers = self.stepped.iter().zip(credits);
        let credit = suppliers.map(|((supplier, _), credit)| way.goods[*supplier] * credit);
        way.cost * ONE - credit.sum::<i128>()
    }

    /// The most goods that any of a line's ways has of each stepped supplier.
    fn most(&self, ways: &[(usize, &Way)]) -> Vec<i128> {
        let suppliers = self.stepped.iter();
        let most = suppliers.map(|(supplier, _)| {
            let goods = ways.iter().map(|(_, way)| way.goods[*supplier]);
            goods.max().unwrap_or(0)
        });
        most.collect()
    }

    /// Goes through all choices that may cost less than what is known. Gives
    /// the cheapest, and the bound of what was given up.
    fn through(&self, credits: &[i128], known: i128) -> (Option<Vec<usize>>, Option<i128>) {
        let order = self.order(credits);
        let mut rests = vec![(0, vec![0; credits.len()])];
        for line in order.iter().rev() {
            let ways = &self.lines[*line];
            let least = ways.iter().map(|way| self.credited(way.1, credits)).min();
            if let Some((credited, most)) = rests.last() {
                let sums = most.iter().zip(self.most(ways)).map(|(a, b)| a + b);
                rests.push((credited + least.unwrap_or(0), sums.collect()));
            }
        }
        rests.pop();
        let mut traces: Vec<(Option<usize>, usize)> = Vec::new();
        let mut given_up: Option<i128> = None;
        let mut partials = vec![(
            Partial {
                goods: vec![0; credits.len()],
                cost: self.fixed,
                bound: 0,
                trace: (None, 0),
            },
            None,
        )];
        for line in &order {
            let rest = rests.pop().unwrap_or_default();
            let mut next = Vec::new();
            for (partial, trace) in &partials {
                for (at, way) in &self.lines[*line] {
                    let mut more = self.with(partial, way);
                    more.bound = self.bound(&more, credits, &rest);
                    more.trace = (*trace, *at);
                    if more.bound < known * ONE {
                        next.push(more);
                    }
                }
            }
            merge(&mut next);
            if next.len() > KEPT {
                next.sort_by(|a, b| (a.bound, a.cost, &a.goods).cmp(&(b.bound, b.cost, &b.goods)));
                let lost = next[KEPT].bound;
                given_up = Some(given_up.map_or(lost, |known| known.min(lost)));
                next.truncate(KEPT);
            }
            let first = traces.len();
            traces.extend(next.iter().map(|partial| partial.trace));
            let traced = next.into_iter().zip(first..);
            partials = traced.map(|(partial, at)| (partial, Some(at))).collect();
        }
        let best = partials.iter().min_by_key(|(partial, _)| partial.bound);
        let choice = best.map(|(_, last)| {
            let mut choice = vec![0; order.len()];
            let mut trace = *last;
            for line in order.iter().rev() {
                if let Some((before, way)) = trace.map(|at| traces[at]) {
                    choice[*line] = way;
                    trace = before;
                }
            }
            choice
        });
        (choice, given_up)
    }

    /// Lines whose second best way is far behind come first: they are soon
    /// decided.
    fn order(&self, credits: &[i128]) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.lines.len()).collect();
        order.sort_by_key(|line| {
            let ways = self.lines[*line].iter();
            let mut costs: Vec<i128> = ways.map(|way| self.credited(way.1, credits)).collect();
            costs.sort_unstable();
            Reverse(match costs[..] {
                [first, second, ..] => second - first,
                [_] | [] => i128::MAX,
            })
        });
        order
    }

    fn with(&self, partial: &Partial, way: &Way) -> Partial {
        let suppliers = self.stepped.iter().zip(&partial.goods);
        let goods = suppliers.map(|((supplier, charge), goods)| {
            (goods + way.goods[*supplier]).min(charge.last_step())
        });
        Partial {
            goods: goods.collect(),
            cost: partial.cost + way.cost,
            bound: 0,
            trace: (None, 0),
        }
    }

    /// What no choice that goes on from here is below. `rest` is the least
    /// credited cost of the lines to come and the most goods that they have.
    fn bound(&self, partial: &Partial, credits: &[i128], rest: &(i128, Vec<i128>)) -> i128 {
        let mut bound = partial.cost * ONE + rest.0;
        for (at, (_, charge)) in self.stepped.iter().enumerate() {
            let (credit, goods) = (credits[at], partial.goods[at]);
            let most = goods + rest.1[at];
            bound += least_beyond(charge, credit, goods, most) - credit * goods;
        }
        bound
    }
}

/// The least that an order of goods from `least` to `most` is charged, each of
/// its goods at the credit: it lies at an end of a step.
fn least_beyond(charge: &Charge, credit: i128, least: i128, most: i128) -> i128 {
    let steps = [0, charge.least, charge.free_from.unwrap_or(0)];
    let at = |goods: i128| charge.beyond(goods) * ONE + credit * goods;
    let sums = steps.map(|goods| at(goods.clamp(least, most)));
    sums.into_iter().min().unwrap_or(0)
}

/// The ways that no other beats: at no higher a cost, with no fewer goods of
/// any stepped supplier.
fn unbeaten<'a>(ways: &[(usize, &'a Way)], stepped: &[(usize, &Charge)]) -> Vec<(usize, &'a Way)> {
    let mut kept: Vec<(usize, &Way)> = Vec::new();
    let mut sorted = ways.to_vec();
    sorted.sort_by_key(|(at, way)| {
        let goods = stepped.iter().map(|(supplier, _)| way.goods[*supplier]);
        (way.cost, Reverse(goods.sum::<i128>()), *at)
    });
    for (at, way) in sorted {
        let beats = |other: &Way| {
            let mut suppliers = stepped.iter();
            suppliers.all(|(supplier, _)| other.goods[*supplier] >= way.goods[*supplier])
        };
        if !kept.iter().any(|(_, other)| beats(other)) {
            kept.push((at, way));
        }
    }
    kept
}

/// Of choices with the same goods the cheapest; with a single supplier, those
/// that no other beats.
fn merge(partials: &mut Vec<Partial>) {
    partials.sort_by(|a, b| (&b.goods, a.cost).cmp(&(&a.goods, b.cost)));
    let mut cheapest = i128::MAX;
    let mut last: Vec<i128> = Vec::new();
    partials.retain(|partial| {
        let beaten = match partial.goods.len() {
            1 => partial.cost >= cheapest,
            _ => partial.goods == last,
        };
        cheapest = cheapest.min(partial.cost);
        last.clone_from(&partial.goods);
        !beaten
    });
}

/// Up to the next whole minor unit.
fn up(bound: i128) -> i128 {
    -(-bound).div_euclid(ONE)
}
