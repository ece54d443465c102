//! The pressure that tools want at the feet of their drops.

use crate::air::demand::Demand;
use crate::air::ladder::Wear;
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::Piping;
use crate::air::ladder::steps::Sides;
use crate::job::{Job, SizeChoice};
use crate::library::Library;
use crate::network::{self, Network, Open};
use crate::quantity::{Pressure, Size, Speed};
use std::collections::{BTreeMap, BTreeSet};

/// The pressures that tools are to get.
#[derive(Debug)]
pub(super) struct Targets {
    /// Of each tool, by its number; none where nothing says what it needs.
    of: Vec<Option<Pressure>>,
    /// The tools that do not get to their best: of them it is asked that they
    /// work at all.
    pub(super) short: BTreeSet<usize>,
}

impl Targets {
    /// Every tool at its best.
    pub(super) fn best(demand: &Demand) -> Self {
        let tools = demand.tools.iter();
        let best = tools.map(|tool| tool.best.or(tool.least).map(|target| target.value));
        Self {
            of: best.collect(),
            short: BTreeSet::new(),
        }
    }

    /// Asks of these tools only that they work at all; whether that is less than
    /// before for any.
    pub(super) fn lower(&mut self, demand: &Demand, tools: &[usize]) -> bool {
        let mut lowered = false;
        for tool in tools {
            let least = demand.tools[*tool].least.map(|least| least.value);
            let first = self.short.insert(*tool);
            if first && let Some(least) = least.filter(|least| Some(*least) < self.of[*tool]) {
                self.of[*tool] = Some(least);
                lowered = true;
            }
        }
        lowered
    }
}

/// What a tool wants at its drop's foot in a case in which it runs.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Need {
    /// Its number in the demand.
    pub(super) tool: usize,
    /// The drop, by its outlet.
    pub(super) drop: usize,
    /// The case.
    pub(super) case: usize,
    /// The least squared absolute pressure, Pa².
    pub(super) least: f64,
    /// What is asked on top, since the whole network takes more than the tree, Pa².
    pub(super) on_top: f64,
}

impl Need {
    /// All that is asked for, Pa².
    pub(super) fn asked(&self) -> f64 {
        self.least + self.on_top
    }
}

/// What tools want, by the size of their drop where that is open: the devices on
/// its sides go with it.
#[derive(Debug)]
pub(super) struct Wants {
    /// With the largest drops.
    pub(super) needs: Vec<Need>,
    /// The tools that do not get their pressure even so.
    pub(super) beyond_help: Vec<usize>,
    /// What smaller drops want more at their feet, by drop, size and case, Pa².
    more: BTreeMap<(usize, Size, usize), f64>,
}

impl Wants {
    /// `sizes` are those from which open drops are chosen.
    pub(super) fn of(
        job: &Job,
        network: &Network,
        library: &Library,
        demand: &Demand,
        cases: &[Case],
        targets: &Targets,
        sizes: &BTreeSet<Size>,
    ) -> Self {
        let mut found = sizes.iter().rev().filter_map(|size| {
            let job = with_drops(job, *size);
            let network = network::build(&job, library, Open::Any).0?;
            Some((
                *size,
                needs(&job, &network, library, demand, cases, targets),
            ))
        });
        let mut more = BTreeMap::new();
        let first = found.next();
        let largest = first.map_or_else(
            || needs(job, network, library, demand, cases, targets),
            |it| it.1,
        );
        let least = most(&largest.0);
        for (size, (wanted, beyond)) in found {
            let wanted = most(&wanted);
            for (&(drop, case), least) in &least {
                let tools = &cases[case].running;
                let hopeless = tools.iter().any(|tool| {
                    let here = demand.tools[*tool].outlet == drop;
                    here && beyond.contains(tool) && !largest.1.contains(tool)
                });
                let here = match wanted.get(&(drop, case)) {
                    Some(wanted) if !hopeless => wanted - least,
                    _ => HOPELESS,
                };
                more.insert((drop, size, case), here.max(0.0));
            }
        }
        let (needs, beyond_help) = largest;
        Self {
            needs,
            beyond_help,
            more,
        }
    }

    /// What a drop of a size wants more than the largest, Pa².
    pub(super) fn more(&self, drop: usize, size: Size, case: usize) -> f64 {
        self.more.get(&(drop, size, case)).copied().unwrap_or(0.0)
    }
}

/// More squared pressure than any shop has, Pa².
pub(super) const HOPELESS: f64 = 1e15;

