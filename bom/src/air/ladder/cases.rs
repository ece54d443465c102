//! The ways in which air is drawn that every tool is held against.

use crate::air::demand::{Demand, mass};
use crate::job::Job;

/// A way in which air is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// What it is called.
    pub name: String,
    /// The tools that run, by their numbers in the demand; all others take what
    /// they take on average.
    pub running: Vec<usize>,
}

/// Each tool while the rest of the shop takes its average, and whatever the job
/// says runs together.
pub(in crate::air) fn cases(job: &Job, demand: &Demand) -> Vec<Case> {
    let alone = demand.tools.iter().enumerate().map(|(number, tool)| Case {
        name: format!(
            "{} at {} runs",
            tool.name, job.outlets[tool.outlet].name.value
        ),
        running: vec![number],
    });
    let together = job.together.iter().map(|set| Case {
        name: format!("{} together", set.name.value),
        running: (0..demand.tools.len())
            .filter(|tool| set.outlets.contains(&demand.tools[*tool].outlet))
            .collect(),
    });
    alone
        .chain(together.filter(|case| !case.running.is_empty()))
        .collect()
}

impl Case {
    /// What a tool takes in this case, kg/s.
    pub(in crate::air) fn of_tool(&self, demand: &Demand, tool: usize) -> f64 {
        let one = &demand.tools[tool];
        mass(if self.running.contains(&tool) {
            one.running.value
        } else {
            one.average
        })
    }
}

/// What is drawn at the foot of each drop, kg/s.
pub(in crate::air) fn draws(demand: &Demand, case: &Case, drops: usize) -> Vec<f64> {
    let mut draws = vec![0.0; drops];
    for (number, tool) in demand.tools.iter().enumerate() {
        if let Some(draw) = draws.get_mut(tool.outlet) {
            *draw += case.of_tool(demand, number);
        }
    }
    draws
}
