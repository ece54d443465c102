//! What the next larger hose, device or pipe gives a tool: solved before it is said.

use super::judge::READING;
use super::say::Say;
use crate::air::demand::{Demand, Figure};
use crate::air::ladder::{Part, Probe, Step, ToolAir, Wear};
use crate::air::sizes::stepped;
use crate::job::Hose;
use crate::network::{Network, NodeId, NodeKind, Owner};
use crate::quantity::{AirFlow, Length, Pressure, Units};
use std::cmp::Ordering;

/// Bores of hoses, in 64ths of an inch and in millimetres. Common practice, no
/// source.
const FEET_BORES: [i64; 4] = [16, 24, 32, 48];
const METRIC_BORES: [i64; 6] = [6, 8, 10, 13, 16, 19];

impl Say<'_> {
    /// What to do about the step that takes most on the way to a tool.
    pub(super) fn cure(&self, air: &ToolAir, step: &Step) -> String {
        let larger = match (step.part, step.device) {
            (Part::Hose, _) => self.larger_hose(air),
            (_, Some(at)) => self.larger_device(air, at),
            (Part::Main, None) => self.larger_main(air),
            (Part::Connection | Part::Drop | Part::Side, None) => self.larger_drop(air),
        };
        match (step.part, self.device(step), larger) {
            (_, Some("filter"), Some(larger)) => format!("Change its element. {larger}"),
            (_, Some("filter"), None) => "Change its element.".to_owned(),
            (_, _, Some(larger)) => larger,
            (Part::Hose, ..) | (_, Some("hose"), None) => "A shorter hose loses less.".to_owned(),
            (_, Some(name), None) => format!("No larger {name} is known here."),
            (_, None, None) => "Not all of that pipe can be a size larger.".to_owned(),
        }
    }

    /// What a tool aims at: what it works best at, if the tank has that.
    fn aim(&self, air: &ToolAir) -> Option<Pressure> {
        let tool = &self.air.demand.tools[air.tool];
        let best = tool.best.map(|best| best.value);
        let there = |best: &Pressure| best.kpa() <= self.air.cut_in.kpa();
        best.filter(there).or(tool.least.map(|least| least.value))
    }

    /// What a tool gets in another network or with other hoses.
    fn then_gets(&self, air: &ToolAir, network: &Network, demand: &Demand) -> Option<Pressure> {
        let probe = Probe::of(self.job, network, self.library, demand, Wear::Aged);
        let none = AirFlow::from_litres_per_second(0.0);
        probe.tool(air, &self.air.aged.cases, 0, none)?.gets
    }

    /// What a main of the next larger size does.
    fn larger_main(&self, air: &ToolAir) -> Option<String> {
        let larger = stepped(self.network, self.library, Ordering::Greater)?;
        let gets = self.then_gets(air, &larger, &self.air.demand)?;
        Some(format!(
            "With all of the main a size larger it gets {}.",
            self.show(gets)
        ))
    }

    /// What the tool's drop of the next larger size does.
    fn larger_drop(&self, air: &ToolAir) -> Option<String> {
        let outlet = self.air.demand.tools[air.tool].outlet;
        let drop = &self.network.drops[outlet];
        let sizes = self.library.systems()[drop.system].sizes();
        let size = sizes.map(|row| row.size).find(|size| *size > drop.size)?;
        let larger = self.network.resized(|link, to| {
            let owner = self.network.node(to).origin.owner;
            let own = !link.is_main() && owner == Owner::Outlet(outlet);
            if own && link.size == drop.size {
                size
            } else {
                link.size
            }
        });
        let gets = self.then_gets(air, &larger, &self.air.demand)?;
        Some(format!(
            "With its drop of {size} it gets {}.",
            self.show(gets)
        ))
    }

    /// The least larger device with which a tool gets what it aims at, or the largest
    /// where none does.
    fn larger_device(&self, air: &ToolAir, at: NodeId) -> Option<String> {
        let NodeKind::Device { device, size, .. } = self.network.node(at).kind else {
            return None;
        };
        let device = &self.library.devices()[device];
        let mut sizes = device.sizes.clone();
        sizes.sort_unstable();
        let and_plug = match device.name.as_str() {
            "coupler" => " and its plug",
            _ => "",
        };
        let mut said = None;
        for larger in sizes.into_iter().filter(|larger| *larger > size) {
            let network = self.network.with_device(at, larger);
            let Some(gets) = self.then_gets(air, &network, &self.air.demand) else {
                continue;
            };
            let (even, enough) = self.even(air, gets);
            said = Some(format!(
                "{even} a larger {}{and_plug}, {larger}, it gets {}.",
                device.name,
                self.show(gets)
            ));
            if enough {
                break;
            }
        }
        said
    }

    /// `With`, or `Even with` where that is not what the tool aims at.
    fn even(&self, air: &ToolAir, gets: Pressure) -> (&'static str, bool) {
        let enough = self
            .aim(air)
            .is_none_or(|wanted| gets.kpa() * READING >= wanted.kpa());
        (if enough { "With" } else { "Even with" }, enough)
    }

    /// The narrowest hose as long with which a tool gets what it aims at, or the
    /// widest where none does.
    pub(super) fn larger_hose(&self, air: &ToolAir) -> Option<String> {
        let tool = &self.air.demand.tools[air.tool];
        let hose = tool.hose?;
        let mut demand = self.air.demand.clone();
        let bores: Vec<Length> = match self.units {
            Units::Feet => FEET_BORES.map(Length::from_64ths).into(),
            Units::Metric => METRIC_BORES.map(Length::from_mm).into(),
        };
        let mut said = None;
        for bore in bores.into_iter().filter(|bore| *bore > hose.value.bore) {
            demand.tools[air.tool].hose = Some(Figure {
                value: Hose { bore, ..hose.value },
                ..hose
            });
            let Some(gets) = self.then_gets(air, self.network, &demand) else {
                continue;
            };
            let (even, enough) = self.even(air, gets);
            said = Some(format!(
                "{even} a hose of {} as long it gets {}.",
                bore.show(self.units),
                self.show(gets)
            ));
            if enough {
                break;
            }
        }
        said
    }
}
