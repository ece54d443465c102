//! How it was built: supply, valves, drains, outlets, pipe and labels, under the mark of the
//! job.

use super::{Context, Part, labels};
use crate::job::Tool;
use crate::network::{Network, Owner};
use crate::quantity::{Length, Size};
use std::collections::BTreeMap;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![Part::note(under_the_mark(context))];
    parts.extend(frozen(context));
    parts.push(Part::heading("Supply"));
    parts.extend(supply(context));
    parts.push(Part::heading("Valves"));
    parts.push(valves(context));
    parts.extend(heads(context));
    parts.push(Part::heading("Drains"));
    parts.push(drains(context));
    parts.push(Part::heading("Outlets"));
    parts.push(outlets(context));
    parts.push(Part::heading("Pipe"));
    parts.extend(pipe(context));
    parts.push(Part::heading("Labels to make"));
    parts.extend(labels::parts(context));
    parts.push(Part::blanks([
        &["Changed on site: what, where, drawn in by"],
        &[
            "Handed over by: name, signature, date",
            "Taken over by: name, signature, date",
        ],
    ]));
    parts
}

fn under_the_mark(context: &Context<'_>) -> String {
    let summary = &context.plan.summary;
    let revision = match summary.revision.as_str() {
        "" => String::new(),
        revision => format!(", revision {revision}"),
    };
    let mark = match context.asked.fingerprint {
        "" => "-",
        mark => mark,
    };
    format!(
        "{}{revision}, under the mark {mark}. The plan, the isometric sheets and the details of `dripleg crew` with this mark belong to it, and so does the signed record of the test.",
        summary.title
    )
}

/// From which job this one was frozen.
fn frozen(context: &Context<'_>) -> Option<Part> {
    let from = context.plan.job.as_built.as_ref()?;
    Some(Part::note(format!(
        "Frozen as built on {} from the job of the mark {}: the papers of the work have that mark.",
        from.date, from.mark
    )))
}

/// What each compressor, tank and relief valve is, and what its plate says.
fn supply(context: &Context<'_>) -> [Part; 2] {
    let plan = context.plan;
    let units = plan.summary.units;
    let open = || "not stated".to_owned();
    let rows = plan.job.supplies.iter().map(|supply| {
        let connections = plan.summary.connections.iter();
        let connection = connections
            .filter(|one| one.supply == supply.name.value)
            .map(|one| one.items.join(", "));
        let connection: String = connection.collect();
        vec![
            supply.name.value.clone(),
            supply.free_air.map_or_else(open, |air| air.show(units)),
            supply
                .cut_in
                .zip(supply.cut_out)
                .map_or_else(open, |(low, high)| {
                    format!("{} to {}", context.shown(low), context.shown(high))
                }),
            supply.relief.map_or_else(open, |at| context.shown(at)),
            supply.tank.map_or_else(open, |tank| tank.show(units)),
            match connection.is_empty() {
                true => "the pipe itself".to_owned(),
                false => connection,
            },
        ]
    });
    [
        Part::table(
            &[
                ("Compressor", false),
                ("Free air", true),
                ("Starts, stops", true),
                ("Relief valve", true),
                ("Tank", true),
                ("From tank to pipe", false),
            ],
            rows.collect(),
        ),
        Part::blanks([
            &[
                "Tank's plate: number, year",
                "Tank's plate: highest pressure",
            ],
            &["Relief valve's plate: set at, number"],
        ]),
    ]
}

/// Valves that shut off main, all of which stand open.
fn valves(context: &Context<'_>) -> Part {
    let plan = context.plan;
    let rows = context.tags.valves.iter().map(|(at, tag, name)| {
        let without = plan.network.without_air(&[*at]);
        let numbers: Vec<String> = without
            .iter()
            .map(|drop| {
                let name = &plan.network.drops[*drop].name;
                context.tags.outlet(name).to_string()
            })
            .collect();
        vec![
            tag.clone(),
            name.clone(),
            // The name of a line valve stands beside it already.
            match plan.network.node(*at).origin.owner {
                Owner::Leg(leg) => plan.network.legs[leg].label.clone(),
                Owner::Supply(_) | Owner::Drain(_) | Owner::Outlet(_) => plan.network.place(*at),
            },
            "open".to_owned(),
            match numbers.is_empty() {
                true => "none".to_owned(),
                false => numbers.join(", "),
            },
        ]
    });
    Part::table(
        &[
            ("Tag", false),
            ("Name", false),
            ("Where", false),
            ("Stands", false),
            ("Shut alone, without air", false),
        ],
        rows.collect(),
    )
}

