//! The pipe as it lies, what of it nobody measured, and branches that wait.

use super::{Context, Part};
use crate::network::Network;
use crate::quantity::{Length, Size};
use std::collections::BTreeMap;

/// The pipe by system and size, as the crew's plan lays it.
pub(super) fn pipe(context: &Context<'_>) -> Vec<Part> {
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
pub(in crate::handover) const TO_CONFIRM: &str = "To confirm";

/// The branches that are plugged, and what is to come there.
pub(in crate::handover) fn plugged(network: &Network) -> Vec<String> {
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
