use super::{Context, Found, Rule};
use crate::finding::Severity;
use std::collections::BTreeSet;

pub(super) static RULE: Rule = Rule {
    name: "ring-without-valves",
    severity: Severity::Note,
    finds: "A ring main without line valves.",
    why: "A ring is fed from two sides: with line valves a leaking stretch is shut off at both its ends while the rest still gets air.",
    cure: "plan a full-port valve on each side of the entry and between groups of outlets, with a drain in each part; line valves are not counted yet, so add them to your order",
    source: "NAVFAC MO-209 6: a loop with segregating valves, each part with a bleed",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let network = context.network;
    if network.link_count() < network.node_count() {
        return Vec::new();
    }
    // The leg that ends where something stands already closes the ring.
    let legs = &context.job.legs;
    let marks = legs.iter().flat_map(|leg| &leg.marks);
    let mut stands: BTreeSet<&str> = marks.map(|mark| mark.name.value.as_str()).collect();
    let ends = legs.iter().filter_map(|leg| leg.to.as_ref());
    let closing = ends.filter(|end| !stands.insert(&end.value)).last();
    vec![Found {
        span: closing.map_or(context.job.supply.name.span, |end| end.span),
        message: format!(
            "no line valve stands in the ring: one leak takes the air from all {} outlets",
            network.drops.len()
        ),
    }]
}
