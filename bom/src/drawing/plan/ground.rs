//! The ground that a level needs, and on paper round it.

use super::super::Scene;
use super::super::shape::{Area, At};
use super::level::Level;
use super::tanks::{connects, outwards, reach};
use crate::network::Point;

/// Round the rooms, for walls and dimensions.
const MARGIN: f64 = 15.5;
/// The same to the east and south, where no room is measured.
const OUTER: f64 = 11.0;
/// Round the end of a tank's sign.
const NAME: f64 = 6.0;

/// What has to be laid out: the ground in millimetres of the shop, and the margins
/// that its tanks need beyond [`MARGIN`].
#[derive(Debug)]
pub(super) struct Ground {
    pub(super) west: f64,
    pub(super) north: f64,
    pub(super) across: f64,
    pub(super) down: f64,
    /// Each tank's port with how far its sign reaches, and by scale to which side.
    tanks: Vec<(usize, Point, f64)>,
}

impl Ground {
    pub(super) fn of(scene: &Scene<'_>, level: &Level) -> Option<Self> {
        let extent = level.extent(scene.plan)?;
        let network = &scene.plan.network;
        let ports = network.ports().enumerate();
        let here = ports.filter(|(supply, _)| level.has_supply(scene.plan, *supply));
        let tanks = here.map(|(supply, port)| {
            let nodes = network.nodes();
            let devices = nodes.filter(|(_, node)| connects(&node.kind, node.origin.owner, supply));
            let far = reach(devices.count()) + 5.5;
            (supply, network.node(port).at, far)
        });
        Some(Self {
            west: extent.west.mm(),
            north: extent.north.mm(),
            across: (extent.east - extent.west).mm(),
            down: (extent.north - extent.south).mm(),
            tanks: tanks.collect(),
        })
    }

    /// The whole of it on paper with its margins, from where the ground begins.
    pub(super) fn paper(&self, scene: &Scene<'_>, level: &Level, per: f64) -> Area {
        let mut area = Area {
            left: -MARGIN,
            top: -MARGIN,
            right: self.across / per + OUTER,
            bottom: self.down / per + OUTER,
        };
        for (supply, port, far) in &self.tanks {
            let way = outwards(scene.plan, level, *supply, per);
            let at = At::new(
                (port.east.mm() - self.west) / per,
                (self.north - port.north.mm()) / per,
            );
            let end = at.by(way.0 * far, way.1 * far);
            // Rooms are measured where no tank stands.
            if end.x < 0.0 {
                (area.left, area.right) = (-OUTER, self.across / per + MARGIN);
            }
            if end.y < 0.0 {
                (area.top, area.bottom) = (-OUTER, self.down / per + MARGIN);
            }
            // Its name stands there too.
            area = area.with(&Area::of(end, end).grown(NAME));
        }
        area
    }
}
