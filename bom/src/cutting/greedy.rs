//! Best fit, the longest piece first: the plan that every other has to beat.

use super::problem::{Cutting, Problem};
use std::collections::BTreeMap;

/// How to choose the bar when a piece fits into none that is open.
type Choice = fn(&Problem, usize, i64) -> (i128, i128);

/// Every choice prefers the bar with the smaller figure.
const CHOICES: [Choice; 4] = [per_length, cheapest, shortest, longest];

fn per_length(problem: &Problem, bar: usize, room: i64) -> (i128, i128) {
    let cost = i128::from(problem.bars[bar].cost);
    // Cost per length with 2^40 steps to the unit, then the longer one.
    ((cost << 40) / i128::from(room), -i128::from(room))
}

fn cheapest(problem: &Problem, bar: usize, room: i64) -> (i128, i128) {
    (i128::from(problem.bars[bar].cost), -i128::from(room))
}

fn shortest(problem: &Problem, bar: usize, room: i64) -> (i128, i128) {
    (i128::from(room), i128::from(problem.bars[bar].cost))
}

fn longest(problem: &Problem, bar: usize, room: i64) -> (i128, i128) {
    (-i128::from(room), i128::from(problem.bars[bar].cost))
}

/// The cheapest of the best-fit plans for a demand; none if the bars run out.
pub(super) fn fill(problem: &Problem, demand: &[i64], most: &[i64]) -> Option<Cutting> {
    CHOICES
        .iter()
        .filter_map(|choice| best_fit(problem, demand, most, *choice))
        .min_by_key(|cutting| cutting.cost)
}

/// Bars cut alike so far.
type Open = BTreeMap<(i64, Vec<(usize, i64)>, usize), i64>;

fn best_fit(problem: &Problem, demand: &[i64], most: &[i64], choice: Choice) -> Option<Cutting> {
    let mut left = most.to_vec();
    let mut open = Open::new();
    // Offcuts cost nothing: they are all on the bench from the start.
    for (index, bar) in problem.bars.iter().enumerate() {
        if bar.cost == 0 && left[index] > 0 {
            open.insert((bar.room, Vec::new(), index), left[index]);
            left[index] = 0;
        }
    }
    for (item, count) in demand.iter().enumerate() {
        let size = problem.items[item].size;
        let mut count = *count;
        while count > 0 {
            let fitting = open.range((size, Vec::new(), 0)..).next();
            let (room, cuts, bar, bars) = match fitting {
                Some(((room, cuts, bar), bars)) => (*room, cuts.clone(), *bar, *bars),
                None => {
                    let bar = (0..problem.bars.len())
                        .filter(|bar| left[*bar] > 0 && problem.bars[*bar].room >= size)
                        .min_by_key(|bar| choice(problem, *bar, problem.bars[*bar].room))?;
                    let room = problem.bars[bar].room;
                    let bars = left[bar].min((count - 1) / (room / size) + 1);
                    left[bar] -= bars;
                    (room, Vec::new(), bar, bars)
                }
            };
            open.remove(&(room, cuts.clone(), bar));
            // All of these bars alike as often as it goes, then the rest.
            let each = (room / size).min(count);
            let alike = bars.min(count / each);
            let mut longer = cuts.clone();
            longer.push((item, each));
            *open.entry((room - each * size, longer, bar)).or_default() += alike;
            if bars > alike {
                *open.entry((room, cuts, bar)).or_default() += bars - alike;
            }
            count -= each * alike;
        }
    }
    Some(shrunk(problem, open, left))
}

/// Every bar exchanged for the cheapest that holds what is cut from it.
fn shrunk(problem: &Problem, open: Open, mut left: Vec<i64>) -> Cutting {
    let mut cutting = Cutting::default();
    for ((room, cuts, bar), mut bars) in open {
        if cuts.is_empty() {
            continue;
        }
        let used = problem.bars[bar].room - room;
        let mut cheaper: Vec<usize> = (0..problem.bars.len())
            .filter(|other| {
                let other = &problem.bars[*other];
                other.room >= used && other.cost < problem.bars[bar].cost
            })
            .collect();
        cheaper.sort_by_key(|other| problem.bars[*other].cost);
        for other in cheaper.into_iter().chain([bar]) {
            let taken = if other == bar {
                bars
            } else {
                bars.min(left[other])
            };
            if taken > 0 {
                left[other] -= if other == bar { 0 } else { taken };
                left[bar] += if other == bar { 0 } else { taken };
                bars -= taken;
                cutting.push(
                    problem,
                    super::problem::Pattern {
                        bar: other,
                        cuts: cuts.clone(),
                    },
                    taken,
                );
            }
        }
    }
    cutting
}
