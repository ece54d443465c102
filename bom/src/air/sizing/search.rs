//! Sizes and bound, closing in on each other.

use super::bound::Rest;
use super::chains::Joined;
use super::evaluate::{holds, worst};
use super::grouped::{Grouped, Way};
use super::groups::Groups;
use super::labels::{Effort, Ground, walk};
use super::problem::{Best, Malformed, Outcome, Problem};
use super::ties::{largest, legs, open};

/// Points of all lists of lower bounds of one case together, about: 100 MB at most.
const POINTS: usize = 3_000_000;

/// Partial answers that may be kept of one pipe and size, where a tree is not so
/// large that it must do with as many as there are points.
const WIDTH: usize = 30_000;

/// The same for sizes that only have to be good.
const STRICT_WIDTH: usize = 100;

/// Steps with partial answers: a few seconds.
const WORK: u64 = 300_000_000;

/// The first walk looks no further above the lower bound than this share of what
/// is known; if it finds nothing, the next looks twice as far.
const FIRST_STEP: f64 = 1.0 / 2048.0;

/// Costs that are apart by less than this share of them are equal.
const EQUAL: f64 = 1e-9;

pub(super) fn solve(problem: &Problem) -> Result<Outcome, Malformed> {
    problem.check()?;
    let every = open(problem)?;
    if let Some(row) = worst(problem, &largest(&every))
        && row.short > problem.whisker()
    {
        return Ok(Outcome::Impossible(row));
    }
    let joined = Joined::new(problem, &problem.children());
    let found = search(&joined.problem, &open(&joined.problem)?);
    let mut best = Best {
        choices: joined.each(&found.choices),
        ..found
    };
    enlarge(problem, &every, &mut best);
    best.proven = best.cost <= best.bound + EQUAL * best.cost;
    best.bound = best.bound.min(best.cost);
    Ok(Outcome::Best(best))
}

/// The best choices of which the largest keep every need.
fn search(problem: &Problem, open: &[Vec<usize>]) -> Best {
    let children = problem.children();
    let largest = largest(open);
    let lists: usize = open.iter().map(Vec::len).sum();
    let points = (POINTS / lists.max(1)).clamp(8, 100);
    let mut search = Search {
        best: Best {
            cost: problem.cost(&largest),
            choices: largest.clone(),
            proven: false,
            bound: 0.0,
        },
        ground: &Ground {
            problem,
            children: &children,
            open,
            largest: &largest,
        },
        points,
        rests: Vec::new(),
        widest: if points < 100 { points } else { WIDTH },
        effort: Effort {
            width: WIDTH,
            narrow: points.min(16),
            work: WORK,
        },
    };
    search.close_in(Groups::new(problem));
    search.best
}

struct Search<'a> {
    ground: &'a Ground<'a>,
    effort: Effort,
    /// Partial answers that may be kept of one pipe and size.
    widest: usize,
    /// Points of each list of lower bounds.
    points: usize,
    /// Lower bounds from all cases taken as one, and from each group alone.
    rests: Vec<Rest>,
    best: Best,
}

