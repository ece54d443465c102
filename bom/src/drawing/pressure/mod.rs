//! The pressure ladder: what is left of the tank's pressure behind every item on the
//! way to the tools that are worst off.

mod ladder;
mod rest;

use super::page::{Block, Paper};
use super::{Scene, Sheet};
use crate::air::answer::{Air, State, answer};

/// So many outlets have a ladder even where all tools get enough.
const SHOWN: usize = 4;

/// The ladders of the outlets that are worst off and of all that lack pressure, and
/// what all tools get in a table; nothing where the job names no tools.
#[must_use]
pub fn pressure(scene: &Scene<'_>) -> Vec<Sheet> {
    let plan = scene.plan;
    let air = answer(&plan.job, &plan.network, scene.library);
    if air.tools.is_empty() {
        return Vec::new();
    }
    let field = scene.field;
    let shown = shown(&air);
    let mut blocks = vec![head(&air, field.width)];
    for tool in &shown {
        blocks.extend(ladder::ladders(scene, &air, *tool, field.width));
    }
    blocks.extend(rest::tables(scene, &air, field.width, field.height));
    let paper = Paper {
        id: "pressure",
        title: "Pressure ladder",
        about: &format!(
            "What is left of the pressure behind every item from the tank to {} of {} tools, as new and worn, and a table of what every tool gets.",
            shown.len(),
            air.tools.len()
        ),
        width: field.width,
        height: field.height,
    };
    paper.laid(blocks)
}

/// The supply and the tools in short.
fn head(air: &Air, across: f64) -> Block {
    let said: Vec<&str> = air.sentences.iter().take(2).map(String::as_str).collect();
    Block::note(&said.join(" "), across)
}

/// The worst tool of each outlet that is shown, the worst first: those that lack
/// pressure, and the next until there are [`SHOWN`].
fn shown(air: &Air) -> Vec<usize> {
    let mut outlets: Vec<usize> = air.demand.tools.iter().map(|tool| tool.outlet).collect();
    outlets.sort_unstable();
    outlets.dedup();
    let mut tools: Vec<usize> = outlets
        .iter()
        .filter_map(|outlet| air.worst_at(*outlet))
        .collect();
    let lacks = |tool: &usize| air.tools[*tool].state() >= State::Starved;
    let spare = |tool: &usize| {
        air.tools[*tool]
            .to_spare
            .map_or(f64::INFINITY, |spare| spare.kpa())
    };
    tools.sort_by(|a, b| {
        lacks(b)
            .cmp(&lacks(a))
            .then(spare(a).total_cmp(&spare(b)))
            .then(a.cmp(b))
    });
    let lacking = tools.iter().filter(|tool| lacks(tool)).count();
    tools.truncate(lacking.max(SHOWN));
    tools
}
