//! How much air the shop wants: each tool, each outlet and all of it.
//!
//! A tool's figures are free air at sea level and 20 C, wherever it stands: it
//! takes the same mass of air at any height, to within 3 % up to 1500 m.

use super::Site;
use super::peak::{LIKELY, Runs, likely};
use crate::job::{Hose, Job, Tool};
use crate::library::{Library, ToolKind};
use crate::quantity::{AirFlow, Pressure};

/// What the shop wants. Flows are free air at sea level and 20 C.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Every tool, in the order of the file.
    pub tools: Vec<ToolDemand>,
    /// What each of the job's outlets wants; nothing where no tool is named.
    pub outlets: Vec<Load>,
    /// What all of them want together.
    pub total: Load,
    /// The job's outlets that name no tool.
    pub without_tool: Vec<usize>,
    /// How the likely peak comes about, in one sentence.
    pub method: String,
    /// What was taken because the job does not say it.
    pub assumptions: Vec<String>,
}

/// How much air is wanted: average ≤ peak ≤ connected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Every trigger down at once.
    pub connected: AirFlow,
    /// The whole day through.
    pub average: AirFlow,
    /// Not exceeded in 99 % of the time, and no less than the average.
    pub peak: AirFlow,
}

/// What one tool wants.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolDemand {
    /// Index into the job's outlets.
    pub outlet: usize,
    /// The side of its drop that it hangs on, from 0.
    pub side: usize,
    /// What it is called.
    pub name: String,
    /// What it takes while it runs.
    pub running: Figure<AirFlow>,
    /// The share of time in which it runs, from 0 to 1.
    pub share: Figure<f64>,
    /// What it takes over the day.
    pub average: AirFlow,
    /// The least pressure at which it works, at its own inlet; none if nothing
    /// says it.
    pub least: Option<Figure<Pressure>>,
    /// The pressure at which it works best, at its own inlet.
    pub best: Option<Figure<Pressure>>,
    /// Its hose.
    pub hose: Option<Figure<Hose>>,
    /// Whether it runs only in somebody's hand.
    pub by_hand: bool,
}

/// A figure and where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure<T> {
    /// The figure.
    pub value: T,
    /// Who says it.
    pub said_by: SaidBy,
}

/// Who says a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SaidBy {
    /// The job.
    Job,
    /// The list of tools.
    List,
    /// Nobody; it stands among the assumptions.
    Nobody,
}

impl<T> Figure<T> {
    const fn new(value: T, said_by: SaidBy) -> Self {
        Self { value, said_by }
    }
}

impl ToolDemand {
    /// `the orbital sander`.
    #[must_use]
    pub fn with_article(&self) -> String {
        match self.name.starts_with("the ") {
            true => self.name.clone(),
            false => format!("the {}", self.name),
        }
    }

    fn runs(&self) -> Runs {
        Runs {
            flow: self.running.value.litres_per_second(),
            share: self.average.litres_per_second() / self.running.value.litres_per_second(),
            by_hand: self.by_hand,
        }
    }
}

/// The mass of a flow that tools want, kg/s.
#[must_use]
pub fn mass(flow: AirFlow) -> f64 {
    Site::SEA_LEVEL.mass(flow)
}

/// A mass in kg/s as the flow that tools' figures are in.
#[must_use]
pub fn free_air(kg_per_s: f64) -> AirFlow {
    let one = mass(AirFlow::from_litres_per_second(1.0));
    AirFlow::from_litres_per_second(kg_per_s / one)
}

/// Catalogues average over a trigger that is down for 20 to 25 % of the time,
/// so that a tool takes 3 to 5 times as much while it runs. Common practice, no
/// source.
const TIMES_AVERAGE: f64 = 4.0;

/// What the tools of a job want. The job's own figures go before those of the
/// list of tools.
#[must_use]
pub fn demand(job: &Job, library: &Library) -> Demand {
    let mut assumptions = Vec::new();
    let mut tools = Vec::new();
    for (index, outlet) in job.outlets.iter().enumerate() {
        let drop = outlet.drop.and_then(|drop| job.drops.get(drop));
        for tool in &outlet.tools {
            let side = drop.and_then(|drop| drop.side_of(tool, library));
            let listed = tool.listed(library);
            let place = format!("{} at `{}`", tool.words(), outlet.name.value);
            let (running, share) = flows(tool, listed, &place, job, &mut assumptions);
            tools.push(ToolDemand {
                outlet: index,
                side: side.unwrap_or(0),
                name: tool.words().to_owned(),
                average: times(running.value, share.value),
                running,
                share,
                least: stated_or_listed(
                    tool.pressure.map(|it| it.value),
                    listed.map(|it| it.least),
                ),
                best: stated_or_listed(tool.pressure.map(|it| it.value), listed.map(|it| it.best)),
                hose: stated_or_listed(tool.hose.map(|it| it.value), listed.and_then(|it| it.hose)),
                by_hand: listed.is_some_and(|kind| kind.by_hand),
            });
        }
    }
    assumptions.extend(typical(job, library));
    fit_to_people(&mut tools, job.people, &mut assumptions);
    let outlets: Vec<Load> = (0..job.outlets.len())
        .map(|outlet| {
            load(
                tools.iter().filter(|tool| tool.outlet == outlet),
                job.people,
            )
        })
        .collect();
    let without = job.outlets.iter().enumerate();
    let without_tool: Vec<usize> = without
        .filter(|(_, outlet)| outlet.tools.is_empty())
        .map(|(index, _)| index)
        .collect();
    if !without_tool.is_empty() {
        let names = without_tool
            .iter()
            .map(|at| job.outlets[*at].name.value.as_str());
        assumptions.push(format!(
            "No tool is named at {}: nothing is added for what may hang there.",
            names.collect::<Vec<_>>().join(", ")
        ));
    }
    Demand {
        total: load(tools.iter(), job.people),
        tools,
        outlets,
        without_tool,
        method: method(job.people),
        assumptions,
    }
}

