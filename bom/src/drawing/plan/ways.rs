//! Which way air flows and water runs in level main.

use super::level::Straight;
use crate::Plan;
use crate::network::{LinkId, NodeId};
use std::collections::BTreeMap;

/// A stretch of a straight with one way along it.
#[derive(Debug)]
pub(super) struct Stretch {
    links: Vec<LinkId>,
    /// The ends of its longest link, in the way's order; of equal ones in the middle.
    pub(super) from: NodeId,
    pub(super) to: NodeId,
    /// The ends of the whole stretch, in the way's order.
    pub(super) first: NodeId,
    pub(super) last: NodeId,
}

/// For each link the place to which its air flows: the way that is shortest from a
/// tank. A link in which two ways meet has none.
pub(super) fn flows(plan: &Plan) -> BTreeMap<LinkId, NodeId> {
    let ways = plan.network.shortest_ways();
    ways.into_iter().map(|(to, link)| (link, to)).collect()
}

/// The stretches along a straight in which air flows one way.
pub(super) fn flowing(
    plan: &Plan,
    flows: &BTreeMap<LinkId, NodeId>,
    of: &Straight,
) -> Vec<Stretch> {
    stretches(plan, of, |link, [from, _]| {
        flows.get(&link).map(|to| *to != from)
    })
}

/// The stretches along a straight that fall one way.
pub(super) fn falling(plan: &Plan, of: &Straight) -> Vec<Stretch> {
    let height = |id: NodeId| plan.network.node(id).at.up;
    stretches(plan, of, |_, [from, to]| {
        (height(from) != height(to)).then(|| height(from) > height(to))
    })
}

fn stretches(
    plan: &Plan,
    of: &Straight,
    onwards: impl Fn(LinkId, [NodeId; 2]) -> Option<bool>,
) -> Vec<Stretch> {
    let mut found: Vec<(bool, Stretch)> = Vec::new();
    let mut open = false;
    let length = |link: LinkId| plan.network.link(link).pipe;
    for link in &of.links {
        let ends = plan.network.ends_of(*link);
        let Some(onwards) = onwards(*link, ends) else {
            open = false;
            continue;
        };
        let [from, to] = if onwards { ends } else { [ends[1], ends[0]] };
        match found.last_mut().filter(|(way, _)| open && *way == onwards) {
            Some((_, last)) => {
                if onwards {
                    last.last = to;
                } else {
                    last.first = from;
                }
                last.links.push(*link);
            }
            None => found.push((
                onwards,
                Stretch {
                    links: vec![*link],
                    from,
                    to,
                    first: from,
                    last: to,
                },
            )),
        }
        open = true;
    }
    let chosen = found.into_iter().map(|(onwards, mut stretch)| {
        let most = stretch.links.iter().map(|link| length(*link)).max();
        let longest = stretch
            .links
            .iter()
            .filter(|link| Some(length(**link)) == most);
        let longest: Vec<&LinkId> = longest.collect();
        if let Some(link) = longest.get(longest.len() / 2) {
            let [from, to] = plan.network.ends_of(**link);
            (stretch.from, stretch.to) = if onwards { (from, to) } else { (to, from) };
        }
        stretch
    });
    chosen.collect()
}
