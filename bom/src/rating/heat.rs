//! How hot every place is: the air cools on its way from the tank.

use super::zones::Conditions;
use crate::air::Site;
use crate::air::cooling::{BARE_PIPE, cooled, surface};
use crate::network::{Network, NodeId, NodeKind};
use crate::quantity::Temperature;
use crate::system::System;

/// Air as it leaves the tank where the job does not say. Common practice, no
/// source.
const DISCHARGE: Temperature = Temperature::from_fahrenheit(150);
/// Air around the pipe where the job does not say. Common practice, no source.
const AMBIENT: Temperature = Temperature::from_fahrenheit(100);

/// The temperatures of a network.
#[derive(Debug)]
pub(super) struct Heat {
    /// The outside of the pipe on the way from the tank to each node, m2, on
    /// the way that has least: along it the air stays hottest.
    surfaces: Vec<f64>,
    discharge: Temperature,
    ambient: Temperature,
    kg_per_s: Option<f64>,
}

impl Heat {
    /// Walks from the tank's port to every node. The whole free air takes every
    /// way, which leaves it hotter than any share of it.
    pub(super) fn new(
        network: &Network,
        systems: &[System],
        conditions: &Conditions,
        assumptions: &mut Vec<String>,
    ) -> Self {
        let units = network.units;
        let ambient = conditions.ambient.unwrap_or_else(|| {
            assumptions.push(format!(
                "the air around the pipe is at {} (common practice, no source)",
                AMBIENT.show(units)
            ));
            AMBIENT
        });
        let discharge = conditions.discharge.unwrap_or_else(|| {
            assumptions.push(format!(
                "the air leaves the tank at {} (common practice, no source)",
                DISCHARGE.show(units)
            ));
            DISCHARGE
        });
        assumptions.push(match conditions.free_air {
            Some(_) => format!(
                "the air cools on its way as in bare pipe that loses {BARE_PIPE} W/(m2 K) \
                 (handbook figure, from memory)"
            ),
            None => "no free air is stated: the air is as hot everywhere as at the tank".to_owned(),
        });
        Self {
            surfaces: surfaces(network, systems),
            // Pipe in which nothing flows is as hot as what surrounds it.
            discharge: discharge.max(ambient),
            ambient,
            kg_per_s: conditions.free_air.map(|flow| Site::SEA_LEVEL.mass(flow)),
        }
    }

    /// The temperature at a node.
    pub(super) fn at(&self, node: NodeId) -> Temperature {
        self.kg_per_s.map_or(self.discharge, |kg_per_s| {
            let surface = self.surfaces[node.index()];
            cooled(self.discharge, self.ambient, kg_per_s, surface, BARE_PIPE)
        })
    }

    /// The hotter of two nodes; the first where they are equally hot.
    pub(super) fn hotter(&self, first: NodeId, second: NodeId) -> NodeId {
        if self.surfaces[second.index()] < self.surfaces[first.index()] {
            second
        } else {
            first
        }
    }
}

/// The least surface of pipe on the way from the port to each node.
fn surfaces(network: &Network, systems: &[System]) -> Vec<f64> {
    let links: Vec<(usize, usize, f64)> = network
        .links()
        .map(|(_, from, to, link)| {
            let row = systems[link.system].row(link.size);
            let pipe = link.pipe.zip(row);
            let surface = pipe.map_or(0.0, |(length, row)| surface(length, row.outside));
            (from.index(), to.index(), surface)
        })
        .collect();
    let mut surfaces = vec![f64::INFINITY; network.node_count()];
    for (id, node) in network.nodes() {
        if matches!(node.kind, NodeKind::Port { .. }) {
            surfaces[id.index()] = 0.0;
        }
    }
    // Links stand in walking order, so that few rounds are needed.
    let mut changed = true;
    while changed {
        changed = false;
        for (from, to, surface) in &links {
            for (near, far) in [(*from, *to), (*to, *from)] {
                let way = surfaces[near] + surface;
                if way < surfaces[far] {
                    surfaces[far] = way;
                    changed = true;
                }
            }
        }
    }
    surfaces
}