/// What a tool takes while it runs, and for which share of the time that is.
fn flows(
    tool: &Tool,
    listed: Option<&ToolKind>,
    place: &str,
    job: &Job,
    assumptions: &mut Vec<String>,
) -> (Figure<AirFlow>, Figure<f64>) {
    let units = job.units;
    let average = tool.average.map(|average| average.value);
    let stated = tool.air.map(|air| air.value);
    let running = match (stated, listed, average) {
        (Some(air), _, _) => Figure::new(air, SaidBy::Job),
        (None, Some(kind), Some(average)) if average > kind.air => {
            assumptions.push(format!(
                "{place} takes {} on average, more than the {} that is typical while it runs: it is taken to run all the time.",
                average.show(units),
                kind.air.show(units)
            ));
            Figure::new(average, SaidBy::Job)
        }
        (None, Some(kind), _) => Figure::new(kind.air, SaidBy::List),
        (None, None, average) => {
            let average = average.unwrap_or(AirFlow::from_litres_per_second(0.0));
            let running = times(average, TIMES_AVERAGE);
            assumptions.push(format!(
                "{place} takes {} on average: while it runs, {TIMES_AVERAGE} times as much is taken, {} (common practice: 3 to 5 times, no source).",
                average.show(units),
                running.show(units)
            ));
            Figure::new(running, SaidBy::Nobody)
        }
    };
    let share = match (average, tool.share, listed) {
        (Some(average), _, _) => {
            let share = average.litres_per_second() / running.value.litres_per_second();
            Figure::new(share.min(1.0), running.said_by)
        }
        (None, Some(share), _) => Figure::new(share.value, SaidBy::Job),
        (None, None, Some(kind)) => Figure::new(kind.share, SaidBy::List),
        (None, None, None) => {
            assumptions.push(format!(
                "Nothing says for which share of the time {place} runs: it is taken to run all the time."
            ));
            Figure::new(1.0, SaidBy::Nobody)
        }
    };
    (running, share)
}

fn times(flow: AirFlow, factor: f64) -> AirFlow {
    AirFlow::from_litres_per_second(flow.litres_per_second() * factor)
}

fn stated_or_listed<T>(stated: Option<T>, listed: Option<T>) -> Option<Figure<T>> {
    let stated = stated.map(|value| Figure::new(value, SaidBy::Job));
    stated.or_else(|| listed.map(|value| Figure::new(value, SaidBy::List)))
}

/// Who says the figures of the list, for each tool that takes some of them.
fn typical(job: &Job, library: &Library) -> Vec<String> {
    let mut by_source: Vec<(&str, Vec<&str>)> = Vec::new();
    let tools = job.outlets.iter().flat_map(|outlet| &outlet.tools);
    for kind in tools.filter_map(|tool| tool.listed(library)) {
        let at = match by_source
            .iter()
            .position(|(source, _)| *source == kind.source)
        {
            Some(at) => at,
            None => {
                by_source.push((&kind.source, Vec::new()));
                by_source.len() - 1
            }
        };
        let names = &mut by_source[at].1;
        if !names.contains(&kind.name.as_str()) {
            names.push(&kind.name);
        }
    }
    let said = by_source.into_iter();
    said.map(|(source, names)| {
        format!(
            "What the job does not say of {}: {source}.",
            names.join(", ")
        )
    })
    .collect()
}

/// Nobody runs two hand tools at once: where their shares add up to more than
/// the people have time for, each gets its part of that time.
fn fit_to_people(tools: &mut [ToolDemand], people: Option<u8>, assumptions: &mut Vec<String>) {
    let Some(people) = people else { return };
    let busy: f64 = tools
        .iter()
        .filter(|tool| tool.by_hand)
        .map(|tool| tool.share.value)
        .sum();
    let hands = f64::from(people);
    if busy > hands {
        for tool in tools.iter_mut().filter(|tool| tool.by_hand) {
            tool.average = times(tool.average, hands / busy);
        }
        assumptions.push(format!(
            "The hand tools' shares of the time add up to {busy:.1} people, and {people} use air: each share is cut by the same factor."
        ));
    }
}

fn load<'a>(tools: impl Iterator<Item = &'a ToolDemand>, people: Option<u8>) -> Load {
    let tools: Vec<&ToolDemand> = tools.collect();
    let sum = |of: fn(&ToolDemand) -> AirFlow| -> f64 {
        let flows = tools.iter().map(|tool| of(tool).litres_per_second());
        // A sum of nothing is -0.
        flows.sum::<f64>() + 0.0
    };
    let connected = sum(|tool| tool.running.value);
    // Rounding must not lift the one above the other.
    let average = sum(|tool| tool.average).min(connected);
    let runs: Vec<Runs> = tools.iter().map(|tool| tool.runs()).collect();
    let peak = likely(&runs, people).clamp(average, connected);
    Load {
        connected: AirFlow::from_litres_per_second(connected),
        average: AirFlow::from_litres_per_second(average),
        peak: AirFlow::from_litres_per_second(peak),
    }
}

fn method(people: Option<u8>) -> String {
    let who = match people {
        Some(people) => format!("at most {people} hand tools at once"),
        None => "and any number of them at once, since nothing says how many people there are"
            .to_owned(),
    };
    format!(
        "Likely peak: what is not exceeded in {:.0} % of the time, if each tool runs for its share of it and for itself, {who}; every combination is counted.",
        LIKELY * 100.0
    )
}

#[cfg(test)]
mod tests;
