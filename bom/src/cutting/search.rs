//! From relaxed to proven: bound and plan are driven together by splitting the
//! problem over how many bars of each kind are taken.

use super::dive::dive;
use super::exact::{self, Effort};
use super::greedy;
use super::group::{Job, Rough};
use super::problem::{Cutting, Pattern, Problem, Range};
use super::relax::relax;

/// Parts into which a problem is split at most.
const PARTS: usize = 60;
/// What the exhaustive search may take in each part.
const EFFORT: Effort = Effort {
    patterns: 20_000,
    steps: 200_000,
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
        None => split(&job.problem, plain.cutting),
        Some(rough) => estimate(job, rough, plain.cutting),
    }
}

/// Too many different lengths: plan with classes of lengths rounded up, and
/// bound with the same classes rounded down.
fn estimate(job: &Job, rough: &Rough, mut best: Cutting) -> Solved {
    let mut pool = Vec::new();
    let low = relax(
        &rough.low,
        &rough.low.demand(),
        &rough.low.range(),
        &mut pool,
        best.cost,
    );
    let mut pool = Vec::new();
    if low.bound < best.cost
        && let Some(cutting) = dive(&rough.high, &rough.high.range(), &mut pool, best.cost)
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

fn split(problem: &Problem, mut best: Cutting) -> Solved {
    let demand = problem.demand();
    let mut pool: Vec<Pattern> = best
        .patterns
        .iter()
        .map(|(pattern, _)| pattern.clone())
        .collect();
    let mut open = vec![Part {
        range: problem.range(),
        bound: 0,
    }];
    // The least bound among the parts that stay unsettled.
    let mut unsettled = i64::MAX;
    for _ in 0..PARTS {
        let Some(next) = (0..open.len()).min_by_key(|part| open[*part].bound) else {
            break;
        };
        let Part { range, bound } = open.remove(next);
        if bound.min(unsettled) >= best.cost {
            unsettled = unsettled.min(bound);
            break;
        }
        let relaxed = relax(problem, &demand, &range, &mut pool, best.cost);
        if relaxed.bound >= best.cost {
            continue;
        }
        if let Some(better) = dive(problem, &range, &mut pool, best.cost) {
            best = better;
        }
        if relaxed.bound >= best.cost {
            continue;
        }
        let outcome = exact::search(problem, &range, &relaxed.prices, best.cost, EFFORT);
        if let Some(better) = outcome.found {
            best = better;
        }
        if outcome.complete || relaxed.bound >= best.cost {
            continue;
        }
        match halves(problem, &range, &relaxed.taken, &pool) {
            Some(halves) => open.extend(halves.into_iter().map(|range| Part {
                range,
                bound: relaxed.bound,
            })),
            None => unsettled = unsettled.min(relaxed.bound),
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

/// The range split where the number of bars of one kind is farthest from
/// whole; none if at most one kind is still free, for then its number follows
/// from the cost.
fn halves(
    problem: &Problem,
    range: &Range,
    taken: &[(usize, f64)],
    pool: &[Pattern],
) -> Option<[Range; 2]> {
    let free = (0..problem.bars.len()).filter(|bar| range.least[*bar] < range.most[*bar]);
    if free.count() < 2 {
        return None;
    }
    let mut numbers = vec![0.0; problem.bars.len()];
    for (pattern, level) in taken {
        numbers[pool[*pattern].bar] += level;
    }
    let off = |bar: usize| {
        let fraction = numbers[bar] - numbers[bar].floor();
        fraction.min(1.0 - fraction)
    };
    let bar = (0..problem.bars.len())
        .filter(|bar| range.least[*bar] < range.most[*bar])
        .max_by(|a, b| off(*a).total_cmp(&off(*b)).then(b.cmp(a)))?;
    let middle = whole_number(numbers[bar]).clamp(range.least[bar], range.most[bar] - 1);
    let (mut fewer, mut more) = (range.clone(), range.clone());
    fewer.most[bar] = middle;
    more.least[bar] = middle + 1;
    Some([fewer, more])
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "there are at most as many bars as pieces"
)]
fn whole_number(value: f64) -> i64 {
    value.floor() as i64
}
