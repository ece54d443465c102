//! Will every tool get its pressure: what is left of it behind every item from
//! the tank to the tool, and which item takes most.
//!
//! In every case the whole pipework is solved, from the tank at the pressure at
//! which the compressor starts again: no tool ever gets less. From a drop's foot
//! the air turns into a side and goes on through the devices of the tool's side, its coupler and its
//! hose, each of which carries only what hangs behind it.

pub(super) mod cases;
pub(super) mod piping;
mod probe;
pub(super) mod steps;

pub use cases::Case;
pub use piping::{Blocked, Wear};
pub(super) use probe::Probe;
pub use steps::{Part, Step};

use super::demand::Demand;
use crate::job::Job;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use crate::quantity::{Pressure, Speed};
use piping::{Flowing, Piping};
use steps::{Sides, to_foot, way};

/// What every tool gets.
#[derive(Debug, Clone)]
pub struct Ladders {
    /// Each tool of the demand, in its order.
    pub tools: Vec<ToolAir>,
    /// The cases that were solved.
    pub cases: Vec<Case>,
    /// The fastest air in each pipe that is flowed through, worst first.
    pub fastest: Vec<Fast>,
    /// How well the solution holds.
    pub residual: Residual,
}

/// What one tool gets while it runs.
#[derive(Debug, Clone)]
pub struct ToolAir {
    /// Its number in the demand.
    pub tool: usize,
    /// The case in which it gets least.
    pub case: usize,
    /// The line valve that is shut then, if any.
    pub shut: Option<NodeId>,
    /// From the tank to the tool.
    pub steps: Vec<Step>,
    /// The pressure at its inlet; none where the air does not get through.
    pub gets: Option<Pressure>,
    /// Where it does not get through.
    pub blocked: Option<Blocked>,
}

/// The fastest air in a pipe.
#[derive(Debug, Clone, Copy)]
pub struct Fast {
    /// The pipe.
    pub link: LinkId,
    /// How fast.
    pub speed: Speed,
    /// In which case.
    pub case: usize,
    /// What flows then, kg/s.
    pub kg_per_s: f64,
    /// The pressure at its outlet then.
    pub left: Pressure,
    /// What the pipe and the fitting before it lose then.
    pub loss: Pressure,
}

/// The worst of all solutions.
#[derive(Debug, Clone, Copy, Default)]
pub struct Residual {
    /// The most that the flows of a node miss each other by, kg/s.
    pub imbalance: f64,
    /// The most that a pipe's pressures miss its law by, Pa.
    pub miss: f64,
}

impl Ladders {
    /// Solves every case.
    #[must_use]
    pub fn of(
        job: &Job,
        network: &Network,
        library: &Library,
        demand: &Demand,
        wear: Wear,
    ) -> Self {
        let piping = Piping::of(job, network, library, wear);
        let at_tank = piping.absolute(job.cut_in());
        let cases = cases::cases(job, demand);
        let mut ladders = Self {
            tools: Vec::new(),
            cases: Vec::new(),
            fastest: Vec::new(),
            residual: Residual::default(),
        };
        let mut fastest: Vec<Option<Fast>> = vec![None; network.link_count()];
        let mut tools: Vec<Option<ToolAir>> = vec![None; demand.tools.len()];
        let side = Sides::of(&piping, job, demand);
        let shut_in_turn = piping.shut_in_turn();
        for (number, case) in cases.iter().enumerate() {
            let draws = cases::draws(demand, case, network.drops.len());
            for shut in &shut_in_turn {
                let flowing = piping.solve(at_tank, &draws, *shut);
                if let Ok(flowing) = &flowing {
                    ladders.residual.take(flowing);
                    if shut.is_none() {
                        race(&piping, flowing, number, &mut fastest);
                    }
                }
                for tool in &case.running {
                    let air = tool_air(&side, &flowing, case, number, *shut, *tool);
                    let worst = &mut tools[*tool];
                    if worst.as_ref().is_none_or(|worst| air.gets_less(worst)) {
                        *worst = Some(air);
                    }
                }
            }
        }
        ladders.tools = tools.into_iter().flatten().collect();
        ladders.fastest = fastest.into_iter().flatten().collect();
        ladders.fastest.sort_by(|a, b| {
            b.speed
                .metres_per_second()
                .total_cmp(&a.speed.metres_per_second())
        });
        ladders.cases = cases;
        ladders
    }

