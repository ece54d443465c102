//! Tools under flow: what was read against what the walk of the air gives at that pressure
//! of the tank.

use super::say::Sum;
use crate::air::ladder::{Ladders, Wear};
use crate::handover::sheet::Part;
use crate::handover::tightness::mark_of;
use crate::handover::{Context, record};
use crate::quantity::Pressure;

/// So many marks of a gauge may lie between what is read and what is expected.
const MARKS: f64 = 2.0;

/// What was read against what is expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// No further off than two marks.
    Alike,
    /// Lower.
    Lower,
    /// Higher.
    Higher,
}

/// A reading under flow, worked out.
#[derive(Debug, Clone)]
pub struct Flow {
    /// What was read.
    pub read: record::Flow,
    /// The outlet's number, and its name.
    pub outlet: (usize, String),
    /// The tool; none if the job names none there.
    pub tool: Option<String>,
    /// What the tool should have with the tank as it was; none if no tool is named, or no
    /// air comes.
    pub expected: Option<Pressure>,
    /// One mark of the gauge: as noted, else that of a usual one.
    pub mark: Pressure,
    /// By how much less was read; below zero it was more.
    pub lower: Option<Pressure>,
    /// What that means.
    pub against: Option<Against>,
}

impl Flow {
    pub(super) fn of(context: &Context<'_>, read: &record::Flow) -> Self {
        let air = &context.air;
        let tool = read.tool.or_else(|| air.worst_at(read.outlet));
        let expected = tool.and_then(|tool| expected(context, tool, read.tank));
        let mark = read.mark.unwrap_or(mark_of(context.plan.summary.units));
        let lower = expected.map(|expected| Pressure::from_kpa(expected.kpa() - read.read.kpa()));
        let against = lower.map(|lower| {
            let most = MARKS * mark.kpa() * (1.0 + 1e-6);
            if lower.kpa() > most {
                Against::Lower
            } else if lower.kpa() < -most {
                Against::Higher
            } else {
                Against::Alike
            }
        });
        let drop = context.plan.network.drops.get(read.outlet);
        let name = drop.map_or_else(String::new, |drop| drop.name.clone());
        Self {
            read: read.clone(),
            outlet: (context.tags.outlet(&name), name),
            tool: tool.map(|tool| air.demand.tools[tool].name.clone()),
            expected,
            mark,
            lower,
            against,
        }
    }

    fn words(&self, context: &Context<'_>, sum: &Sum) -> String {
        let (number, name) = &self.outlet;
        let tool = self
            .tool
            .as_ref()
            .map_or_else(String::new, |tool| format!(", {tool}"));
        let off = |by: f64| context.fine(Pressure::from_kpa(by));
        let lower = self.lower.map_or(0.0, Pressure::kpa);
        let says = match self.against {
            None => {
                "nothing is expected there, as the job names no tool or no air comes".to_owned()
            }
            Some(Against::Alike) => format!(
                "as expected, within two marks of the gauge ({} each)",
                sum.pressure(self.mark)
            ),
            Some(Against::Lower) => format!(
                "lower than expected by {}. Look for a valve that is half shut, a filter that is full, a regulator set lower, and a hose or coupler that is narrower or longer than the job says; then read in front of each",
                off(lower)
            ),
            Some(Against::Higher) => format!(
                "higher than expected by {}. Less ran than usually runs together, or the regulator stands higher than the tool wants",
                off(-lower)
            ),
        };
        let remarks = if self.read.remarks.is_empty() {
            String::new()
        } else {
            format!(" Remarks: {}", self.read.remarks)
        };
        format!("{number} {name}{tool}: {says}.{remarks}")
    }
}

/// What a tool has with the tank at a pressure, in its worst case, the pipework new.
fn expected(context: &Context<'_>, tool: usize, tank: Pressure) -> Option<Pressure> {
    let mut job = context.plan.job.clone();
    for supply in &mut job.supplies {
        supply.cut_in = Some(tank);
    }
    let (network, demand) = (&context.plan.network, &context.air.demand);
    let ladders = Ladders::of(&job, network, context.library, demand, Wear::New);
    ladders.tools.get(tool)?.gets
}

/// What was read, and what it means.
pub(in crate::handover) fn parts(context: &Context<'_>) -> Vec<Part> {
    let sum = Sum::of(context);
    let read = &context.worked.flow;
    let fine = |pressure: Option<Pressure>| {
        pressure.map_or_else(|| "-".to_owned(), |pressure| context.fine(pressure))
    };
    let rows = read.iter().map(|one| {
        vec![
            format!("{} {}", one.outlet.0, one.outlet.1),
            one.tool.clone().unwrap_or_else(|| "-".to_owned()),
            sum.pressure(one.read.tank),
            fine(one.expected),
            sum.pressure(one.read.read),
            fine(one.lower),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    vec![
        Part::heading("As read"),
        Part::table(
            &[
                ("Outlet", false),
                ("Tool", false),
                ("Tank at", true),
                ("Expected then", true),
                ("Read", true),
                ("Lower by", true),
            ],
            rows,
        ),
        Part::Points(read.iter().map(|one| one.words(context, &sum)).collect()),
    ]
}
