//! Partial answers from the ends up to the source.
//!
//! A partial answer of a subtree is what it costs and what it wants above it in
//! each case. One that costs no less and wants no less in any case than another
//! is dropped: whatever completes it completes the other as cheaply.

use super::bound::{Partly, Rest};
use super::grouped::{Grouped, Way};
use super::problem::{Problem, Tie};

/// Partial answers of one subtree, or what they are made of.
#[derive(Debug, Default, Clone)]
struct Front {
    cost: Vec<f64>,
    /// What each wants, case by case.
    wanted: Vec<f64>,
    /// Where each came from, in `Walk::steps`.
    step: Vec<usize>,
}

#[derive(Debug, Clone, Copy)]
enum Step {
    Nothing,
    Both(usize, usize),
    Pipe {
        pipe: usize,
        choice: usize,
        below: usize,
    },
}

/// Steps that it takes to put one partial answer in order.
const SORTING: usize = 8;

/// How much a walk may take.
#[derive(Debug)]
pub(super) struct Effort {
    /// Partial answers of one pipe and size.
    pub(super) width: usize,
    /// The same once `work` is used up.
    pub(super) narrow: usize,
    /// Steps left.
    pub(super) work: u64,
}

/// What a walk found.
#[derive(Debug)]
pub(super) struct Found {
    /// The cheapest answer, if it costs less than the limit.
    pub(super) choices: Option<Vec<usize>>,
    /// No answer below the limit costs less than this; none if there is none.
    pub(super) bound: Option<f64>,
    /// Whether no list was thinned.
    pub(super) whole: bool,
}

/// What all walks over a problem share.
#[derive(Debug)]
pub(super) struct Ground<'a> {
    pub(super) problem: &'a Problem,
    pub(super) children: &'a [Vec<usize>],
    pub(super) open: &'a [Vec<usize>],
    pub(super) largest: &'a [usize],
}

struct Walk<'a> {
    ground: &'a Ground<'a>,
    grouped: &'a Grouped,
    /// Of all cases as one, then of each group.
    rests: &'a [Rest],
    limit: f64,
    effort: &'a mut Effort,
    steps: Vec<Step>,
    whole: bool,
}

/// Looks for answers that cost less than `limit`.
pub(super) fn walk(
    ground: &Ground<'_>,
    (grouped, rests): (&Grouped, &[Rest]),
    limit: f64,
    effort: &mut Effort,
) -> Found {
    let most = grouped.most(ground.problem, ground.largest);
    let mut walk = Walk {
        ground,
        grouped,
        rests,
        limit,
        effort,
        steps: vec![Step::Nothing],
        whole: true,
    };
    let pipes = &ground.problem.pipes;
    let mut offers: Vec<Vec<Front>> = vec![Vec::new(); pipes.len()];
    let mut ends = Vec::new();
    let mut bound = Some(0.0);
    for (at, pipe) in pipes.iter().enumerate().rev() {
        let mut fronts = vec![Front::default(); pipe.choices.len()];
        for &choice in &ground.open[at] {
            fronts[choice] = walk.front(&offers, at, choice, &most[at]);
        }
        for &child in &ground.children[at] {
            offers[child] = Vec::new();
        }
        if let Some(parent) = pipe.parent {
            offers[at] = walk.offers(at, parent, &fronts);
            continue;
        }
        let mut best: Option<(f64, usize)> = None;
        // Larger sizes first, so that they win where costs are equal.
        for front in fronts.iter().rev() {
            for (&cost, &step) in front.cost.iter().zip(&front.step) {
                if best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, step));
                }
            }
        }
        bound = bound.zip(best).map(|(bound, (cost, _))| bound + cost);
        ends.extend(best.map(|(_, step)| step));
    }
    Found {
        choices: bound.map(|_| walk.choices(&ends)),
        bound,
        whole: walk.whole,
    }
}

