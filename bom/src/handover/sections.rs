//! The pipework in parts that valves shut off: what each holds, and in which order to
//! shut valves to find the part that leaks.

use crate::Plan;
use crate::drawing::{Tags, letter, tags};
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use std::collections::BTreeSet;
use std::f64::consts::FRAC_PI_4;

/// A part of the pipework between valves.
#[derive(Debug, Clone)]
pub struct Part {
    /// A, B, C … in walking order, as the valve map calls it.
    pub letter: String,
    /// The tags of the valves that it ends at.
    pub valves: Vec<String>,
    /// Their places.
    pub ends: Vec<NodeId>,
    /// Whether a tank stands in it, with no valve between.
    pub has_tank: bool,
    /// All of its pipe, drops and drains too.
    pub pipe: Vec<LinkId>,
    /// What its pipe holds, litres.
    pub litres: f64,
    /// The numbers of its outlets.
    pub outlets: Vec<usize>,
}

/// A step of the search for the part that leaks.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The valves to shut, by their tags.
    pub shut: Vec<String>,
    /// The letters of the parts where the leak is if the gauge goes on falling.
    pub falls: Vec<String>,
    /// Those where it is if the gauge stands.
    pub stands: Vec<String>,
}

/// What a pipe holds, litres, from the middle of a fitting to the middle of the next.
#[must_use]
pub fn litres(network: &Network, library: &Library, id: LinkId) -> f64 {
    let link = network.link(id);
    let row = library.systems()[link.system].row(link.size);
    let (Some(length), Some(row)) = (link.pipe, row) else {
        return 0.0;
    };
    let bore = row.bore().mm() / 100.0;
    FRAC_PI_4 * bore * bore * length.mm() / 100.0
}

/// The parts, in walking order; one where the main has no valve.
#[must_use]
pub fn parts(plan: &Plan, library: &Library) -> Vec<Part> {
    let (network, tags) = (&plan.network, tags(plan));
    let places: Vec<NodeId> = tags.valves.iter().map(|valve| valve.0).collect();
    let sections = network.sections(&places);
    let named = |at: &NodeId| tags.valve_at(*at).unwrap_or_default().to_owned();
    let parts = sections.into_iter().enumerate();
    let parts = parts.map(|(number, section)| Part {
        letter: letter(number),
        valves: section.valves.iter().map(named).collect(),
        litres: section
            .pipe
            .iter()
            .map(|link| litres(network, library, *link))
            .sum(),
        outlets: outlets(network, &tags, &section.drops),
        pipe: section.pipe,
        ends: section.valves,
        has_tank: section.has_tank,
    });
    parts.collect()
}

fn outlets(network: &Network, tags: &Tags, drops: &[usize]) -> Vec<usize> {
    let mut numbers: Vec<usize> = drops
        .iter()
        .map(|drop| tags.outlet(&network.drops[*drop].name))
        .collect();
    numbers.sort_unstable();
    numbers
}

/// The order in which to shut valves, the first at the whole pipework: each step leaves
/// about half of what is left. At each only its own valves are shut, and the gauge stays in
/// the first part, at the tank.
#[must_use]
pub fn search(parts: &[Part]) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut left: Vec<Vec<usize>> = vec![(0..parts.len()).collect()];
    let mut next = 0;
    while let Some(here) = left.get(next) {
        let halves = halves(parts, here);
        next += 1;
        if let Some((shut, near, far)) = halves {
            let letters = |which: &[usize]| {
                let letters = which.iter().map(|part| parts[*part].letter.clone());
                letters.collect::<Vec<String>>()
            };
            steps.push(Step {
                shut,
                falls: letters(&near),
                stands: letters(&far),
            });
            left.extend([near, far]);
        }
    }
    steps
}

/// Valves, the parts that the gauge still sees while they are shut, and the others.
type Halves = (Vec<String>, Vec<usize>, Vec<usize>);

/// The one or two valves that part some of the pipework most evenly by what it holds; where
/// none do, all of one part's: the farthest's do, as no way to the others leads through it.
fn halves(parts: &[Part], here: &[usize]) -> Option<Halves> {
    let valves: BTreeSet<&String> = parts.iter().flat_map(|part| &part.valves).collect();
    let valves: Vec<&String> = valves.into_iter().collect();
    let alone = valves.iter().map(|valve| vec![*valve]);
    let pairs = valves.iter().enumerate().flat_map(|(at, first)| {
        let later = valves[at + 1..].iter();
        later.map(move |second| vec![*first, *second])
    });
    let whole = || parts.iter().map(|part| part.valves.iter().collect());
    evenest(parts, here, alone.chain(pairs)).or_else(|| evenest(parts, here, whole()))
}

/// Those of the valves that leave nearest to half of what some parts hold.
fn evenest<'a>(
    parts: &[Part],
    here: &[usize],
    shut: impl Iterator<Item = Vec<&'a String>>,
) -> Option<Halves> {
    let holds = |which: &[usize]| -> f64 { which.iter().map(|part| parts[*part].litres).sum() };
    let half = holds(here) / 2.0;
    let mut best: Option<(f64, Halves)> = None;
    for shut in shut {
        let seen = seen(parts, &shut);
        let (near, far): (Vec<usize>, Vec<usize>) =
            here.iter().partition(|part| seen.contains(part));
        if near.is_empty() || far.is_empty() {
            continue;
        }
        let off = (holds(&near) - half).abs();
        if best.as_ref().is_none_or(|best| off < best.0 - 1e-9) {
            let shut = shut.into_iter().cloned().collect();
            best = Some((off, (shut, near, far)));
        }
    }
    best.map(|(_, halves)| halves)
}

/// The parts that hang together with the first while valves are shut.
fn seen(parts: &[Part], shut: &[&String]) -> Vec<usize> {
    let mut found: Vec<usize> = (0..parts.len()).take(1).collect();
    let mut next = 0;
    while let Some(part) = found.get(next).copied() {
        next += 1;
        let open = parts[part]
            .valves
            .iter()
            .filter(|valve| !shut.contains(valve));
        for valve in open {
            let beyond = (0..parts.len()).filter(|one| parts[*one].valves.contains(valve));
            let new: Vec<usize> = beyond.filter(|one| !found.contains(one)).collect();
            found.extend(new);
        }
    }
    found
}
