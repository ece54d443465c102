//! From relaxed to proven: bound and plan are driven together by splitting the
//! problem over how many bars of each kind are taken.

use super::bars::Totals;
use super::dive::dive;
use super::exact::{self, Effort};
use super::greedy;
use super::group::Job;
use super::problem::{Cutting, Pattern, Problem, Range};
use super::relax::Relaxation;
use super::rough::Rough;

/// Parts that are looked at before the bound so far has to do, at least and at
/// most; between these as many as fit into so many squares of kinds.
const PARTS: (usize, usize) = (4, 600);
const SQUARES: usize = 5_000_000;
/// A range is not split into more parts than this.
const WIDEST: i64 = 300;
/// What the exhaustive search may take where a part can be split instead.
const SHORT: Effort = Effort {
    patterns: 2_000,
    steps: 4_000,
};
/// What it may take where there is no other way.
const LONG: Effort = Effort {
    patterns: 20_000,
    steps: 400_000,
};

/// A plan and a bound on all plans.
#[derive(Debug)]
pub(super) struct Solved {
    pub(super) cutting: Cutting,
    pub(super) bound: i64,
}

/// The best-fit plan alone.
pub(super) fn plain(job: &Job) -> Solved {
    let problem = &job.problem;
    let filled = greedy::fill(problem, &problem.demand(), &problem.range().most);
    Solved {
        cutting: filled.unwrap_or_default(),
        bound: 0,
    }
}

/// The best plan found and the best bound.
pub(super) fn solve(job: &Job) -> Solved {
    let plain = plain(job);
    match &job.rough {
        None => settle(&job.problem, plain.cutting),
        Some(rough) => estimate(job, rough, plain.cutting),
    }
}

/// Too many different lengths: plan with classes of lengths rounded up, and
/// bound with the same classes rounded down.
fn estimate(job: &Job, rough: &Rough, mut best: Cutting) -> Solved {
    let mut pool = Vec::new();
    let low = Relaxation::new(&rough.low).relax(&rough.low.range(), &mut pool, best.cost);
    let (high, range) = (&rough.high, rough.high.range());
    let mut pool = Vec::new();
    let relaxed = Relaxation::new(high).relax(&range, &mut pool, best.cost);
    if relaxed.bound < best.cost
        && let Some(cutting) = dive(high, &range, &mut pool, relaxed.taken, best.cost)
    {
        best = rough.handed_out(&job.problem, &cutting);
    }
    Solved {
        bound: low.bound.min(best.cost),
        cutting: best,
    }
}

/// A part of the problem that is not settled.
struct Part {
    range: Range,
    bound: i64,
}

fn settle(problem: &Problem, mut best: Cutting) -> Solved {
    let mut pool: Vec<Pattern> = best
        .patterns
        .iter()
        .map(|(pattern, _)| pattern.clone())
        .collect();
    let mut relaxation = Relaxation::new(problem);
    let mut open = vec![Part {
        range: problem.range(),
        bound: 0,
    }];
    // The least bound among the parts that stay unsettled.
    let mut unsettled = i64::MAX;
    let squares = problem.items.len() * problem.items.len();
    for _ in 0..(SQUARES / squares.max(1)).clamp(PARTS.0, PARTS.1) {
        let Some(Part { range, bound }) = open.pop() else {
            break;
        };
        if bound >= best.cost {
            continue;
        }
        let mut relaxed = relaxation.relax(&range, &mut pool, best.cost);
        relaxed.bound = relaxed.bound.max(bound);
        if relaxed.bound >= best.cost {
            continue;
        }
        let taken = relaxed.taken;
        if let Some(better) = dive(problem, &range, &mut pool, taken, best.cost) {
            best = better;
        }
        if relaxed.bound >= best.cost {
            continue;
        }
        let kind = split_kind(problem, &range);
        let effort = if kind.is_some() { SHORT } else { LONG };
        let outcome = exact::search(problem, &range, &relaxed.prices, best.cost, effort);
        if let Some(better) = outcome.found {
            best = better;
        }
        if outcome.complete || relaxed.bound >= best.cost {
            continue;
        }
        match kind {
            None => unsettled = unsettled.min(relaxed.bound),
            Some(kind) => open.extend(
                (range.least[kind]..=range.most[kind])
                    .map(|number| fixed(problem, &range, kind, number, relaxed.bound))
                    .filter(|part| part.bound < best.cost),
            ),
        }
    }
    let bound = open
        .iter()
        .map(|part| part.bound)
        .fold(unsettled.min(best.cost), i64::min);
    Solved {
        cutting: best,
        bound,
    }
}

/// The kind of bar over whose number a range is split: of those that are free
/// the one with the fewest numbers. None if at most one kind is free, for then
/// its number follows from the cost.
fn split_kind(problem: &Problem, range: &Range) -> Option<usize> {
    let width = |bar: &usize| range.most[*bar] - range.least[*bar];
    let free = (0..problem.bars.len()).filter(|bar| width(bar) > 0);
    if free.clone().count() < 2 {
        return None;
    }
    free.min_by_key(width).filter(|bar| width(bar) <= WIDEST)
}

/// The part of a range with just so many bars of a kind.
fn fixed(problem: &Problem, range: &Range, kind: usize, number: i64, bound: i64) -> Part {
    let mut range = range.clone();
    range.least[kind] = number;
    range.most[kind] = number;
    let bound = Totals::new(problem, &range).at_least(bound);
    Part { range, bound }
}
