//! Plans out of relaxed plans: keep what is taken almost whole, relax the rest
//! again, until nothing is left.

use super::greedy;
use super::problem::{Cutting, Pattern, Problem, Range};
use super::relax::relax;

/// A fraction that is taken as one whole without a second look.
const FIRM: f64 = 0.7;

/// The best plan found that costs less than `goal`, beginning with what the
/// relaxed plan takes.
pub(super) fn dive(
    problem: &Problem,
    range: &Range,
    pool: &mut Vec<Pattern>,
    mut taken: Vec<(usize, f64)>,
    mut goal: i64,
) -> Option<Cutting> {
    let mut rest = problem.demand();
    let mut range = range.clone();
    let mut kept = Cutting::default();
    let mut best = None;
    loop {
        let mut moved = false;
        for (pattern, times) in firm(&taken, pool) {
            let times = room_for(&pattern, times, &rest, &range);
            if times > 0 {
                for (item, count) in &pattern.cuts {
                    rest[*item] -= count * times;
                }
                range.most[pattern.bar] -= times;
                range.least[pattern.bar] = (range.least[pattern.bar] - times).max(0);
                kept.push(problem, pattern, times);
                moved = true;
            }
        }
        if let Some(filled) = greedy::fill(problem, &rest, &range.most)
            && kept.cost + filled.cost < goal
        {
            goal = kept.cost + filled.cost;
            best = Some(joined(&kept, filled));
        }
        let done = !moved || rest.iter().all(|count| *count == 0);
        if done {
            return best;
        }
        let relaxed = relax(problem, &rest, &range, pool, goal - kept.cost);
        if relaxed.bound >= goal - kept.cost {
            return best;
        }
        taken = relaxed.taken;
    }
}

/// The whole parts, then the firm fractions or at least the largest.
fn firm(taken: &[(usize, f64)], pool: &[Pattern]) -> Vec<(Pattern, i64)> {
    let mut chosen = Vec::new();
    let mut fractions = Vec::new();
    for (index, level) in taken {
        let whole = (level + 1e-6).floor();
        if whole >= 1.0 {
            chosen.push((pool[*index].clone(), whole_number(whole)));
        }
        if level - whole > 1e-6 {
            fractions.push((level - whole, *index));
        }
    }
    fractions.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (place, (fraction, index)) in fractions.into_iter().enumerate() {
        if place == 0 || fraction >= FIRM {
            chosen.push((pool[index].clone(), 1));
        }
    }
    chosen
}

/// How often a pattern can still be cut.
fn room_for(pattern: &Pattern, times: i64, rest: &[i64], range: &Range) -> i64 {
    pattern
        .cuts
        .iter()
        .map(|(item, count)| rest[*item] / count)
        .fold(times.min(range.most[pattern.bar]), i64::min)
}

fn joined(kept: &Cutting, filled: Cutting) -> Cutting {
    let mut patterns = kept.patterns.clone();
    patterns.extend(filled.patterns);
    Cutting {
        patterns,
        cost: kept.cost + filled.cost,
    }
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a pattern is taken at most as often as there are pieces"
)]
fn whole_number(value: f64) -> i64 {
    value as i64
}
