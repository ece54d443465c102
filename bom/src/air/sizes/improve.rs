//! Cheaper sizes, step by step, in the whole network: one leg or drop a size smaller,
//! or one smaller and another larger, as long as every need is kept.

use super::EQUAL;
use super::whole::{Chosen, Part, Whole};
use super::why::{Because, Forced};
use crate::quantity::Size;
use std::collections::BTreeMap;

/// Of more parts than this each is looked at alone.
const MANY: usize = 40;

/// So many parts times cases are looked at in full to say why sizes are as they are.
const FULLY: usize = 400;

/// No more pairs than this are tried.
const PAIRS: usize = 400;

/// Makes sizes that keep every need cheaper, until no single part of these can be
/// smaller. Why each of them is as it is.
pub(super) fn improve(
    whole: &mut Whole<'_>,
    chosen: &mut Chosen,
    in_ring: &dyn Fn(Part) -> bool,
) -> BTreeMap<Part, Forced> {
    let few = whole.parts().count() <= MANY;
    let mut parts: Vec<Part> = whole.parts().collect();
    parts.retain(|part| chosen.contains_key(part));
    let mut pairs = if few { PAIRS } else { 0 };
    loop {
        if singles(whole, chosen, &parts) {
            continue;
        }
        if !paired(whole, chosen, &parts, in_ring, &mut pairs) {
            return reasons(whole, chosen, &parts);
        }
    }
}

/// What a part in another size saves.
fn saving(whole: &Whole<'_>, chosen: &Chosen, part: Part, size: Size) -> f64 {
    whole.cost(part, chosen[&part]) - whole.cost(part, size)
}

/// The parts that can be had a size smaller or larger, with that size and what it saves.
fn steps(
    whole: &Whole<'_>,
    chosen: &Chosen,
    parts: &[Part],
    larger: bool,
) -> Vec<(f64, Part, Size)> {
    let sized = parts.iter().filter_map(|part| {
        let size = whole.next(*part, chosen[part], larger)?;
        Some((saving(whole, chosen, *part, size), *part, size))
    });
    sized.collect()
}

/// Makes parts a size smaller, where that saves most first; whether any is.
fn singles(whole: &mut Whole<'_>, chosen: &mut Chosen, parts: &[Part]) -> bool {
    let mut steps = steps(whole, chosen, parts, false);
    steps.retain(|(saves, ..)| *saves > 0.0);
    steps.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut any = false;
    for (_, part, size) in steps {
        if whole.is_tired() {
            return false;
        }
        let mut tried = chosen.clone();
        tried.insert(part, size);
        if whole.judge(&tried, false).is_ok() {
            *chosen = tried;
            any = true;
        }
    }
    any
}

/// Makes one leg of a ring a size smaller and another part a size larger; whether any is.
fn paired(
    whole: &mut Whole<'_>,
    chosen: &mut Chosen,
    parts: &[Part],
    in_ring: &dyn Fn(Part) -> bool,
    left: &mut usize,
) -> bool {
    let all: f64 = parts
        .iter()
        .map(|part| whole.cost(*part, chosen[part]))
        .sum();
    let mut pairs = Vec::new();
    for (saves, one, smaller) in steps(whole, chosen, parts, false) {
        if !in_ring(one) {
            continue;
        }
        for (more, other, larger) in steps(whole, chosen, parts, true) {
            if other != one && saves + more > EQUAL * all {
                pairs.push((saves + more, [(one, smaller), (other, larger)]));
            }
        }
    }
    pairs.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (_, pair) in pairs {
        let Some(fewer) = left.checked_sub(1).filter(|_| !whole.is_tired()) else {
            return false;
        };
        *left = fewer;
        let mut tried = chosen.clone();
        tried.extend(pair);
        if whole.judge(&tried, false).is_ok() {
            *chosen = tried;
            return true;
        }
    }
    false
}

/// What each part would do a size smaller.
fn reasons(whole: &mut Whole<'_>, chosen: &Chosen, parts: &[Part]) -> BTreeMap<Part, Forced> {
    let fully = parts.len() * whole.cases() <= FULLY;
    let mut reasons = BTreeMap::new();
    for part in parts {
        let size = chosen[part];
        let smaller = whole.next(*part, size, false);
        let because = match smaller {
            None => Because::Smallest,
            Some(smaller) => {
                let mut tried = chosen.clone();
                tried.insert(*part, smaller);
                let saves = whole.cost(*part, smaller) < whole.cost(*part, size);
                match whole.judge(&tried, fully) {
                    Err(because) => because,
                    Ok(()) if saves => Because::Untried,
                    Ok(()) => Because::NotCheaper,
                }
            }
        };
        let forced = Forced {
            size,
            smaller,
            because,
        };
        reasons.insert(*part, forced);
    }
    reasons
}