    /// The most that these parts of the way take together on the way to any tool, in
    /// the case in which it gets least; none where air does not get through.
    #[must_use]
    pub fn most_in(&self, parts: &[Part]) -> Option<Pressure> {
        let takes = self.tools.iter().map(|tool| {
            tool.gets?;
            let steps = tool.steps.iter().filter(|step| parts.contains(&step.part));
            Some(steps.map(|step| step.loss.kpa()).sum::<f64>())
        });
        let takes: Option<Vec<f64>> = takes.collect();
        let most = takes?.into_iter().fold(0.0, f64::max);
        Some(Pressure::from_kpa(most))
    }
}

fn tool_air(
    side: &Sides<'_>,
    flowing: &Result<Flowing, Blocked>,
    case: &Case,
    number: usize,
    shut: Option<NodeId>,
    tool: usize,
) -> ToolAir {
    let mut air = ToolAir {
        tool,
        case: number,
        shut,
        steps: Vec::new(),
        gets: None,
        blocked: None,
    };
    let outlet = side.demand.tools[tool].outlet;
    let foot = side.piping.network.drops[outlet].foot_at;
    let flowing = match flowing {
        Ok(flowing) => flowing,
        Err(blocked) => {
            air.blocked = Some(blocked.clone());
            return air;
        }
    };
    let Some(at_foot) = flowing.pressures[foot.index()] else {
        air.blocked = Some(Blocked {
            at: foot,
            item: None,
            cut_off: true,
        });
        return air;
    };
    let passed = way(side.piping, flowing, outlet);
    air.steps = to_foot(side.piping, flowing, outlet, &passed).unwrap_or_default();
    let (steps, blocked) = side.steps(case, tool, at_foot);
    air.steps.extend(steps);
    match blocked {
        None => {
            let left = air.steps.last().map(|step| step.left);
            air.gets = Some(left.unwrap_or(side.piping.gauge(at_foot)));
        }
        item => {
            air.blocked = Some(Blocked {
                at: foot,
                item,
                cut_off: false,
            });
        }
    }
    air
}

/// Keeps the fastest air of each pipe.
fn race(piping: &Piping<'_>, flowing: &Flowing, case: usize, fastest: &mut [Option<Fast>]) {
    for (id, from, to, _) in piping.network.links() {
        let Some(speed) = flowing.speeds[id.index()].filter(|speed| *speed > 0.0) else {
            continue;
        };
        let pressure = |node: NodeId| flowing.pressures[node.index()];
        let Some((from, to)) = pressure(from).zip(pressure(to)) else {
            continue;
        };
        let best = &mut fastest[id.index()];
        if best.is_none_or(|best| speed > best.speed.metres_per_second()) {
            *best = Some(Fast {
                link: id,
                speed: Speed::from_metres_per_second(speed),
                case,
                kg_per_s: flowing.flows[id.index()].abs(),
                left: piping.gauge(from.min(to)),
                loss: Pressure::from_kpa((from - to).abs() / 1e3),
            });
        }
    }
}

impl Residual {
    fn take(&mut self, flowing: &Flowing) {
        self.imbalance = self.imbalance.max(flowing.imbalance);
        self.miss = self.miss.max(flowing.miss);
    }
}

impl ToolAir {
    /// Less at the tool, or as much with less left before a regulator.
    fn gets_less(&self, other: &Self) -> bool {
        // A regulator without a setting is set to within 1 Pa.
        let tens_of_pascal = |gets: Pressure| (gets.kpa() * 100.0).round();
        let available = |air: &Self, gets: Pressure| {
            let held_back = air.steps.iter().map(|step| step.held_back.kpa());
            gets.kpa() + held_back.sum::<f64>()
        };
        match (self.gets, other.gets) {
            (_, None) => false,
            (None, Some(_)) => true,
            (Some(this), Some(that)) => tens_of_pascal(this)
                .total_cmp(&tens_of_pascal(that))
                .then(available(self, this).total_cmp(&available(other, that)))
                .is_lt(),
        }
    }
}
