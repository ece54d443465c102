//! Which totals a whole number of bars can cost at all. This lifts bounds:
//! between two of these totals there is no plan.

use super::problem::{Problem, Range};

/// Kinds of bar up to which combinations are tried at all.
const KINDS: usize = 12;
/// Combinations tried before the greatest common divisor has to do.
const TRIES: u32 = 50_000;

/// The kinds that cost something, the dearest first.
#[derive(Debug)]
pub(super) struct Totals {
    kinds: Vec<Kind>,
    divisor: i64,
}

#[derive(Debug, Clone, Copy)]
struct Kind {
    cost: i64,
    least: i64,
    most: i64,
}

impl Totals {
    pub(super) fn new(problem: &Problem, range: &Range) -> Self {
        let mut kinds: Vec<Kind> = problem
            .bars
            .iter()
            .zip(range.least.iter().zip(&range.most))
            .filter(|(bar, (_, most))| bar.cost > 0 && **most > 0)
            .map(|(bar, (least, most))| Kind {
                cost: bar.cost,
                least: *least,
                most: *most,
            })
            .collect();
        kinds.sort_unstable_by_key(|kind| (-kind.cost, kind.least, kind.most));
        let divisor = kinds
            .iter()
            .fold(0, |divisor, kind| gcd(divisor, kind.cost));
        Self { kinds, divisor }
    }

    fn tries(&self) -> u32 {
        if self.kinds.len() > KINDS { 0 } else { TRIES }
    }

    /// No plan that costs at least `cost` costs less than this.
    pub(super) fn at_least(&self, cost: i64) -> i64 {
        if cost <= 0 || self.divisor == 0 {
            return if cost <= 0 { 0 } else { i64::MAX };
        }
        let mut tries = self.tries();
        match up(&self.kinds, cost, &mut tries) {
            Some(total) => total,
            None if tries > 0 => i64::MAX,
            None => (cost - 1) / self.divisor * self.divisor + self.divisor,
        }
    }

    /// No plan that costs less than `cost` costs more than this; none if no
    /// plan costs less.
    pub(super) fn below(&self, cost: i64) -> Option<i64> {
        if cost <= 0 {
            return None;
        }
        if self.divisor == 0 {
            return Some(0);
        }
        let mut tries = self.tries();
        match down(&self.kinds, cost - 1, &mut tries) {
            Some(total) if tries > 0 => Some(total),
            None if tries > 0 => None,
            _ => Some((cost - 1) / self.divisor * self.divisor),
        }
    }
}

/// The least total of at least `cost`.
fn up(kinds: &[Kind], cost: i64, tries: &mut u32) -> Option<i64> {
    let (kind, rest) = kinds.split_first()?;
    if rest.is_empty() {
        let number = kind.least.max((cost.max(0) + kind.cost - 1) / kind.cost);
        return (number <= kind.most).then_some(number * kind.cost);
    }
    let mut best: Option<i64> = None;
    for number in kind.least..=kind.most {
        if *tries == 0 {
            return None;
        }
        *tries -= 1;
        let own = number * kind.cost;
        if let Some(total) = up(rest, cost - own, tries).map(|total| total + own) {
            best = Some(best.map_or(total, |best| best.min(total)));
        }
        if best == Some(cost) || own >= cost {
            break;
        }
    }
    if *tries == 0 { None } else { best }
}

/// The greatest total of at most `cost`.
fn down(kinds: &[Kind], cost: i64, tries: &mut u32) -> Option<i64> {
    let (kind, rest) = kinds.split_first()?;
    if rest.is_empty() {
        let number = kind.most.min(cost.div_euclid(kind.cost));
        return (number >= kind.least).then_some(number * kind.cost);
    }
    let mut best: Option<i64> = None;
    for number in kind.least..=kind.most {
        if *tries == 0 {
            return None;
        }
        *tries -= 1;
        let own = number * kind.cost;
        if own > cost || best == Some(cost) {
            break;
        }
        best = best.max(down(rest, cost - own, tries).map(|total| total + own));
    }
    best
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
