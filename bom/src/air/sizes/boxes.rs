//! How little pipe costs whose rings have a size of their own for every leg: what
//! remains to be looked at is held in boxes, each a range of sizes for every leg of
//! every ring. A box costs no less than the tree does with these legs at their cheapest
//! and the least that they lose at their largest ([`Chain`](super::chain::Chain)).
//! The box with the lowest bound is parted until there is nothing cheaper than what
//! is known, or the work is done; a box of single sizes is tried as it is.

use super::EQUAL;
use super::chain::{Chain, OpenLeg};
use super::needs::{EQUAL as SAME, Need};
use super::tree::{Of, Tree};
use crate::air::sizing::{self, Choice, Malformed, Outcome, Problem, Tie};
use crate::quantity::Size;
use std::collections::BTreeMap;

/// Pipes that are sized in all boxes together: about a second.
const WORK: usize = 60_000;

/// No more boxes than this, nor fewer.
const BOXES: (usize, usize) = (50, 1_000);

/// Sizes of legs and of drops.
pub(super) type Chosen = (BTreeMap<usize, Size>, BTreeMap<usize, Size>);

/// A size for each leg of each ring, by its place in the leg's list.
type OfLegs = Vec<Vec<usize>>;

/// Ranges of sizes.
struct Ranges {
    low: OfLegs,
    high: OfLegs,
    /// No sizes in it that keep every need cost less.
    bound: f64,
    choices: Vec<usize>,
}

/// What no sizes that keep every need cost less than. `try_out` says what sizes cost
/// that keep them in the whole network.
pub(super) fn bound(
    tree: &Tree,
    needs: &[Need],
    mut found: f64,
    try_out: &mut dyn FnMut(Chosen) -> Option<f64>,
) -> f64 {
    let mut problem = tree.problem(needs);
    // The whole network is held to its needs no closer than this.
    let slack = tree
        .chains
        .iter()
        .map(|chain| SAME * chain.at_tank * chain.at_tank);
    let slack = slack.fold(0.0, f64::max);
    for source in &mut problem.source {
        *source += slack;
    }
    let low = tree.chains.iter().map(|chain| vec![0; chain.legs.len()]);
    let high = tree.chains.iter().map(Chain::largest).collect();
    let mut boxes: Vec<Ranges> = look(tree, &problem, low.collect(), high)
        .into_iter()
        .collect();
    let mut single = f64::INFINITY;
    let (few, many) = BOXES;
    // Of the box with the lowest bound the cheaper half is parted on and on, since only
    // single sizes are an answer.
    let mut next: Option<Ranges> = None;
    for _ in 0..(WORK / tree.pipes.len().max(1)).clamp(few, many) {
        let cheap = |one: &Ranges| one.bound < found * (1.0 - EQUAL);
        let bounds = boxes.iter().enumerate().filter(|(_, one)| cheap(one));
        let lowest = bounds.min_by(|a, b| a.1.bound.total_cmp(&b.1.bound));
        let lowest = lowest.map(|(at, _)| at);
        let taken = match next.take().filter(cheap) {
            Some(next) => Some(next),
            None => lowest.map(|at| boxes.swap_remove(at)),
        };
        let Some(taken) = taken else {
            break;
        };
        let Some(halves) = taken.halves(tree) else {
            single = single.min(taken.bound);
            let cost = try_out(taken.sizes(tree));
            found = cost.map_or(found, |cost| cost.min(found));
            continue;
        };
        let halves = halves.into_iter();
        let halves = halves.filter_map(|(low, high)| look(tree, &problem, low, high));
        let mut halves: Vec<Ranges> = halves.filter(|half| cheap(half)).collect();
        halves.sort_by(|a, b| b.bound.total_cmp(&a.bound));
        next = halves.pop();
        boxes.append(&mut halves);
    }
    boxes.extend(next);
    let open = boxes.iter().map(|left| left.bound);
    open.fold(found.min(single), f64::min)
}

