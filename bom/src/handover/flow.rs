//! Which outlets to read under flow, and what to expect there.

use super::sheet::Blank;
use super::worked::flow;
use super::{Context, Part};
use crate::air::answer::Air;

/// So many outlets are read.
const READ: usize = 2;

/// The tools to read: the worst of its outlet, at the outlets that are worst off.
pub(super) fn to_read(air: &Air) -> Vec<usize> {
    let mut outlets: Vec<usize> = air.demand.tools.iter().map(|tool| tool.outlet).collect();
    outlets.sort_unstable();
    outlets.dedup();
    let mut tools: Vec<usize> = outlets
        .iter()
        .filter_map(|outlet| air.worst_at(*outlet))
        .collect();
    // What a regulator takes off is no loss: the least to spare is the worst.
    let spare = |tool: &usize| {
        let spare = air.tools[*tool].to_spare;
        spare.map_or(f64::INFINITY, |spare| spare.kpa())
    };
    tools.sort_by(|a, b| spare(a).total_cmp(&spare(b)).then(a.cmp(b)));
    tools.truncate(READ);
    tools
}

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let air = &context.air;
    let tools = to_read(air);
    let drops = &context.plan.network.drops;
    let rows = tools.iter().map(|tool| {
        let wants = &air.demand.tools[*tool];
        let name = drops
            .get(wants.outlet)
            .map_or("", |drop| drop.name.as_str());
        vec![
            format!("{} {name}", context.tags.outlet(name)),
            wants.name.clone(),
            air.tools[*tool]
                .new
                .gets
                .map_or_else(|| "no air".to_owned(), |gets| context.fine(gets)),
            read_at(context, *tool),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    let mut parts = vec![];
    if rows.is_empty() {
        parts.push(Part::note("No reading follows: the job names no tools. Read the two outlets that are farthest from the tank, with what usually hangs there."));
    } else {
        parts.push(Part::note(format!(
            "Read at the tool's inlet while it runs, with everything running that usually runs together, and the tank at {}: there the compressor starts. These outlets are worst off; what is read should not be lower than what is expected by more than two marks of the gauge.",
            context.shown(air.cut_in)
        )));
        parts.push(Part::table(
            &[
                ("Outlet", false),
                ("Tool", false),
                ("Expected", true),
                ("Read", true),
            ],
            rows,
        ));
        parts.push(Part::note("Expected: by the walk of the air through the pipework as it is new; `dripleg air` shows the way."));
    }
    let read = &context.worked.flow;
    if read.is_empty() {
        parts.push(Part::blanks([&["Tank at", "What ran"]]));
    } else {
        parts.extend(context.other_layout());
        parts.extend(flow::parts(context));
        let mut ran: Vec<&str> = read.iter().map(|one| one.read.ran.as_str()).collect();
        ran.retain(|words| !words.is_empty());
        ran.dedup();
        let ran = Blank::filled("What ran", &ran.join("; "));
        parts.push(Part::Blanks(vec![vec![ran]]));
    }
    parts.push(Part::Blanks(vec![
        context.signed("Read by", |people| &people.tested_by),
    ]));
    parts
}

/// What was read of a tool, else a line to write on.
fn read_at(context: &Context<'_>, tool: usize) -> String {
    let wants = &context.air.demand.tools[tool];
    let mut read = context.worked.flow.iter();
    let read =
        read.find(|one| one.read.outlet == wants.outlet && one.tool.as_ref() == Some(&wants.name));
    let Some(one) = read else {
        return String::from("________");
    };
    let expected = context.air.cut_in.kpa();
    if (one.read.tank.kpa() - expected).abs() < 1e-6 * expected {
        return context.shown(one.read.read);
    }
    "see below".to_owned()
}