impl Walk<'_> {
    fn front(&mut self, offers: &[Vec<Front>], at: usize, choice: usize, most: &[f64]) -> Front {
        let (ground, grouped) = (self.ground, self.grouped);
        let children = &ground.children[at];
        let rests = self.rests;
        let partly: Vec<Vec<Partly>> = rests
            .iter()
            .map(|rest| rest.partly(ground.problem, children, at, choice))
            .collect();
        let mut front = Front {
            cost: vec![0.0],
            wanted: grouped.least(at).to_vec(),
            step: vec![0],
        };
        for (place, &child) in children.iter().enumerate() {
            let below = &offers[child][choice];
            front = self.both(&front, below, |wanted| {
                let each = partly.iter().zip(grouped.each_alone(at, wanted));
                each.map(|(partly, wanted)| partly[place].cost(wanted))
                    .fold(0.0, f64::max)
            });
            if front.cost.is_empty() {
                return front;
            }
        }
        let cost = ground.problem.pipes[at].choices[choice].cost;
        let losses = grouped.loss(at, choice);
        let mut done = Front::default();
        let mut wanted = vec![0.0; grouped.cases];
        for (index, below) in front.wanted.chunks(grouped.cases).enumerate() {
            for ((wanted, below), loss) in wanted.iter_mut().zip(below).zip(losses) {
                *wanted = below + loss;
            }
            if wanted.iter().zip(most).any(|(wanted, most)| wanted > most) {
                continue;
            }
            let total = front.cost[index] + cost;
            let each = rests.iter().zip(grouped.each_alone(at, &wanted));
            let beside = each.map(|(rest, wanted)| rest.beside(at, choice, wanted));
            if total + beside.fold(0.0, f64::max) >= self.limit {
                continue;
            }
            grouped.lift(at, &mut wanted);
            done.cost.push(total);
            done.wanted.extend_from_slice(&wanted);
            done.step.push(front.step[index]);
        }
        let mut done = self.undominated(done);
        for step in &mut done.step {
            self.steps.push(Step::Pipe {
                pipe: at,
                choice,
                below: *step,
            });
            *step = self.steps.len() - 1;
        }
        done
    }

    /// Every partial answer of one with every one of the other.
    fn both(&mut self, a: &Front, b: &Front, rest: impl Fn(&[f64]) -> f64) -> Front {
        let cases = self.grouped.cases;
        let mut all = Front::default();
        let mut wanted = vec![0.0; cases];
        let mut pairs = Vec::new();
        for (i, left) in a.wanted.chunks(cases).enumerate() {
            let room = self.limit - a.cost[i] - rest(left);
            for (j, right) in b.wanted.chunks(cases).enumerate() {
                // The dearer ones of the other have no more room.
                if b.cost[j] >= room {
                    break;
                }
                for ((wanted, left), right) in wanted.iter_mut().zip(left).zip(right) {
                    *wanted = left.max(*right);
                }
                let cost = a.cost[i] + b.cost[j];
                if cost + rest(&wanted) < self.limit {
                    all.cost.push(cost);
                    all.wanted.extend_from_slice(&wanted);
                    all.step.push(pairs.len());
                    pairs.push((a.step[i], b.step[j]));
                }
            }
        }
        let product = a.cost.len().saturating_mul(b.cost.len());
        self.spend(product);
        let mut all = self.undominated(all);
        for step in &mut all.step {
            let (left, right) = pairs[*step];
            // Nothing on one side needs no step of its own.
            *step = if left == 0 {
                right
            } else {
                self.steps.push(Step::Both(left, right));
                self.steps.len() - 1
            };
        }
        all
    }

    fn spend(&mut self, work: usize) {
        let work = u64::try_from(work).unwrap_or(u64::MAX);
        self.effort.work = self.effort.work.saturating_sub(work);
    }

    /// Sorted by cost, without those that another one makes needless.
    fn undominated(&mut self, all: Front) -> Front {
        let cases = self.grouped.cases;
        let wants = |at: usize| &all.wanted[at * cases..][..cases];
        let mut order: Vec<usize> = (0..all.cost.len()).collect();
        order.sort_by(|&a, &b| {
            let wants = || {
                let pairs = wants(a).iter().zip(wants(b));
                pairs
                    .map(|(a, b)| a.total_cmp(b))
                    .find(|order| order.is_ne())
            };
            let cost = all.cost[a].total_cmp(&all.cost[b]);
            cost.then_with(|| wants().unwrap_or(std::cmp::Ordering::Equal))
        });
        let no_more = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| a <= b);
        let mut kept: Vec<usize> = Vec::new();
        // Those kept so far that want the least: the next costs no less, so it
        // need be compared with no others.
        let mut least: Vec<usize> = Vec::new();
        let mut work = order.len().saturating_mul(SORTING);
        for at in order {
            let mine = wants(at);
            work += least.len();
            if least.iter().rev().any(|&other| no_more(wants(other), mine)) {
                continue;
            }
            work += least.len();
            least.retain(|&other| !no_more(mine, wants(other)));
            least.push(at);
            kept.push(at);
        }
        self.spend(work);
        let width = match self.effort.work {
            0 => self.effort.narrow,
            _ => self.effort.width,
        };
        let mut front = Front::default();
        // Thinning puts neighbours in cost together. Leniently, the group costs
        // and wants the least that any of it does; strictly, one of it stands.
        let group = kept.len().div_ceil(width).max(1);
        self.whole &= group == 1;
        for group in kept.chunks(group) {
            let (first, last) = (group[0], group[group.len() - 1]);
            let start = front.wanted.len();
            if self.grouped.way == Way::Lenient {
                front.cost.push(all.cost[first]);
                front.step.push(all.step[first]);
                front.wanted.extend_from_slice(wants(first));
                for &other in &group[1..] {
                    for (least, wanted) in front.wanted[start..].iter_mut().zip(wants(other)) {
                        *least = least.min(*wanted);
                    }
                }
            } else {
                front.cost.push(all.cost[last]);
                front.step.push(all.step[last]);
                front.wanted.extend_from_slice(wants(last));
            }
        }
        front
    }

    /// What the subtree of a pipe offers below each choice of its parent.
    fn offers(&mut self, child: usize, parent: usize, fronts: &[Front]) -> Vec<Front> {
        let problem = self.ground.problem;
        let pipe = &problem.pipes[child];
        let mut next = 0;
        let mut heard = Front::default();
        let mut offers = Vec::with_capacity(problem.pipes[parent].choices.len());
        for above in &problem.pipes[parent].choices {
            let mut found = Front::default();
            if pipe.tie == Tie::Same {
                next = pipe
                    .choices
                    .partition_point(|choice| choice.rank < above.rank);
            } else {
                found = heard.clone();
            }
            let mut fresh = false;
            while next < fronts.len() && pipe.tie.allows(pipe.choices[next].rank, above.rank) {
                found.cost.extend_from_slice(&fronts[next].cost);
                found.wanted.extend_from_slice(&fronts[next].wanted);
                found.step.extend_from_slice(&fronts[next].step);
                fresh = true;
                next += 1;
            }
            heard = if fresh && pipe.tie != Tie::Same {
                self.undominated(found)
            } else {
                found
            };
            offers.push(heard.clone());
        }
        offers
    }

    fn choices(&self, ends: &[usize]) -> Vec<usize> {
        let mut choices = self.ground.largest.to_vec();
        let mut open = ends.to_vec();
        while let Some(step) = open.pop() {
            match self.steps[step] {
                Step::Nothing => {}
                Step::Both(left, right) => open.extend([left, right]),
                Step::Pipe {
                    pipe,
                    choice,
                    below,
                } => {
                    choices[pipe] = choice;
                    open.push(below);
                }
            }
        }
        choices
    }
}
