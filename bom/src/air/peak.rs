//! How much air is likely to be taken at once: every tool is on or off, each
//! for itself and for its share of the time.

/// The part of the time in which the likely peak is not exceeded. Common
/// practice, no source.
pub const LIKELY: f64 = 0.99;

/// A tool as it counts here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Runs {
    /// What it takes while it runs; any unit, above zero.
    pub flow: f64,
    /// The share of time in which it runs, from 0 to 1.
    pub share: f64,
    /// Whether somebody must hold it.
    pub by_hand: bool,
}

/// Flows with their chances, by rising flow.
type Chances = Vec<(f64, f64)>;

/// Different flows that are kept apart. A shop whose tools take whole cfm has
/// no more of them than it takes cfm, so that nothing is rounded there.
const MOST_FLOWS: usize = 8_192;
const FEWEST_FLOWS: usize = 256;

/// The flow that is not exceeded in [`LIKELY`] of the time, of all the times
/// at which no more hand tools run than there are people.
#[must_use]
pub fn likely(tools: &[Runs], people: Option<u8>) -> f64 {
    let held = tools.iter().filter(|tool| tool.by_hand).count();
    // Where everybody may hold a tool, nobody need be counted.
    let hands = people.map(usize::from).filter(|people| *people < held);
    let apart = (MOST_FLOWS / (hands.unwrap_or(0) + 1)).max(FEWEST_FLOWS);
    let most: f64 = tools.iter().map(|tool| tool.flow).sum();
    let gap = most / reading(apart);
    // By the number of hand tools that run.
    let mut by_held: Vec<Chances> = vec![Vec::new(); hands.unwrap_or(0) + 1];
    by_held[0].push((0.0, 1.0));
    for tool in tools {
        let counts = tool.by_hand && hands.is_some();
        for running in (0..by_held.len()).rev() {
            let off = scaled(&by_held[running], 0.0, 1.0 - tool.share);
            let before = match (counts, running) {
                (true, 0) => None,
                (true, _) => by_held.get(running - 1),
                (false, _) => by_held.get(running),
            };
            let on = before.map(|before| scaled(before, tool.flow, tool.share));
            by_held[running] = merged(off, on.unwrap_or_default(), most * 1e-9);
            if by_held[running].len() > apart {
                by_held[running] = merged(std::mem::take(&mut by_held[running]), Vec::new(), gap);
            }
        }
    }
    let all = by_held
        .into_iter()
        .fold(Vec::new(), |all, one| merged(all, one, 0.0));
    let whole: f64 = all.iter().map(|(_, chance)| chance).sum();
    let mut so_far = 0.0;
    let reached = all.iter().find(|(_, chance)| {
        so_far += chance;
        so_far >= whole * (LIKELY - 1e-12)
    });
    reached.map_or(0.0, |(flow, _)| flow.min(most))
}

/// The same flows with more air and less chance.
fn scaled(chances: &Chances, more: f64, share: f64) -> Chances {
    let scaled = chances
        .iter()
        .map(|(flow, chance)| (flow + more, chance * share));
    scaled.filter(|(_, chance)| *chance > 0.0).collect()
}

/// Both together. Flows that are no further apart than `gap` become one, at
/// their mean.
fn merged(one: Chances, other: Chances, gap: f64) -> Chances {
    let mut kept: Chances = Vec::with_capacity(one.len() + other.len());
    let mut from = f64::NEG_INFINITY;
    let (mut one, mut other) = (one.into_iter().peekable(), other.into_iter().peekable());
    let next = || match (one.peek(), other.peek()) {
        (Some(a), Some(b)) if b.0 < a.0 => other.next(),
        (None, _) => other.next(),
        _ => one.next(),
    };
    for (flow, chance) in std::iter::from_fn(next) {
        match kept.last_mut() {
            Some(last) if flow - from <= gap => {
                let both = last.1 + chance;
                last.0 += (flow - last.0) * chance / both;
                last.1 = both;
            }
            _ => {
                from = flow;
                kept.push((flow, chance));
            }
        }
    }
    kept
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand")]
const fn reading(count: usize) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::{Runs, likely};

    fn runs(flow: f64, share: f64, by_hand: bool) -> Runs {
        Runs {
            flow,
            share,
            by_hand,
        }
    }

    /// By counting: each of the 2^n ways in which the tools can run.
    fn counted(tools: &[Runs], people: Option<u8>) -> f64 {
        let mut ways: Vec<(f64, f64)> = (0_u32..1 << tools.len())
            .filter_map(|way| {
                let on = |at: usize| way >> at & 1 == 1;
                let held = tools
                    .iter()
                    .enumerate()
                    .filter(|(at, tool)| on(*at) && tool.by_hand);
                let few = people.is_none_or(|people| held.count() <= usize::from(people));
                let each = tools.iter().enumerate();
                few.then(|| {
                    each.fold((0.0, 1.0), |(flow, chance), (at, tool)| match on(at) {
                        true => (flow + tool.flow, chance * tool.share),
                        false => (flow, chance * (1.0 - tool.share)),
                    })
                })
            })
            .collect();
        ways.sort_by(|a, b| a.0.total_cmp(&b.0));
        let whole: f64 = ways.iter().map(|way| way.1).sum();
        let mut sum = 0.0;
        ways.iter()
            .find(|way| {
                sum += way.1;
                sum >= whole * (super::LIKELY - 1e-12)
            })
            .map_or(0.0, |way| way.0)
    }

    // Ten equal tools that run a tenth of the time: four or fewer run in 99.84 %
    // of it, three or fewer in 98.72 % (binomial).
    #[test]
    fn equal_tools_are_binomial() {
        let ten = [runs(5.0, 0.1, false); 10];
        assert!((likely(&ten, None) - 20.0).abs() < 1e-9);
    }

    #[test]
    fn every_way_of_running_is_counted() {
        let tools = [
            runs(18.0, 0.6, true),
            runs(18.0, 0.4, true),
            runs(14.0, 0.5, true),
            runs(0.4, 0.1, true),
            runs(1.0, 0.3, false),
            runs(60.0, 0.02, true),
            runs(7.3, 1.0, false),
        ];
        for people in [None, Some(0), Some(1), Some(2), Some(3), Some(9)] {
            let found = likely(&tools, people);
            let wanted = counted(&tools, people);
            assert!(
                (found - wanted).abs() < 1e-6,
                "{people:?}: {found}, {wanted}"
            );
        }
        assert!(likely(&[], Some(3)).abs() < f64::EPSILON);
    }

    // So many different flows that neighbours become one: within 1 % of what
    // the normal distribution gives, mean + 2.326 × deviation.
    #[test]
    fn many_unlike_tools_are_close_to_normal() {
        let tools: Vec<Runs> = (0..400)
            .map(|at| runs(1.0 + f64::from(at).sqrt() / 7.0, 0.2, true))
            .collect();
        let mean: f64 = tools.iter().map(|tool| tool.flow * 0.2).sum();
        let spread: f64 = tools.iter().map(|tool| tool.flow.powi(2) * 0.16).sum();
        let normal = mean + 2.326 * spread.sqrt();
        let found = likely(&tools, None);
        assert!((found / normal - 1.0).abs() < 0.01, "{found}, {normal}");
    }
}
