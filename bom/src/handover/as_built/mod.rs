//! How it was built: supply, valves, drains, outlets, pipe and labels, under the mark of the
//! job.

mod pipe;
mod valves;

pub(super) use pipe::{TO_CONFIRM, plugged};

use super::{Context, Part, labels, numbers};
use crate::job::Tool;
use pipe::pipe;
use valves::{drains, heads, valves};

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