/// The most that is wanted at the foot of each drop in each case.
fn most(needs: &[Need]) -> BTreeMap<(usize, usize), f64> {
    let mut most = BTreeMap::new();
    for need in needs {
        let at = most.entry((need.drop, need.case)).or_insert(0.0_f64);
        *at = at.max(need.least);
    }
    most
}

/// The job with this size for every drop that is open.
fn with_drops(job: &Job, size: Size) -> Job {
    let mut job = job.clone();
    for drop in &mut job.drops {
        if drop.size == SizeChoice::Auto {
            drop.size = SizeChoice::Given(size);
        }
    }
    job
}

/// The pressure of a tool is read no closer than this, Pa: a thousandth of a bar.
const CLOSE: f64 = 100.0;

/// What every tool wants in each case in which it runs, and the tools that do
/// not get theirs even where the whole pressure of the tank stands at the foot.
fn needs(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    cases: &[Case],
    targets: &Targets,
) -> (Vec<Need>, Vec<usize>) {
    let piping = Piping::of(job, network, library, Wear::Aged);
    let sides = Sides::of(&piping, job, demand);
    let at_tank = piping.absolute(job.cut_in());
    let (mut needs, mut beyond_help) = (Vec::new(), Vec::new());
    for (number, case) in cases.iter().enumerate() {
        for tool in &case.running {
            let one = &demand.tools[*tool];
            let Some(wanted) = targets.of[*tool] else {
                continue;
            };
            let wanted = piping.absolute(wanted) - CLOSE;
            let Some(foot) = sides.at_foot(case, *tool, wanted, at_tank) else {
                beyond_help.push(*tool);
                continue;
            };
            needs.push(Need {
                tool: *tool,
                drop: one.outlet,
                case: number,
                least: foot * foot,
                on_top: 0.0,
            });
        }
    }
    needs.retain(|need| !beyond_help.contains(&need.tool));
    beyond_help.sort_unstable();
    beyond_help.dedup();
    (needs, beyond_help)
}

/// What the whole network shows of sizes that were chosen in the tree.
pub(super) struct Shown {
    /// The needs that it does not keep, each with what it lacks, Pa².
    pub(super) lacking: Vec<(usize, f64)>,
    /// The fastest air in each of its pipes, by their links.
    pub(super) speeds: Vec<Speed>,
}

/// Squared pressures that are apart by less than this share of the tank's are
/// equal: about a pascal.
pub(super) const EQUAL: f64 = 2e-6;

/// Solves the network as it is built in all cases.
pub(super) fn shown(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    cases: &[Case],
    targets: &Targets,
    asked: &[Need],
) -> Shown {
    let piping = Piping::of(job, network, library, Wear::Aged);
    let at_tank = piping.absolute(job.cut_in());
    let (wanted, _) = needs(job, network, library, demand, cases, targets);
    let least: BTreeMap<(usize, usize), f64> = wanted
        .iter()
        .map(|need| ((need.tool, need.case), need.least))
        .collect();
    let shut_in_turn = piping.shut_in_turn();
    let mut lacking = BTreeMap::new();
    let mut fastest = vec![0.0_f64; network.link_count()];
    for (number, case) in cases.iter().enumerate() {
        let draws = draws(demand, case, network.drops.len());
        let first = asked.partition_point(|need| need.case < number);
        let of_case = asked.iter().enumerate().skip(first);
        let of_case = of_case.take_while(|(_, need)| need.case == number);
        for shut in &shut_in_turn {
            let flowing = piping.solve(at_tank, &draws, *shut).ok();
            for (index, need) in of_case.clone() {
                let foot = network.drops[need.drop].foot_at.index();
                let here = flowing.as_ref().and_then(|flowing| flowing.pressures[foot]);
                let here = here.map_or(0.0, |here| here * here);
                let least = least.get(&(need.tool, need.case)).copied();
                let lacks = least.unwrap_or(at_tank * at_tank) - here;
                if lacks > EQUAL * at_tank * at_tank {
                    let most = lacking.entry(index).or_insert(0.0_f64);
                    *most = most.max(lacks);
                }
            }
            if let (None, Some(flowing)) = (shut, &flowing) {
                for (most, speed) in fastest.iter_mut().zip(&flowing.speeds) {
                    *most = most.max(speed.unwrap_or(0.0));
                }
            }
        }
    }
    Shown {
        lacking: lacking.into_iter().collect(),
        speeds: fastest
            .into_iter()
            .map(Speed::from_metres_per_second)
            .collect(),
    }
}
