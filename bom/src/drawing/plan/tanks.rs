//! The tanks with their connections, which have no length on the ground: signs in a
//! row, out of the way of the main.

use super::super::shape::{At, Fill, Shape, Stroke};
use super::super::symbol::{Symbol, symbol};
use super::draft::Draft;
use super::level::Level;
use super::things::{Labels, Thing, bold, drawn};
use super::view::{moved, way};
use crate::Plan;
use crate::job::Direction;
use crate::network::{NodeKind, Owner, Point};

/// From the middle of one device of a connection to the next.
const PITCH: f64 = 6.6;

impl Draft<'_> {
    /// The tanks with what connects them, a row of signs from the port outwards.
    pub(super) fn tanks(&self) -> Vec<Thing> {
        let plan = self.scene.plan;
        let network = &plan.network;
        let mut things = Vec::new();
        for (supply, port) in network.ports().enumerate() {
            let at = self.view.at(network.node(port).at);
            if !self.view.owns(at) || !self.level.has_supply(plan, supply) {
                continue;
            }
            let out = outwards(plan, self.level, supply, self.view.per);
            let mut here = at;
            let mut devices: Vec<_> = network
                .nodes()
                .filter(|(_, node)| node.origin.owner == Owner::Supply(supply))
                .filter_map(|(id, node)| match node.kind {
                    NodeKind::Device { device, .. } => {
                        Some((id, &self.scene.library.devices()[device].name))
                    }
                    NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
                })
                .collect();
            devices.reverse();
            let mut sign = Vec::new();
            let far = reach(devices.len());
            let beside = (-out.1.abs(), -out.0.abs());
            let beside = self.inwards(network.node(port).at, beside);
            let tank = at.by(out.0 * far, out.1 * far);
            sign.push(Shape::line(Stroke::WIDE, vec![at, tank]));
            for (number, (id, name)) in devices.iter().enumerate() {
                let step = if number == 0 { PITCH * 0.9 } else { PITCH };
                here = here.by(out.0 * step, out.1 * step);
                let half = symbol(name).map_or(0.0, Symbol::half);
                let mut shapes = vec![Shape::Path {
                    points: box_round(here, half, 1.3),
                    closed: true,
                    stroke: None,
                    fill: Fill::Paper,
                }];
                shapes.extend(drawn(name, here, (-out.0, -out.1)));
                match self.tags.valves.iter().find(|(place, ..)| place == id) {
                    Some((_, tag, _)) => things.push(Thing {
                        id: format!("valve-{tag}"),
                        title: format!("Valve {tag}, at {}", network.supplies[supply].0),
                        sign: shapes,
                        labels: Labels::Plain(bold(here, 2.2, beside, tag.clone())),
                    }),
                    None => sign.extend(shapes),
                }
            }
            sign.extend(drawn("tank", tank, out));
            let name = network.supplies[supply].0.clone();
            let across = if out.0.abs() > 0.5 {
                (0.0, 1.0)
            } else {
                (1.0, 0.0)
            };
            things.insert(
                0,
                Thing {
                    id: format!("tank-{}", supply + 1),
                    title: format!("Tank of {name}"),
                    sign,
                    labels: Labels::Plain(bold(tank, 3.4, across, name)),
                },
            );
        }
        things
    }
}

fn box_round(at: At, across: f64, down: f64) -> Vec<At> {
    vec![
        at.by(-across, -down),
        at.by(across, -down),
        at.by(across, down),
        at.by(-across, down),
    ]
}

/// How far the middle of a tank's sign lies from its port, behind so many devices.
pub(super) fn reach(devices: usize) -> f64 {
    (0..devices).map(|_| PITCH).sum::<f64>() + 7.0
}

/// To which side of its port a tank is drawn: away from its main and out of the way of
/// all pipe there, and not through a wall if that can be.
pub(super) fn outwards(plan: &Plan, level: &Level, supply: usize, per: f64) -> (f64, f64) {
    let network = &plan.network;
    let of = |owner| owner == Owner::Supply(supply);
    let port = network
        .ports()
        .nth(supply)
        .map(|port| network.node(port).at);
    let port = port.unwrap_or_default();
    // The first level main from there goes on to the other side.
    let near = |at: Point| (at.east, at.north) == (port.east, port.north);
    let mut taken: Vec<Direction> = Vec::new();
    for straight in &level.straights {
        let ends = [straight.places.first(), straight.places.last()];
        for (end, back) in ends.into_iter().flatten().zip([false, true]) {
            let node = network.node(*end);
            if near(node.at) || of(node.origin.owner) {
                taken.push(if back {
                    straight.direction.opposite()
                } else {
                    straight.direction
                });
            }
        }
    }
    let sides = [
        Direction::West,
        Direction::South,
        Direction::East,
        Direction::North,
    ];
    let away = taken.first().map(|direction| direction.opposite());
    let free = away.into_iter().chain(sides);
    let free: Vec<Direction> = free
        .filter(|side| sides.contains(side) && !taken.contains(side))
        .collect();
    let devices = network.nodes();
    let devices = devices.filter(|(_, node)| connects(&node.kind, node.origin.owner, supply));
    let far = (reach(devices.count()) + 5.0) * per;
    let stays = |side: &&Direction| {
        let way = way(**side);
        let across = (way.1, way.0);
        let ends = [3.0, -3.0].map(|off| moved(moved(port, way, far), across, off * per));
        let mut rooms = level.rooms.iter().map(|room| &room.inside);
        rooms.all(|inside| {
            ends.iter()
                .all(|end| inside.holds(port) == inside.holds(*end))
        })
    };
    let side = free.iter().find(stays).or(free.first());
    way(side.copied().unwrap_or(Direction::West))
}

/// Whether a device is a part of a supply's connection.
pub(super) fn connects(kind: &NodeKind, owner: Owner, supply: usize) -> bool {
    matches!(kind, NodeKind::Device { .. }) && owner == Owner::Supply(supply)
}
