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
pub(crate) const ONE_WAY: [&str; 5] = ["check", "filter", "regulator", "lubricator", "dryer"];

/// What water does that has come to a place.
pub(super) fn step(network: &Network, library: &Library, place: NodeId) -> Step {
    let node = network.node(place);
    match node.kind {
        NodeKind::Port { .. } => Step::End(EndKind::Tank),
        NodeKind::Device { .. } if !network.is_in_line(place) => {
            Step::End(at_device(network, library, place, node.origin))
        }
        NodeKind::Fitting(_) | NodeKind::Device { .. } => match ways_down(network, place).first() {
            Some(lower) => Step::On(*lower),
            None => Step::End(without_way(network, place)),
        },
    }
}

fn at_device(network: &Network, library: &Library, place: NodeId, origin: Origin) -> EndKind {
    match (origin.owner, origin.spot) {
        (Owner::Supply(supply), _) if runs_back(network, library, supply) => EndKind::Tank,
        (Owner::Supply(_) | Owner::Leg(_), _) => EndKind::Pocket,
        (Owner::Drain(drain), _) => EndKind::Drain(network.drains[drain].name.clone()),
        (Owner::Outlet(outlet), Spot::DripLeg) => {
            EndKind::Drain(network.drops[outlet].name.clone())
        }
        (Owner::Outlet(_), _) => EndKind::Tool(network.place(place)),
    }
}

/// Whether what runs back to a supply reaches its tank through everything between.
fn runs_back(network: &Network, library: &Library, supply: usize) -> bool {
    network.nodes().all(|(_, node)| match node.kind {
        NodeKind::Device { device, .. } if node.origin.owner == Owner::Supply(supply) => {
            !ONE_WAY.contains(&library.devices()[device].name.as_str())
        }
        _ => true,
    })
}

/// The lower places to which water may leave: straight down, which takes all;
/// else along every pipe that falls away, first the one whose next place lies
/// lowest, which no order of the file changes; else over the edge of a level reach into its drop, but not from level
/// main, which holds what it has.
pub(super) fn ways_down(network: &Network, place: NodeId) -> Vec<NodeId> {
    let mut ways = falling(network, place);
    if ways.is_empty() && level_main(network, place).next().is_none() {
        ways = network
            .ends(place)
            .filter(|end| is_reach(network, end.link))
            .flat_map(|end| falling(network, end.far))
            .collect();
    }
    ways
}

fn falling(network: &Network, place: NodeId) -> Vec<NodeId> {
    let here = network.node(place).at.up;
    let mut lower: Vec<_> = network
        .ends(place)
        .filter(|end| network.link(end.link).pipe.is_some() && network.node(end.far).at.up < here)
        .collect();
    lower.sort_by_key(|end| {
        let far = network.node(end.far).at.up;
        (end.direction != Direction::Down, far, end.link)
    });
    if lower
        .first()
        .is_some_and(|end| end.direction == Direction::Down)
    {
        lower.truncate(1);
    }
    lower.into_iter().map(|end| end.far).collect()
}

/// Whether a link is the level pipe by which a drop stands over from the main.
fn is_reach(network: &Network, link: LinkId) -> bool {
    let link = network.link(link);
    link.pipe.is_some() && !link.is_main() && link.direction.is_level()
}

/// The places to which level main leads.
pub(super) fn level_main(network: &Network, place: NodeId) -> impl Iterator<Item = NodeId> {
    let here = network.node(place).at.up;
    network
        .ends(place)
        .filter(move |end| network.link(end.link).is_main() && network.node(end.far).at.up == here)
        .map(|end| end.far)
}

/// An elbow at the foot of a drop sends its water to the tool; what comes down
/// on level main stands there with the main's own; everything else without a
/// way down holds it.
fn without_way(network: &Network, place: NodeId) -> EndKind {
    let tool = network.ends(place).find(|end| {
        let far = network.node(end.far);
        network.link(end.link).pipe.is_none() && matches!(far.origin.spot, Spot::Side(..))
    });
    match tool {
        Some(end) => EndKind::Tool(network.place(end.far)),
        None if level_main(network, place).next().is_some() => EndKind::Level,
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
    if network.link(link).is_main() {
        return None;
    }
    [second, first]
        .into_iter()
        .find(|end| !ways_down(network, *end).is_empty())
}
