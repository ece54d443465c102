//! Line by line through all choices that the bound does not rule out.

use super::{Goods, LARGEST, ONE, Relaxed, STEPPED, Search, Weighed, add, credited, up};
use std::cmp::Reverse;

/// Partial choices that are kept; beyond, the worst are given up and the
/// answer is not proven.
const KEPT: usize = 300;

/// A way for each of the first lines.
#[derive(Debug, Clone, Copy)]
struct Partial {
    /// None beyond the last step.
    goods: Goods,
    cost: i64,
    /// In units of [`ONE`].
    bound: i64,
    /// Where the lines before the last are traced, and the way of the last.
    trace: (Option<usize>, usize),
}

/// What going through the choices gave.
pub(in crate::buying) struct Through {
    /// The cheapest choice below what was known.
    pub(in crate::buying) choice: Option<Vec<usize>>,
    /// No choice that was given up costs less; none if none was.
    pub(in crate::buying) given_up: Option<i128>,
}

impl Search {
    /// Goes through all choices that may cost less than what is known, as long
    /// as there is `work` left: the partial choices that may still be looked at.
    pub(in crate::buying) fn through(
        &self,
        relaxed: &Relaxed,
        known: i128,
        work: &mut usize,
    ) -> Through {
        let mut through = Through {
            choice: None,
            given_up: None,
        };
        let Ok(known) = i64::try_from(known.min(LARGEST)) else {
            return through;
        };
        let credits = &relaxed.credits;
        let order = self.order(credits);
        let mut rests = self.rests(&order, credits);
        let mut traces: Vec<(Option<usize>, usize)> = Vec::new();
        let first = Partial {
            goods: [0; STEPPED],
            cost: self.fixed,
            bound: 0,
            trace: (None, 0),
        };
        let mut partials = vec![(first, None)];
        for line in &order {
            let rest = rests.pop().unwrap_or_default();
            let looked_at = partials.len() * self.ways(*line).len();
            if *work < looked_at {
                through.given_up = Some(relaxed.bound);
                return through;
            }
            *work -= looked_at;
            let mut next = Vec::new();
            for (partial, trace) in &partials {
                for way in self.ways(*line) {
                    let mut more = self.with(partial, way);
                    more.bound = self.bound(&more, credits, &rest);
                    more.trace = (*trace, way.at);
                    if more.bound < known * ONE {
                        next.push(more);
                    }
                }
            }
            merge(&mut next, self.stepped.len());
            if next.len() > KEPT {
                next.sort_by_key(|partial| (partial.bound, partial.cost, partial.goods));
                let lost = up(next[KEPT].bound);
                let given_up = through.given_up.map_or(lost, |known| known.min(lost));
                through.given_up = Some(given_up);
                next.truncate(KEPT);
            }
            let first = traces.len();
            traces.extend(next.iter().map(|partial| partial.trace));
            let traced = next.into_iter().zip(first..);
            partials = traced.map(|(partial, at)| (partial, Some(at))).collect();
        }
        let best = partials.iter().min_by_key(|(partial, _)| partial.bound);
        through.choice = best.map(|(_, last)| {
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
        through
    }

    /// Lines whose second best way is far behind come first: they are soon
    /// decided.
    fn order(&self, credits: &Goods) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.lines.len()).collect();
        order.sort_by_cached_key(|line| {
            let ways = self.ways(*line).iter();
            let mut costs: Vec<i64> = ways.map(|way| credited(way, credits)).collect();
            costs.sort_unstable();
            Reverse(match costs[..] {
                [first, second, ..] => second - first,
                [_] | [] => i64::MAX,
            })
        });
        order
    }

    /// Behind each line, in turn from the last: the least credited cost of the
    /// lines to come, and the most goods that they have.
    fn rests(&self, order: &[usize], credits: &Goods) -> Vec<(i64, Goods)> {
        let mut rests = Vec::with_capacity(order.len());
        let mut rest = (0, [0; STEPPED]);
        for line in order.iter().rev() {
            rests.push(rest);
            let ways = self.ways(*line).iter();
            rest.0 += ways.map(|way| credited(way, credits)).min().unwrap_or(0);
            add(&mut rest.1, &self.most_of(*line));
        }
        rests
    }

    fn with(&self, partial: &Partial, way: &Weighed) -> Partial {
        let mut more = *partial;
        more.cost += way.cost;
        for (at, stepped) in self.stepped.iter().enumerate() {
            more.goods[at] = (partial.goods[at] + way.goods[at]).min(stepped.last_step());
        }
        more
    }

    /// What no choice that goes on from here is below.
    fn bound(&self, partial: &Partial, credits: &Goods, rest: &(i64, Goods)) -> i64 {
        let mut bound = partial.cost * ONE + rest.0;
        for (at, stepped) in self.stepped.iter().enumerate() {
            let goods = partial.goods[at];
            let most = goods + rest.1[at];
            bound += stepped.cheapest(credits[at], goods, most).0 - credits[at] * goods;
        }
        bound
    }
}

/// Of choices with the same goods the cheapest; with a single supplier, those
/// that no other beats.
fn merge(partials: &mut Vec<Partial>, suppliers: usize) {
    partials.sort_by_key(|partial| (Reverse(partial.goods), partial.cost));
    let mut cheapest = i64::MAX;
    let mut last: Option<Goods> = None;
    partials.retain(|partial| {
        let beaten = match suppliers {
            1 => partial.cost >= cheapest,
            _ => last == Some(partial.goods),
        };
        cheapest = cheapest.min(partial.cost);
        last = Some(partial.goods);
        !beaten
    });
}
