//! From the tank's port to the end of the pipe: what `connect` says.

use super::route::{Draft, DraftKind, DraftLink, DraftNode};
use super::{Origin, Owner, Point, Spot};
use crate::job::{Direction, Job, SizeChoice};
use crate::library::Library;
use crate::quantity::Length;
use petgraph::graph::NodeIndex;

/// Adds the port and the devices; returns the node from which the first leg
/// starts.
pub(super) fn add(job: &Job, library: &Library, draft: &mut Draft) -> NodeIndex {
    let supply = &job.supply;
    let at = Point {
        up: supply.height.value,
        ..Point::default()
    };
    let origin = |spot| Origin {
        owner: Owner::Supply,
        spot,
    };
    let mut here = draft.add_node(DraftNode {
        at,
        kind: DraftKind::Port {
            size: supply.port,
            gender: supply.port_gender,
        },
        origin: origin(Spot::Port),
    });
    let mut line = supply.port;
    for (index, used) in supply.connect.iter().enumerate() {
        let device = &library.devices()[used.value.device];
        line = used.value.size.unwrap_or_else(|| device.size_on(line));
        let node = draft.add_node(DraftNode {
            at,
            kind: DraftKind::Device {
                device: used.value.device,
                size: line,
                length: used.value.length,
            },
            origin: origin(Spot::Connection(index + 1)),
        });
        draft.add_edge(
            here,
            node,
            DraftLink {
                pipe: None,
                direction: Direction::Up,
                size: SizeChoice::Given(line),
                system: job.system,
                leg: None,
            },
        );
        here = node;
    }
    here
}

/// Height of the pipe where the first level straight begins.
pub(super) fn height_of_first_level(job: &Job) -> Option<Length> {
    let first = job.legs.iter().find(|leg| {
        leg.from
            .as_ref()
            .is_some_and(|from| from.value == job.supply.name.value)
    })?;
    let mut height = job.supply.height.value;
    for straight in &first.straights {
        if straight.value.direction.is_level() {
            break;
        }
        height += straight
            .value
            .direction
            .displacement(straight.value.length)
            .2;
    }
    Some(height)
}
