//! Valves and drains, and how they stand.

use super::{Context, Part, numbers};
use crate::network::Owner;

/// Valves that shut off main, all of which stand open.
pub(super) fn valves(context: &Context<'_>) -> Part {
    let plan = context.plan;
    let rows = context.tags.valves.iter().map(|(at, tag, name)| {
        let without = plan.network.without_air(&[*at]);
        let mut outlets: Vec<usize> = without
            .iter()
            .map(|drop| context.tags.outlet(&plan.network.drops[*drop].name))
            .collect();
        outlets.sort_unstable();
        vec![
            tag.clone(),
            name.clone(),
            // The name of a line valve stands beside it already.
            match plan.network.node(*at).origin.owner {
                Owner::Leg(leg) => plan.network.legs[leg].label.clone(),
                Owner::Supply(_) | Owner::Drain(_) | Owner::Outlet(_) => plan.network.place(*at),
            },
            "open".to_owned(),
            match outlets.is_empty() {
                true => "none".to_owned(),
                false => numbers(&outlets),
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
pub(super) fn heads(context: &Context<'_>) -> Option<Part> {
    let plan = context.plan;
    let outlets = plan.job.outlets.iter().enumerate();
    let mut outlets: Vec<usize> = outlets
        .filter(|(index, _)| plan.network.has_head_valve(*index))
        .map(|(_, outlet)| context.tags.outlet(&outlet.name.value))
        .collect();
    outlets.sort_unstable();
    (!outlets.is_empty()).then(|| {
        Part::note(format!(
            "Isolating valves at the heads of drops, which stand open: outlets {}.",
            numbers(&outlets)
        ))
    })
}

pub(super) fn drains(context: &Context<'_>) -> Part {
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
