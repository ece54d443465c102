//! The pressure that tools want at the feet of their drops.

use crate::air::demand::Demand;
use crate::air::ladder::Wear;
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::Piping;
use crate::air::ladder::steps::Sides;
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;

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
}

/// The pressure of a tool is read no closer than this, Pa: a thousandth of a bar.
const CLOSE: f64 = 100.0;

/// What every tool wants in each case in which it runs, and the tools that do
/// not get theirs even where the whole pressure of the tank stands at the foot.
pub(super) fn needs(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    cases: &[Case],
) -> (Vec<Need>, Vec<usize>) {
    let piping = Piping::of(job, network, library, Wear::Aged);
    let sides = Sides::of(&piping, job, demand);
    let at_tank = piping.absolute(job.cut_in());
    let (mut needs, mut beyond_help) = (Vec::new(), Vec::new());
    for (number, case) in cases.iter().enumerate() {
        for tool in &case.running {
            let one = &demand.tools[*tool];
            let Some(wanted) = one.best.or(one.least) else {
                continue;
            };
            let wanted = piping.absolute(wanted.value);
            let reaches = |foot: f64| {
                let at_tool = sides.at_tool(case, *tool, foot);
                at_tool.is_some_and(|at_tool| at_tool + CLOSE >= wanted)
            };
            if !reaches(at_tank) {
                beyond_help.push(*tool);
                continue;
            }
            let (mut low, mut high) = (0.0, at_tank);
            while high - low > CLOSE {
                let middle = low.midpoint(high);
                if reaches(middle) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            needs.push(Need {
                tool: *tool,
                drop: one.outlet,
                case: number,
                least: high * high,
            });
        }
    }
    needs.retain(|need| !beyond_help.contains(&need.tool));
    beyond_help.sort_unstable();
    beyond_help.dedup();
    (needs, beyond_help)
}

/// The needs that the whole network does not keep as it is built, each with what
/// it lacks, Pa².
pub(super) fn lacking(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    cases: &[Case],
    asked: &[Need],
) -> Vec<(usize, f64)> {
    /// What is asked for on top beyond what lacks, so that the next round does.
    const MORE: f64 = 1.05;
    let piping = Piping::of(job, network, library, Wear::Aged);
    let at_tank = piping.absolute(job.cut_in());
    let (wanted, _) = needs(job, network, library, demand, cases);
    let mut lacks = Vec::new();
    for (number, case) in cases.iter().enumerate() {
        let of_case = || {
            asked
                .iter()
                .enumerate()
                .filter(|(_, need)| need.case == number)
        };
        if of_case().next().is_none() {
            continue;
        }
        let draws = draws(demand, case, network.drops.len());
        for shut in piping.shut_in_turn() {
            let Ok(flowing) = piping.solve(at_tank, &draws, shut) else {
                continue;
            };
            for (index, need) in of_case() {
                let foot = network.drops[need.drop].foot_at;
                let here = flowing.pressures[foot.index()].map_or(0.0, |here| here * here);
                let same = |one: &&Need| (one.tool, one.case) == (need.tool, need.case);
                let least = wanted.iter().find(same).map_or(0.0, |one| one.least);
                if here < least {
                    lacks.push((index, (least - here) * MORE));
                }
            }
        }
    }
    lacks
}
