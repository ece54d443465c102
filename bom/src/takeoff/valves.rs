//! Line valves: what joins them to the pipe on both sides, and how much of it
//! they take up.

use super::runs::Run;
use crate::fitting::{End, Join, Mating};
use crate::job::Unions;
use crate::library::{Gender, Library};
use crate::network::{LinkId, Network, NodeId, NodeKind};
use crate::quantity::Length;
use crate::system::Metal;

/// Whether a straight begins or ends at a union of a line valve.
pub(super) fn opens(network: &Network, run: &Run) -> bool {
    let [first, last] = run.links;
    has_union(network, run.from, first) || has_union(network, run.to, last)
}

/// Whether a union stands between a line valve and this pipe: on the side away
/// from the tank, where the job wants what stands in the pipe to come out.
fn has_union(network: &Network, node: NodeId, link: LinkId) -> bool {
    network.unions == Unions::Service
        && network
            .valve_at(node)
            .is_some_and(|valve| valve.upstream != link)
}

/// What joins a line valve to its pipe; none if no part makes a step between
/// them.
pub(super) fn join(
    network: &Network,
    library: &Library,
    node: NodeId,
    link: LinkId,
) -> Option<Join> {
    let NodeKind::Device { device, size, .. } = network.node(node).kind else {
        return None;
    };
    let pipe = network.link(link);
    let mating = Mating {
        library,
        home: pipe.system,
        unlike: network.unlike,
    };
    let valve = End::thread(library.devices()[device].inlet, size, Metal::Brass);
    if has_union(network, node, link) {
        return mating.close_loop(valve, pipe.system, pipe.size);
    }
    let end = End::of(library, pipe.system, Gender::Male, pipe.size);
    mating.join(valve, end)
}

/// From the valve's middle to the end of the pipe.
pub(super) fn take_out(
    network: &Network,
    library: &Library,
    node: NodeId,
    link: LinkId,
) -> Length {
    let NodeKind::Device { device, size, .. } = network.node(node).kind else {
        return Length::ZERO;
    };
    let length = library.devices()[device].length(size).unwrap_or_default();
    let between = join(network, library, node, link)
        .and_then(|join| beyond(&join, library))
        .unwrap_or_default();
    length.scaled(1, 2) + between
}

/// From the valve's face to the end of the pipe: what stands between, less what
/// goes in at each joint. None where that has an adapter, which is not taken off.
fn beyond(join: &Join, library: &Library) -> Option<Length> {
    let mut length = Length::ZERO;
    for (part, system, size) in &join.parts {
        let row = library.systems()[*system].row(size.largest()?)?;
        length += match *part {
            "close-nipple" => row.shortest,
            "union" => row.union,
            "coupling" | "reducer" => row.coupling,
            // It goes into the port with its whole thread.
            "bushing" => row.make_up,
            _ => return None,
        };
    }
    for (system, _, size) in &join.joints {
        length = length - library.systems()[*system].row(*size)?.make_up;
    }
    Some(length)
}
