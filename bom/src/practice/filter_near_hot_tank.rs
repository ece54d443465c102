use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::{NodeId, NodeKind, Owner, Spot};
use crate::quantity::{Length, Temperature};
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "filter-near-hot-tank",
    severity: Severity::Warning,
    finds: "A filter within 25 ft of a tank whose air is above 120 F, with no dryer between.",
    why: "A filter holds drops and no vapour: in warm air the water passes it and falls out behind it.",
    cure: "let the air cool first: an aftercooler, a dryer, or 25 to 50 ft (8 to 15 m) of bare pipe before the filter",
    source: "common practice, no source",
    check,
};

const NEAR: Length = Length::from_feet(25);

fn check(context: Context<'_>) -> Vec<Found> {
    let hot = Temperature::from_fahrenheit(120);
    let mut found = Vec::new();
    for (node, (far, from)) in distances(context) {
        let supply = &context.job.supplies[from];
        let Some(discharge) = supply.discharge.filter(|discharge| *discharge > hot) else {
            continue;
        };
        let node = context.network.node(node);
        let NodeKind::Device { device, .. } = node.kind else {
            continue;
        };
        if far >= NEAR || context.library.devices()[device].name != "filter" {
            continue;
        }
        let before = match (node.origin.owner, node.origin.spot) {
            (Owner::Supply(_), Spot::Connection(number)) => &supply.connect[..number],
            _ => &supply.connect[..],
        };
        if context.has(before, "dryer") {
            continue;
        }
        let at_head = before
            .last()
            .filter(|_| node.origin.owner == Owner::Supply(from));
        found.push(Found {
            span: at_head.map_or(node.span, |used| used.span),
            message: format!(
                "the filter is {} from a tank that gives air at {}: the water is still vapour there",
                far.show(context.network.units),
                discharge.show(context.network.units)
            ),
        });
    }
    found.sort_by_key(|found| found.span);
    found.dedup_by_key(|found| found.span);
    found
}

/// How far the air has come to every place, hoses counted, and from which supply:
/// the nearest.
fn distances(context: Context<'_>) -> BTreeMap<NodeId, (Length, usize)> {
    let network = context.network;
    let ports = network.ports().enumerate();
    let mut far: BTreeMap<NodeId, (Length, usize)> = ports
        .map(|(supply, port)| (port, (Length::ZERO, supply)))
        .collect();
    for (node, by) in network.shortest_ways() {
        let before = network.ends(node).find(|end| end.link == by);
        let before = before.and_then(|end| far.get(&end.far).copied());
        let hose = match network.node(node).kind {
            NodeKind::Device { length, .. } => length,
            NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
        };
        let Some((before, supply)) = before else {
            continue;
        };
        let come = before + network.link(by).pipe.unwrap_or_default();
        far.insert(node, (come + hose.unwrap_or_default(), supply));
    }
    far
}