/// The box of these sizes; none if no sizes in it keep every need.
fn look(tree: &Tree, problem: &Problem, low: OfLegs, high: OfLegs) -> Option<Ranges> {
    let mut problem = problem.clone();
    for (at, chain) in tree.chains.iter().enumerate() {
        if !chain.legs.is_empty() {
            lay(tree, &mut problem, chain, &low[at], &high[at])?;
        }
    }
    let (bound, choices) = match sizing::solve(&problem) {
        Ok(Outcome::Best(best)) => (best.bound, best.choices),
        Ok(Outcome::Impossible(_)) | Err(Malformed::Untied(_)) => return None,
        Err(_) => (0.0, vec![0; tree.pipes.len()]),
    };
    Some(Ranges {
        low,
        high,
        bound,
        choices,
    })
}

/// Puts a ring of these sizes into the problem, at the least that it costs and loses.
fn lay(
    tree: &Tree,
    problem: &mut Problem,
    chain: &Chain,
    low: &[usize],
    high: &[usize],
) -> Option<()> {
    let least = chain.least(high, chain.rounds.len())?;
    let legs = || chain.legs.iter().zip(low.iter().zip(high));
    let cheapest = |(leg, (low, high)): (&OpenLeg, (&usize, &usize))| {
        let costs = leg.costs[*low..=*high].iter().copied();
        costs.fold(f64::INFINITY, f64::min)
    };
    let free = |tie: &mut Tie| {
        if *tie == Tie::Same {
            *tie = Tie::Free;
        }
    };
    let ring = &mut problem.pipes[chain.pipe];
    free(&mut ring.tie);
    ring.choices = vec![Choice {
        rank: legs().map(|(leg, (low, _))| leg.ranks[*low]).max()?,
        cost: chain.given + legs().map(cheapest).sum::<f64>(),
        outside: 0.0,
        inside: vec![0.0; ring.inside.len()],
    }];
    let ranks = chain.ranks(high);
    for (round, (rank, inside)) in chain.rounds.iter().zip(ranks.into_iter().zip(least)) {
        let round = &mut problem.pipes[*round];
        round.tie = Tie::Free;
        round.choices = vec![Choice {
            rank,
            cost: 0.0,
            outside: 0.0,
            inside,
        }];
    }
    // Pipe of a leg that is not in the ring has the leg's size.
    for (pipe, branch) in problem.pipes.iter_mut().zip(&tree.pipes) {
        let Of::Leg(own) = branch.of else { continue };
        let Some((leg, (low, high))) = legs().find(|(leg, _)| leg.leg == own) else {
            continue;
        };
        free(&mut pipe.tie);
        let range = leg.ranks[*low]..=leg.ranks[*high];
        pipe.choices.retain(|choice| range.contains(&choice.rank));
        if pipe.choices.is_empty() {
            return None;
        }
    }
    Some(())
}

impl Ranges {
    /// Two halves of it, parted where that costs most; none of single sizes.
    fn halves(&self, tree: &Tree) -> Option<[(OfLegs, OfLegs); 2]> {
        let mut widest: Option<(f64, usize, usize)> = None;
        for (ring, chain) in tree.chains.iter().enumerate() {
            for (at, leg) in chain.legs.iter().enumerate() {
                let (low, high) = (self.low[ring][at], self.high[ring][at]);
                let wide = leg.costs[high] - leg.costs[low];
                if low < high && widest.is_none_or(|widest| wide > widest.0) {
                    widest = Some((wide, ring, at));
                }
            }
        }
        let (_, ring, at) = widest?;
        let middle = self.low[ring][at].midpoint(self.high[ring][at]);
        let (mut low, mut high) = (self.low.clone(), self.high.clone());
        high[ring][at] = middle;
        low[ring][at] = middle + 1;
        Some([(self.low.clone(), high), (low, self.high.clone())])
    }

    /// Its sizes, if it is one of single ones.
    fn sizes(&self, tree: &Tree) -> Chosen {
        let (mut legs, drops) = tree.sizes(&self.choices);
        for (chain, low) in tree.chains.iter().zip(&self.low) {
            let own = chain.legs.iter().zip(low);
            legs.extend(own.map(|(leg, low)| (leg.leg, leg.sizes[*low])));
        }
        (legs, drops)
    }
}
