//! What to shut to work on an outlet.

use super::super::{Context, Part, Section, numbers};
use super::round::outlets;
use std::collections::BTreeSet;

/// Outlets that have the same valves: whether each has its own, and their part.
struct Alike {
    own: bool,
    part: usize,
    outlets: Vec<usize>,
}

/// What to shut, where so many rows hold it; else where it stands.
pub(super) fn parts(context: &Context<'_>, room: usize) -> Vec<Part> {
    let alike = alike(context);
    if alike.is_empty() {
        return vec![Part::note("There is no outlet yet.")];
    }
    if alike.len() > room {
        return vec![Part::note(
            "The card has no room for all valves: what to shut stands on the valve map of `dripleg crew`, which hangs beside it.",
        )];
    }
    let rows = alike.iter().map(|alike| {
        let part = context.sections.get(alike.part);
        vec![
            outlets(context, &alike.outlets),
            match alike.own {
                true => "its own valve",
                false => "as for its pipe",
            }
            .to_owned(),
            part.map_or_else(String::new, to_shut),
            part.map_or_else(String::new, |part| numbers(&without(context, part))),
        ]
    });
    let columns = [
        ("Outlet", false),
        ("For its devices shut", false),
        ("For its pipe shut", false),
        ("Without air then", false),
    ];
    vec![
        Part::table(&columns, rows.collect()),
        Part::note(
            "Tag the valve, lock it where it can be, let the air out behind it, and see that none comes before anything is opened.",
        ),
    ]
}

/// A tank with no valve between is emptied.
fn to_shut(part: &Section) -> String {
    let tank = part
        .has_tank
        .then_some("stop the compressor, empty the tank");
    let valves = (!part.valves.is_empty()).then(|| part.valves.join(" and "));
    let words: Vec<&str> = valves.as_deref().into_iter().chain(tank).collect();
    words.join("; ")
}

/// The outlets on a part that is shut off, and those that get their air through it alone.
pub(super) fn without(context: &Context<'_>, part: &Section) -> Vec<usize> {
    let network = &context.plan.network;
    let beyond = network.without_air(&part.ends).into_iter();
    let beyond = beyond.map(|drop| context.tags.outlet(&network.drops[drop].name));
    let all: BTreeSet<usize> = part.outlets.iter().copied().chain(beyond).collect();
    all.into_iter().collect()
}

fn alike(context: &Context<'_>) -> Vec<Alike> {
    let mut rows: Vec<Alike> = Vec::new();
    for (number, name) in context.outlets() {
        let own = has_own_valve(context, name);
        let mut parts = context.sections.iter();
        let part = parts.position(|part| part.outlets.contains(&number));
        let part = part.unwrap_or(context.sections.len());
        match rows
            .iter_mut()
            .find(|row| row.own == own && row.part == part)
        {
            Some(row) => row.outlets.push(number),
            None => rows.push(Alike {
                own,
                part,
                outlets: vec![number],
            }),
        }
    }
    rows
}

/// Whether every side of an outlet begins with a valve.
fn has_own_valve(context: &Context<'_>, name: &str) -> bool {
    let (job, devices) = (&context.plan.job, context.library.devices());
    let mut outlets = job.outlets.iter();
    let outlet = outlets.find(|outlet| outlet.name.value == name);
    outlet.and_then(|outlet| outlet.drop).is_some_and(|kind| {
        let sides = &job.drops[kind].sides;
        let valve = |used: usize| devices[used].name == "valve";
        let mut first = sides.iter().map(|side| side.first());
        first.all(|first| first.is_some_and(|used| valve(used.value.device)))
    })
}
