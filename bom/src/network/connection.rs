//! From the tank's port to the end of the pipe: what `connect` says.

use super::route::{Draft, DraftKind, DraftLink, DraftNode};
use super::{Origin, Owner, Point, Spot};
use crate::job::{DeviceUse, Direction, Job, SizeChoice};
use crate::library::Library;
use crate::quantity::Length;
use crate::source::Spanned;
use petgraph::graph::NodeIndex;

/// Adds the port and the devices of every supply; returns the nodes from which
/// their first legs start.
pub(super) fn add_all(job: &Job, library: &Library, draft: &mut Draft) -> Vec<NodeIndex> {
    (0..job.supplies.len())
        .map(|number| add(job, number, library, draft))
        .collect()
}

fn add(job: &Job, number: usize, library: &Library, draft: &mut Draft) -> NodeIndex {
    let supply = &job.supplies[number];
    let at = Point {
        up: supply.height.value,
        ..Point::default()
    };
    let origin = |spot| Origin {
        owner: Owner::Supply(number),
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

/// The names of the devices that connect each supply, outwards.
pub(super) fn names(job: &Job, library: &Library) -> Vec<Vec<String>> {
    let name = |used: &Spanned<DeviceUse>| library.devices()[used.value.device].name.clone();
    let supplies = job.supplies.iter();
    supplies
        .map(|supply| supply.connect.iter().map(name).collect())
        .collect()
}

/// Height of the pipe where the first level straight from the first supply
/// begins.
pub(super) fn height_of_first_level(job: &Job) -> Option<Length> {
    let supply = &job.supplies[0];
    let first = job.legs_from(supply).next()?;
    let mut height = supply.height.value;
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
