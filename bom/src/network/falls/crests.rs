//! Places where pipe is highest between two others.

use crate::network::route::{Draft, DraftKind, DraftLink, DraftNode};
use crate::network::{Origin, Owner, Spot};
use crate::quantity::Length;
use petgraph::graph::EdgeIndex;
use petgraph::visit::EdgeRef;
use std::collections::BTreeMap;

/// The highest place inside a pipe that falls to both its ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Crest {
    /// Along the pipe from its first node.
    pub(super) along: Length,
    /// How far it lies below where a level main would have it.
    pub(super) drop: Length,
}

/// Stands a place on each crest. Nodes keep their numbers, and pipes their
/// order, so that the count does not see it.
pub(super) fn stand(
    draft: &mut Draft,
    crests: &BTreeMap<EdgeIndex, Crest>,
    drop: &mut Vec<Option<Length>>,
) {
    if crests.is_empty() {
        return;
    }
    let mut split = Draft::with_capacity(
        draft.node_count() + crests.len(),
        draft.edge_count() + crests.len(),
    );
    for node in draft.node_weights() {
        split.add_node(*node);
    }
    for edge in draft.edge_references() {
        let link = *edge.weight();
        let (Some(crest), Some(length), Some(leg)) = (crests.get(&edge.id()), link.pipe, link.leg)
        else {
            split.add_edge(edge.source(), edge.target(), link);
            continue;
        };
        let part = |length| DraftLink {
            pipe: Some(length),
            ..link
        };
        let top = split.add_node(DraftNode {
            at: draft[edge.source()]
                .at
                .moved(link.direction.displacement(crest.along)),
            kind: DraftKind::Place,
            origin: Origin {
                owner: Owner::Leg(leg),
                spot: Spot::Crest,
            },
        });
        drop.push(Some(crest.drop));
        split.add_edge(edge.source(), top, part(crest.along));
        split.add_edge(top, edge.target(), part(length - crest.along));
    }
    *draft = split;
}
