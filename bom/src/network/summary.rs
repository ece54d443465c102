//! The facts that a page about the job starts with.

use super::{Network, NodeKind};
use crate::job::{Job, Leg, TakeOff};
use crate::library::Library;
use crate::quantity::Size;
use crate::summary::{Connection, DrainSummary, MainPipe, OutletSummary, Summary, ValveSummary};
use std::collections::BTreeSet;

impl Network {
    /// The layout in a few facts.
    #[must_use]
    pub fn summary(&self, job: &Job, library: &Library) -> Summary {
        let main = || {
            self.links()
                .map(|(_, _, _, link)| link)
                .filter(|link| link.is_main())
        };
        let sizes: BTreeSet<Size> = main().map(|link| link.size).collect();
        let mut drops: Vec<_> = self.drops.iter().collect();
        drops.sort_by_key(|drop| (drop.take_off_at, drop.foot_at));
        Summary {
            title: job.title.clone(),
            customer: job.customer.clone(),
            revision: job.revision.clone(),
            units: self.units,
            supply: supply_facts(job),
            connections: self.connections(library),
            main_sizes: sizes.into_iter().rev().collect(),
            main_pipe: self.main_pipe(library),
            main_length: main().filter_map(|link| link.pipe).sum(),
            rings: (self.link_count() + 1).saturating_sub(self.node_count()),
            main_height: job.main.height.value,
            fall: fall_words(job),
            drains: self
                .drains
                .iter()
                .map(|drain| DrainSummary {
                    name: drain.name.clone(),
                    height: self.node(drain.at).at.up,
                    valve: drain.valve,
                })
                .collect(),
            valves: self
                .valves
                .iter()
                .map(|valve| ValveSummary {
                    name: valve.name.clone(),
                    height: self.node(valve.at).at.up,
                    size: valve.size,
                })
                .collect(),
            outlets: drops
                .into_iter()
                .enumerate()
                .map(|(index, drop)| OutletSummary {
                    number: index + 1,
                    name: drop.name.clone(),
                    drop: drop.kind.clone(),
                    size: drop.size,
                    height: drop.height,
                    take_off: match drop.take_off {
                        TakeOff::Top => "top",
                        TakeOff::Side => "side",
                        TakeOff::Bottom => "bottom",
                    }
                    .to_owned(),
                    sides: drop.sides.clone(),
                    drain: drop.drain.clone().unwrap_or_else(|| "none".to_owned()),
                })
                .collect(),
        }
    }

    fn main_pipe(&self, library: &Library) -> Vec<MainPipe> {
        let systems = self.systems().into_iter();
        let pipe = systems.map(|system| {
            let of_it = || {
                let links = self.links().map(|(_, _, _, link)| link);
                links.filter(move |link| link.is_main() && link.system == system)
            };
            let sizes: BTreeSet<Size> = of_it().map(|link| link.size).collect();
            MainPipe {
                system_title: library.systems()[system].title.clone(),
                sizes: sizes.into_iter().rev().collect(),
                length: of_it().filter_map(|link| link.pipe).sum(),
            }
        });
        pipe.filter(|pipe| !pipe.sizes.is_empty()).collect()
    }

    fn connections(&self, library: &Library) -> Vec<Connection> {
        let supplies = self.supplies.iter().enumerate();
        let connections = supplies.map(|(supply, (name, _))| Connection {
            supply: name.clone(),
            items: self.connection(supply, library),
        });
        connections.collect()
    }

    fn connection(&self, supply: usize, library: &Library) -> Vec<String> {
        self.nodes()
            .filter(|(_, node)| node.origin.owner == super::Owner::Supply(supply))
            .filter_map(|(_, node)| match node.kind {
                NodeKind::Device {
                    device,
                    size,
                    length,
                } => {
                    let name = &library.devices()[device].name;
                    Some(match length {
                        Some(length) => format!("{name} {size}, {}", length.show(self.units)),
                        None => format!("{name} {size}"),
                    })
                }
                NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
            })
            .collect()
    }
}

/// The fall of the main as the user wrote it, and the legs that fall otherwise.
fn fall_words(job: &Job) -> String {
    let main = job.main.fall.value;
    let own = |leg: &&Leg| leg.fall.is_some_and(|fall| fall.value != main);
    let otherwise: Vec<String> = job.legs.iter().filter(own).map(Leg::label).collect();
    match (otherwise.is_empty(), main.is_level()) {
        (true, _) => job.main.fall_text.clone(),
        (false, true) => format!("on {} only", otherwise.join(", ")),
        (false, false) => format!(
            "{}, otherwise on {}",
            job.main.fall_text,
            otherwise.join(", ")
        ),
    }
}

/// What the job says of its supplies, each fact with a name where there are
/// several.
fn supply_facts(job: &Job) -> Vec<String> {
    let units = job.units;
    let mut facts = Vec::new();
    for supply in &job.supplies {
        let of = match &job.supplies[..] {
            [_] => String::new(),
            _ => format!("{}: ", supply.name.value),
        };
        let mut fact = |fact: String| facts.push(format!("{of}{fact}"));
        if let Some(flow) = supply.free_air {
            fact(format!("{} free air", flow.show(units)));
        }
        if let (Some(low), Some(high)) = (supply.cut_in, supply.cut_out) {
            fact(format!("{} to {}", low.show(units), high.show(units)));
        }
        if let Some(relief) = supply.relief {
            fact(format!("relief valve at {}", relief.show(units)));
        }
        if let Some(tank) = supply.tank {
            fact(format!("{} tank", tank.show(units)));
        }
    }
    facts
}
