//! Straights of pipe between fittings, and which of them close a ring.

use super::valves;
use crate::job::State;
use crate::library::Library;
use crate::network::{End, LinkId, Network, NodeId};
use crate::quantity::{Length, Size};
use petgraph::unionfind::UnionFind;

/// Pipe of one size from one fitting (or device, or end) to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) from: NodeId,
    pub(super) to: NodeId,
    pub(super) size: Size,
    /// Index of its system.
    pub(super) system: usize,
    /// Centre to centre.
    pub(super) length: Length,
    /// The links with which it begins and ends.
    pub(super) links: [LinkId; 2],
    /// Whether it gets the union of a ring.
    pub(super) closes_ring: bool,
}

/// Every straight, in walking order.
pub(super) fn runs(network: &Network, library: &Library) -> Vec<Run> {
    let mut seen = vec![false; network.link_count()];
    let mut runs = Vec::new();
    for (id, from, to, link) in network.links() {
        let Some(length) = link.pipe else { continue };
        if std::mem::replace(&mut seen[id.index()], true) {
            continue;
        }
        let mut run = Run {
            from,
            to,
            size: link.size,
            system: link.system,
            length,
            links: [id, id],
            closes_ring: false,
        };
        (run.from, run.links[0]) = follow(network, &mut seen, id, from, &mut run.length);
        (run.to, run.links[1]) = follow(network, &mut seen, id, to, &mut run.length);
        runs.push(run);
    }
    close_rings(network, library, &mut runs);
    runs
}

/// Goes on through places where pipe runs straight through; returns the end and
/// the link that comes to it.
fn follow(
    network: &Network,
    seen: &mut [bool],
    mut by: LinkId,
    mut at: NodeId,
    length: &mut Length,
) -> (NodeId, LinkId) {
    while network.runs_through(at, by) {
        let through = |end: &End| {
            end.link != by && network.runs_through(at, end.link) && !seen[end.link.index()]
        };
        let Some(next) = network.ends(at).find(through) else {
            break;
        };
        seen[next.link.index()] = true;
        *length += network.link(next.link).pipe.unwrap_or_default();
        by = next.link;
        at = next.far;
    }
    (at, by)
}

/// Marks one run of every independent ring: the smallest, and among those the
/// longest. A spanning tree that prefers large and short runs leaves exactly
/// these out, however the runs are ordered. Tube slides into its sockets: a
/// ring with tube in it closes without a union, and so does one in which a
/// line valve has its own.
fn close_rings(network: &Network, library: &Library, runs: &mut [Run]) {
    let mut joined = UnionFind::<usize>::new(network.node_count());
    for (_, from, to, link) in network.links() {
        if link.pipe.is_none() {
            joined.union(from.index(), to.index());
        }
    }
    let turned =
        |run: &Run| library.systems()[run.system].is_threaded() && !valves::opens(network, run);
    let mut order: Vec<usize> = (0..runs.len()).collect();
    order.retain(|index| turned(&runs[*index]));
    order.sort_by_key(|index| {
        let run = &runs[*index];
        // What stands is not opened where new pipe can have the union.
        let new = network.link_state(run.links[0]) == State::New;
        (new, std::cmp::Reverse(run.size), run.length, *index)
    });
    for index in order {
        let run = &mut runs[index];
        run.closes_ring = !joined.union(run.from.index(), run.to.index());
    }
}