impl Search<'_> {
    /// Parts the cases into more and more groups. Lenient groups give bounds; with
    /// every case on its own their answer keeps every need. If that takes too much,
    /// strict groups give sizes that keep every need.
    fn close_in(&mut self, mut groups: Groups) {
        let problem = self.ground.problem;
        let one = Grouped::new(problem, &vec![0; problem.source.len()], 1, Way::Lenient);
        self.rests.push(self.rest(one));
        let mut fresh = 0..groups.count();
        loop {
            let lenient = groups.grouped(problem, Way::Lenient);
            let alone: Vec<Rest> = fresh
                .clone()
                .map(|at| self.rest(lenient.only(at)))
                .collect();
            let place = fresh.start + 1;
            self.rests.splice(place..place, alone);
            let least = self.rests.iter().filter_map(|rest| rest.whole);
            self.raise(least.fold(0.0, f64::max));
            let Some((choices, whole)) = self.walk(&lenient) else {
                return;
            };
            let parted = match worst(problem, &choices) {
                Some(row) if row.short > problem.whisker() => groups.part(row.case),
                _ => None,
            };
            match parted {
                Some(at) if whole && self.effort.work > 0 => {
                    self.rests.remove(at + 1);
                    fresh = at..at + 2;
                }
                _ => break,
            }
        }
        if self.best.cost * (1.0 - EQUAL) > self.best.bound {
            self.walk(&groups.grouped(problem, Way::Strict));
        }
    }

    fn rest(&self, one: Grouped) -> Rest {
        let ground = self.ground;
        let tree = (ground.children, ground.open, ground.largest);
        Rest::new(ground.problem, tree, one, self.points)
    }

    /// No answer costs less than this.
    fn raise(&mut self, bound: f64) {
        self.best.bound = bound.min(self.best.cost).max(self.best.bound);
    }

    /// The answer to the groups that costs least, if that is less than what is known.
    /// The less room there is above the lower bound the shorter are the lists, so it
    /// begins with little.
    fn walk(&mut self, grouped: &Grouped) -> Option<(Vec<usize>, bool)> {
        let problem = self.ground.problem;
        let known = self.best.cost * (1.0 - EQUAL);
        // Sizes may come from short lists; a bound that closes the gap may not.
        self.effort.width = match grouped.way {
            Way::Strict => STRICT_WIDTH.min(self.widest),
            Way::Lenient => self.widest,
        };
        let mut step = FIRST_STEP;
        loop {
            let limit = known.min(self.best.bound + step * known);
            let last = limit >= known;
            let found = walk(self.ground, (grouped, &self.rests), limit, &mut self.effort);
            if grouped.way == Way::Lenient {
                let nothing = if last { self.best.cost } else { limit };
                self.raise(found.bound.unwrap_or(nothing));
            }
            if let Some(choices) = found.choices {
                let cost = problem.cost(&choices);
                if cost < self.best.cost && holds(problem, &choices) {
                    self.best.cost = cost;
                    self.best.choices.clone_from(&choices);
                }
                return Some((choices, found.whole));
            }
            if last {
                return None;
            }
            step *= 2.0;
        }
    }
}

/// From the source on, gives each leg the largest size that costs no more.
fn enlarge(problem: &Problem, open: &[Vec<usize>], best: &mut Best) {
    let pipes = &problem.pipes;
    let cost = |leg: &[usize], choices: &[usize]| -> f64 {
        let each = leg.iter().zip(choices);
        each.map(|(&pipe, &choice)| pipes[pipe].choices[choice].cost)
            .sum()
    };
    for leg in legs(problem) {
        let Some(&at) = leg.first() else {
            continue;
        };
        let now: Vec<usize> = leg.iter().map(|&pipe| best.choices[pipe]).collect();
        let larger = open[at].iter().rev().take_while(|&&choice| choice > now[0]);
        let found = larger.into_iter().find_map(|&choice| {
            let rank = pipes[at].choices[choice].rank;
            let above = pipes[at]
                .parent
                .map(|above| pipes[above].choices[best.choices[above]].rank);
            let same = leg.iter().map(|&pipe| {
                pipes[pipe]
                    .choices
                    .binary_search_by_key(&rank, |choice| choice.rank)
                    .ok()
            });
            let same: Vec<usize> = same.collect::<Option<_>>()?;
            let tied = above.is_none_or(|above| pipes[at].tie.allows(rank, above));
            (tied && cost(&leg, &same) <= cost(&leg, &now)).then_some(same)
        });
        for (&pipe, choice) in leg.iter().zip(found.unwrap_or(now)) {
            best.choices[pipe] = choice;
        }
    }
    best.cost = problem.cost(&best.choices);
}