/// The outlets whose drops have a valve at their heads.
fn heads(context: &Context<'_>) -> Option<Part> {
    let plan = context.plan;
    let outlets = plan.job.outlets.iter().enumerate();
    let mut numbers: Vec<usize> = outlets
        .filter(|(index, _)| plan.network.has_head_valve(*index))
        .map(|(_, outlet)| context.tags.outlet(&outlet.name.value))
        .collect();
    numbers.sort_unstable();
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    (!numbers.is_empty()).then(|| {
        Part::note(format!(
            "Isolating valves at the heads of drops, which stand open: outlets {}.",
            numbers.join(", ")
        ))
    })
}

fn drains(context: &Context<'_>) -> Part {
    let plan = context.plan;
    let units = plan.summary.units;
    let rows = context.tags.drains.iter().map(|(at, tag, name)| {
        let mut drains = plan.summary.drains.iter();
        let summary = drains.find(|drain| drain.name == *name);
        vec![
            tag.clone(),
            name.clone(),
            plan.network.place(*at),
            summary.map_or_else(String::new, |drain| drain.valve.to_string()),
            "shut".to_owned(),
            summary.map_or_else(String::new, |drain| drain.height.show(units)),
        ]
    });
    Part::table(
        &[
            ("Tag", false),
            ("Name", false),
            ("Where", false),
            ("Valve", false),
            ("Stands", false),
            ("Main's height", true),
        ],
        rows.collect(),
    )
}

/// Every outlet: what hangs on it, its drop, and what stands on each side.
fn outlets(context: &Context<'_>) -> Part {
    let plan = context.plan;
    let rows = plan.summary.outlets.iter().map(|outlet| {
        let mut outlets = plan.job.outlets.iter();
        let of_job = outlets.find(|one| one.name.value == outlet.name);
        let tools = counted(of_job.into_iter().flat_map(|one| &one.tools));
        vec![
            outlet.number.to_string(),
            outlet.name.clone(),
            match tools.is_empty() {
                true => "none named".to_owned(),
                false => tools.join(", "),
            },
            format!("{} from the {}", outlet.size, outlet.take_off),
            outlet.sides.join("; "),
            outlet.drain.clone(),
        ]
    });
    Part::table(
        &[
            ("No.", true),
            ("Name", false),
            ("Tools", false),
            ("Drop", false),
            ("On it, each side from the pipe", false),
            ("Drain", false),
        ],
        rows.collect(),
    )
}

/// Tools in their order, each kind once.
fn counted<'a>(tools: impl Iterator<Item = &'a Tool>) -> Vec<String> {
    let mut kinds: Vec<(&str, usize)> = Vec::new();
    for tool in tools {
        let words = tool.words();
        match kinds.iter_mut().find(|(kind, _)| *kind == words) {
            Some((_, count)) => *count += 1,
            None => kinds.push((words, 1)),
        }
    }
    let kinds = kinds.into_iter().map(|(kind, count)| match count {
        1 => kind.to_owned(),
        count => format!("{count} x {kind}"),
    });
    kinds.collect()
}

/// The pipe by system and size, as the crew's plan lays it.
fn pipe(context: &Context<'_>) -> Vec<Part> {
    let plan = context.plan;
    let units = plan.summary.units;
    let mut lengths: BTreeMap<(usize, Size), [Length; 2]> = BTreeMap::new();
    for (_, _, _, link) in plan.network.links() {
        let Some(length) = link.pipe else { continue };
        let of_size = lengths.entry((link.system, link.size)).or_default();
        of_size[usize::from(!link.is_main())] += length;
    }
    let rows = lengths.iter().rev().map(|((system, size), of_size)| {
        let total = of_size[0] + of_size[1];
        vec![
            context.library.systems()[*system].title.clone(),
            size.to_string(),
            of_size[0].show_total(units),
            of_size[1].show_total(units),
            total.show_total(units),
        ]
    });
    let mut parts = vec![Part::table(
        &[
            ("Pipe", false),
            ("Size", false),
            ("Main", true),
            ("Drops, drains", true),
            ("Together", true),
        ],
        rows.collect(),
    )];
    let open = plan.network.assumptions.iter();
    let open: Vec<String> = open
        .filter(|one| one.starts_with(TO_CONFIRM))
        .cloned()
        .collect();
    parts.push(Part::note(
        "From the middle of a fitting to the middle of the next, as the job has it.",
    ));
    if !open.is_empty() {
        parts.push(Part::Points(open));
    }
    let plugged = plugged(&plan.network);
    if !plugged.is_empty() {
        parts.push(Part::note(format!(
            "Branches that are plugged: {}.",
            plugged.join("; ")
        )));
    }
    parts
}

/// How the papers begin what nobody has measured.
pub(super) const TO_CONFIRM: &str = "To confirm";

/// The branches that are plugged, and what is to come there.
pub(super) fn plugged(network: &Network) -> Vec<String> {
    let plugged = network.plugged.iter();
    let plugged = plugged.map(|one| {
        let place = network.place(one.at);
        match one.to_come {
            true => format!("{place} (for {})", one.name),
            false => place,
        }
    });
    plugged.collect()
}
