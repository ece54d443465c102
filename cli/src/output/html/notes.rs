//! What to confirm, what was assumed, and what is dangerous.

use super::Report;
use super::pieces::{Section, bare_list, list, progress, tick};
use bom::air::demand::{SaidBy, ToolDemand};
use bom::practice::REMINDERS;
use bom::quantity::Units;
use maud::html;

/// What the job states and only a look at the site confirms, and the figures that nobody
/// has given.
pub(super) fn confirm(report: &Report<'_>) -> Option<Section> {
    let summary = &report.plan.summary;
    let units = summary.units;
    let plates = summary.supply.iter();
    let plates = plates.map(|fact| format!("On its plate: {fact}"));
    let legs = report.plan.job.legs.iter();
    let legs = legs.map(|leg| {
        let length = leg.length().show(units);
        format!("By tape, before any pipe is cut: {}, {length}", leg.label())
    });
    let mut tools: Vec<String> = Vec::new();
    for tool in &report.air.demand.tools {
        tools.extend(typical(tool, units).filter(|said| !tools.contains(said)));
    }
    let all: Vec<String> = plates.chain(legs).chain(tools).collect();
    (!all.is_empty()).then(|| Section {
        id: "confirm",
        title: "To confirm",
        body: html! {
            p { "The job is counted from these. Look once more before money is spent on them." }
            (progress("confirm"))
            ul.ticks {
                @for (number, text) in (1..).zip(&all) {
                    li { (tick(&format!("confirm-{number}"), &html! { (text) })) }
                }
            }
        },
    })
}

/// What is taken for a tool because the job does not say it.
fn typical(tool: &ToolDemand, units: Units) -> Option<String> {
    let figure = |said_by: SaidBy, text: String| (said_by != SaidBy::Job).then_some(text);
    let running = tool.running;
    let running = figure(
        running.said_by,
        format!("takes {}", running.value.show(units)),
    );
    let pressure = |what: &str, of: Option<bom::air::demand::Figure<bom::quantity::Pressure>>| {
        of.and_then(|of| figure(of.said_by, format!("{what} {}", of.value.show(units))))
    };
    let least = pressure("needs at least", tool.least);
    let best = pressure("works best at", tool.best);
    let said: Vec<String> = [running, least, best].into_iter().flatten().collect();
    let name = crate::output::words::system::capital(&tool.name);
    (!said.is_empty()).then(|| format!("On the tool: {name} {} (typical figures)", said.join(", ")))
}

/// Every assumption once, under what it was made for.
pub(super) fn assumptions(report: &Report<'_>) -> Option<Section> {
    let water = report.plan.amounts.as_ref();
    let groups = [
        ("For the count", report.takeoff.assumptions.as_slice()),
        ("For the air", report.air.assumptions.as_slice()),
        (
            "For the water",
            water.map_or(&[][..], |water| &water.assumptions),
        ),
        (
            "For what the pipe carries",
            report.plan.zones.assumptions.as_slice(),
        ),
    ];
    let mut said: Vec<&String> = Vec::new();
    let mut lists = Vec::new();
    for (heading, items) in groups {
        let new: Vec<&String> = items.iter().filter(|item| !said.contains(item)).collect();
        said.extend(&new);
        lists.push((heading, new.into_iter().cloned().collect::<Vec<String>>()));
    }
    (!said.is_empty()).then(|| Section {
        id: "assumptions",
        title: "Assumptions",
        body: html! { @for (heading, items) in lists { (list(heading, &items)) } },
    })
}

/// What can hurt, and what to do for ever after.
pub(super) fn cautions(report: &Report<'_>) -> Option<Section> {
    let reminders = REMINDERS.iter().map(|reminder| (*reminder).to_owned());
    let cautions = report.shop.cautions.iter().cloned();
    Some(Section {
        id: "cautions",
        title: "Cautions",
        body: bare_list(&cautions.chain(reminders).collect::<Vec<_>>()),
    })
}
