//! Branches that are closed: where something is to come, or has been.

use super::drops::Builder;
use super::route::{DraftKind, DraftNode, Route};
use super::states::Plugged;
use super::{Link, LinkId, NodeId, Origin, Owner, Spot, ends};
use crate::job::{Direction, Plug, PlugOf, State, TakeOff};
use petgraph::graph::NodeIndex;
use std::collections::{BTreeMap, BTreeSet};

/// What the building of plugs has found of what stands.
#[derive(Debug, Default)]
pub(super) struct DraftStates {
    pub(super) plugs: BTreeMap<LinkId, State>,
    pub(super) opened: BTreeSet<NodeId>,
    pub(super) standing: BTreeSet<NodeId>,
}

impl Builder<'_> {
    /// Closes every branch that nothing leaves. Drops and drains stand already, so that
    /// what goes into a free branch is seen.
    pub(super) fn plugs(&mut self, route: &Route) -> (Vec<Plugged>, DraftStates) {
        let job = self.job;
        let mut plugged = Vec::new();
        let mut states = DraftStates::default();
        // By places, whatever the file says of itself and what follows from it.
        let mut plugs: Vec<&Plug> = job.plugs.iter().collect();
        plugs.sort_by_key(|plug| route.places.get(&plug.place).map(|place| place.node));
        for plug in plugs {
            let Some(place) = route.places.get(&plug.place) else {
                continue;
            };
            let node = place.node;
            let (Some(leg), DraftKind::Place) = (place.leg, self.graph[node].kind) else {
                continue;
            };
            let found: Vec<_> = ends(&self.graph, node).collect();
            let Some(direction) = self.way_of(plug, node) else {
                continue;
            };
            if let Some(taken) = found.iter().find(|end| end.direction == direction) {
                let link = &self.graph[taken.link.0];
                if plug.size.is_none_or(|size| size == link.size) {
                    states.standing.insert(NodeId(node));
                }
                continue;
            }
            if found.len() < 2 {
                if plug.state == State::New {
                    states.opened.insert(NodeId(node));
                }
                continue;
            }
            let system = plug.system.unwrap_or_else(|| self.system_at(node));
            let size = plug.size.unwrap_or_else(|| self.main_size(node, system));
            let at = self.graph[node].at;
            let closed = self.graph.add_node(DraftNode {
                at,
                kind: DraftKind::Place,
                origin: Origin {
                    owner: Owner::Leg(leg),
                    spot: Spot::Plug,
                },
            });
            let link = self.graph.add_edge(
                node,
                closed,
                Link {
                    pipe: None,
                    size,
                    system,
                    direction,
                    leg: None,
                },
            );
            states.plugs.insert(LinkId(link), plug.state);
            plugged.push(Plugged {
                name: plug.name.clone(),
                at: NodeId(node),
                plug: NodeId(closed),
                of: plug.of,
                to_come: plug.to_come,
            });
        }
        (plugged, states)
    }

    /// The direction in which a plugged branch leaves the main.
    fn way_of(&self, plug: &Plug, node: NodeIndex) -> Option<Direction> {
        match plug.of {
            PlugOf::Leg(direction) => Some(direction),
            PlugOf::Drain => Some(Direction::Down),
            PlugOf::Drop(kind) => match self.job.drops.get(kind)?.take_off {
                TakeOff::Top => Some(Direction::Up),
                TakeOff::Bottom => Some(Direction::Down),
                TakeOff::Side => {
                    let main = self.level_direction(node)?;
                    Some(self.free_side(node, main))
                }
            },
        }
    }
}
