use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::LineValve;
use crate::source::Span;
use petgraph::unionfind::UnionFind;

pub(super) static RULE: Rule = Rule {
    name: "ring-without-valves",
    severity: Severity::Note,
    finds: "A ring main with no line valve, or only one.",
    why: "A ring is fed from two sides: with line valves a leaking stretch is shut off at both its ends while the rest still gets air.",
    cure: "mark a [valve.NAME] on each side of the entry and between groups of outlets, with a drain in each part",
    source: "NAVFAC MO-209 6: a loop with segregating valves, each part with a bleed",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let network = context.network;
    let is_valve = |place| network.is_line_valve(place);
    // Without its valves every ring falls apart into at least two stretches:
    // none may be left, and no valve may lead from a stretch back into it.
    let mut stretches = UnionFind::<usize>::new(network.node_count());
    let mut whole_ring = false;
    for (_, from, to, _) in network.links() {
        if !is_valve(from) && !is_valve(to) {
            whole_ring |= !stretches.union(from.index(), to.index());
        }
    }
    let alone = |valve: &&LineValve| {
        let far: Vec<_> = network.ends(valve.at).map(|end| end.far).collect();
        let [one, other] = far[..] else { return false };
        !is_valve(one) && !is_valve(other) && stretches.equiv(one.index(), other.index())
    };
    let outlets = match network.drops.len() {
        1 => "the outlet".to_owned(),
        2 => "both outlets".to_owned(),
        count => format!("all {count} outlets"),
    };
    let without = whole_ring.then(|| Found {
        span: closing(context),
        message: if network.valves.is_empty() {
            format!("no line valve stands in the ring: one leak takes the air from {outlets}")
        } else {
            "a ring has no line valve: a leak in it can be shut off nowhere".to_owned()
        },
    });
    let single = network.valves.iter().filter(alone).map(|valve| Found {
        span: network.node(valve.at).span,
        message: format!(
            "`{}` is the only line valve of its ring, and a stretch is shut off at both its ends: one leak still takes the air from the whole ring",
            valve.name
        ),
    });
    without.into_iter().chain(single).collect()
}

/// The leg that closes the last ring ends where something stands already.
fn closing(context: Context<'_>) -> Span {
    let network = context.network;
    let mut joined = UnionFind::<usize>::new(network.node_count());
    let closing = network
        .links()
        .filter(|(_, from, to, _)| !joined.union(from.index(), to.index()))
        .filter_map(|(.., link)| link.leg)
        .max();
    let end = closing.and_then(|leg| context.job.legs[leg].to.as_ref());
    end.map_or(context.job.supplies[0].name.span, |end| end.span)
}
