//! How hot every place is: the air cools on its way from the tank.

use super::zones::Conditions;
use crate::air::cooling::{BARE_PIPE, MoistAir, Wall, surface};
use crate::air::moisture::saturation_ratio;
use crate::job::USUAL_CUT_IN;
use crate::network::{Network, NodeId, NodeKind};
use crate::quantity::Temperature;
use crate::system::System;

/// Air as it leaves the tank where the job does not say. Common practice, no
/// source.
pub(crate) const DISCHARGE: Temperature = Temperature::from_fahrenheit(150);
/// Air around the pipe where the job does not say. Common practice, no source.
pub(crate) const AMBIENT: Temperature = Temperature::from_fahrenheit(100);

/// The temperatures of a network.
#[derive(Debug)]
pub(super) struct Heat {
    /// The outside of the pipe on the way from the tank to each node, m2, on
    /// the way that has least: along it the air stays hottest.
    surfaces: Vec<f64>,
    discharge: Temperature,
    /// What cools, and in what; none where no air flows.
    cooling: Option<Cooling>,
}

#[derive(Debug)]
struct Cooling {
    air: MoistAir,
    kg_per_s: f64,
    /// A wall without its surface.
    wall: Wall,
}

impl Heat {
    /// Walks from the tank's port to every node. The whole free air takes every
    /// way, and the hottest room is everywhere: both leave it hotter than it
    /// is. So does all the vapour that it can bring, since water that falls out
    /// warms it: that of saturated air as hot as the room or the intake, as far
    /// as the tank lets it pass at the lowest pressure.
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
        let loss = conditions.heat_loss.unwrap_or(BARE_PIPE);
        assumptions.push(match (conditions.free_air, conditions.heat_loss) {
            (Some(_), None) => format!(
                "the air cools on its way as in bare pipe that loses {BARE_PIPE} W/(m2 K) \
                 (handbook figure, from memory), as full of water as it can be"
            ),
            (Some(_), Some(loss)) => format!(
                "the air cools on its way as in pipe that loses {loss} W/(m2 K), \
                 as full of water as it can be"
            ),
            (None, _) => {
                "no free air is stated: the air is as hot everywhere as at the tank".to_owned()
            }
        });
        // Pipe in which nothing flows is as hot as what surrounds it.
        let discharge = discharge.max(ambient);
        let outside = conditions.site.atmosphere;
        let absolute = outside + conditions.cut_in.unwrap_or(USUAL_CUT_IN).kpa() * 1_000.0;
        let taken_in = conditions.intake.unwrap_or(ambient).max(ambient);
        let ratio = saturation_ratio(taken_in.kelvin(), outside)
            .min(saturation_ratio(discharge.kelvin(), absolute));
        let cooling = conditions.free_air.filter(|_| ratio.is_finite());
        Self {
            surfaces: surfaces(network, systems),
            discharge,
            cooling: cooling.map(|flow| Cooling {
                air: MoistAir {
                    kelvin: discharge.kelvin(),
                    ratio,
                },
                kg_per_s: conditions.site.mass(flow),
                wall: Wall {
                    surface: 0.0,
                    loss,
                    around: ambient.kelvin(),
                    absolute,
                },
            }),
        }
    }

    /// The temperature at a node.
    pub(super) fn at(&self, node: NodeId) -> Temperature {
        let Some(cooling) = &self.cooling else {
            return self.discharge;
        };
        let wall = Wall {
            surface: self.surfaces[node.index()],
            ..cooling.wall
        };
        Temperature::from_kelvin(cooling.air.behind(&wall, cooling.kg_per_s).kelvin)
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
