//! What water does at one place.

use super::map::EndKind;
use crate::job::Direction;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId, NodeKind, Origin, Owner, Spot};

/// Where water goes on from a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// To a lower place.
    On(NodeId),
    /// Nowhere: it ends here.
    End(EndKind),
}

/// Devices through which nothing runs back to the tank.
const ONE_WAY: [&str; 5] = ["check", "filter", "regulator", "lubricator", "dryer"];

/// What water does that has come to a place.
pub(super) fn step(network: &Network, library: &Library, place: NodeId) -> Step {
    let node = network.node(place);
    match node.kind {
        NodeKind::Port { .. } => Step::End(EndKind::Tank),
        NodeKind::Device { .. } => Step::End(at_device(network, library, place, node.origin)),
        NodeKind::Fitting(_) => match way_down(network, place) {
            Some(lower) => Step::On(lower),
            None => Step::End(without_way(network, place)),
        },
    }
}

fn at_device(network: &Network, library: &Library, place: NodeId, origin: Origin) -> EndKind {
    match (origin.owner, origin.spot) {
        (Owner::Supply, _) if runs_back(network, library) => EndKind::Tank,
        (Owner::Supply | Owner::Leg(_), _) => EndKind::Pocket,
        (Owner::Drain(drain), _) => EndKind::Drain(network.drains[drain].name.clone()),
        (Owner::Outlet(outlet), Spot::DripLeg) => {
            EndKind::Drain(network.drops[outlet].name.clone())
        }
        (Owner::Outlet(_), _) => EndKind::Tool(network.place(place)),
    }
}

/// Whether what runs back reaches the tank through everything between.
fn runs_back(network: &Network, library: &Library) -> bool {
    network.nodes().all(|(_, node)| match node.kind {
        NodeKind::Device { device, .. } if node.origin.owner == Owner::Supply => {
            !ONE_WAY.contains(&library.devices()[device].name.as_str())
        }
        _ => true,
    })
}

/// The lower place to which water leaves: straight down first, else along the
/// first pipe that falls away, in the order of the walk.
fn way_down(network: &Network, place: NodeId) -> Option<NodeId> {
    let here = network.node(place).at.up;
    network
        .ends(place)
        .filter(|end| network.link(end.link).pipe.is_some() && network.node(end.far).at.up < here)
        .min_by_key(|end| (end.direction != Direction::Down, end.link))
        .map(|end| end.far)
}

/// An elbow at the foot of a drop sends its water to the tool; everything else
/// without a way down holds it.
fn without_way(network: &Network, place: NodeId) -> EndKind {
    let tool = network.ends(place).find(|end| {
        let far = network.node(end.far);
        network.link(end.link).pipe.is_none() && matches!(far.origin.spot, Spot::Side(..))
    });
    match tool {
        Some(end) => EndKind::Tool(network.place(end.far)),
        None => EndKind::Pocket,
    }
}

/// The end of a pipe to which its own water runs; none where it stands.
pub(super) fn low_end(network: &Network, link: LinkId, ends: [NodeId; 2]) -> Option<NodeId> {
    let [first, second] = ends;
    let (a, b) = (network.node(first).at.up, network.node(second).at.up);
    if a != b {
        return Some(if a < b { first } else { second });
    }
    // A level reach runs over the edge where its drop goes down; level main
    // sags between its hangers and holds its water.
    if network.link(link).main {
        return None;
    }
    [second, first]
        .into_iter()
        .find(|end| way_down(network, *end).is_some())
}
