//! Room for one more: how much more air can be drawn at an outlet.

use super::{Air, in_main};
use crate::air::answer::judge::State;
use crate::air::ladder::{Probe, Wear};
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;
use crate::quantity::AirFlow;

/// How much more air can be drawn at an outlet's foot, as free air at sea level
/// and 20 C. Whether the compressor has it is another question.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// Index into the job's outlets.
    pub outlet: usize,
    /// Until one of its own tools, or the tool of the shop that is worst off and
    /// not starved already, falls to its least pressure. None where nothing says
    /// what they need.
    pub until_least: Option<Until>,
    /// Until the main on its way runs too fast.
    pub until_fast_main: Option<AirFlow>,
    /// Until its drop runs too fast.
    pub until_fast_drop: Option<AirFlow>,
}

/// How much air until a tool has only its least pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Until {
    /// How much.
    pub more: AirFlow,
    /// The tool, by its number in the demand.
    pub tool: usize,
}

/// In a shop with more outlets, only that of the worst off tool is asked for:
/// every answer takes dozens of solutions.
pub const MOST_OUTLETS: usize = 40;

/// No shop draws more at once, l/s: nothing holds the search back until then.
const MOST: f64 = 1e5;

/// As near as the answer comes.
const NEAR: f64 = 1e-3;

/// How much more air there is room for at each outlet, or where there are more than
/// [`MOST_OUTLETS`] at that of the tool that is worst off.
#[must_use]
pub fn rooms(air: &Air, job: &Job, network: &Network, library: &Library) -> Vec<Room> {
    if job.outlets.len() > MOST_OUTLETS {
        return air.spare.iter().cloned().collect();
    }
    let all: Vec<usize> = (0..network.drops.len()).collect();
    rooms_at(&all, air, job, network, library)
}

/// The rooms of these outlets.
pub(super) fn rooms_at(
    outlets: &[usize],
    air: &Air,
    job: &Job,
    network: &Network,
    library: &Library,
) -> Vec<Room> {
    let served = |tool: &usize| air.tools[*tool].aged.state < State::Starved;
    let spare = |tool: &usize| Some((air.tools[*tool].to_spare?.kpa(), *tool));
    let served: Vec<usize> = (0..air.tools.len()).filter(served).collect();
    let least = served.iter().filter_map(spare);
    let least = least
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, tool)| tool);
    let probe = Probe::of(job, network, library, &air.demand, Wear::Aged);
    let asked = outlets.iter().map(|&outlet| {
        let own = (0..air.tools.len()).filter(|tool| air.demand.tools[*tool].outlet == outlet);
        let held: Vec<usize> = own.chain(least).collect();
        let fast = |limit, main| {
            let pipe = |link| in_main(network, link) == main;
            probe.until_fast(&air.aged, outlet, limit, pipe)
        };
        Room {
            outlet,
            until_least: until_least(air, &probe, outlet, &held),
            until_fast_main: fast(air.limits.main, true),
            until_fast_drop: fast(air.limits.drop, false),
        }
    });
    asked.collect()
}

/// Until the first of these tools falls to its least.
fn until_least(air: &Air, probe: &Probe<'_>, outlet: usize, tools: &[usize]) -> Option<Until> {
    let mut first: Option<Until> = None;
    for tool in tools {
        let Some(least) = air.demand.tools[*tool].least else {
            continue;
        };
        let gets = |more: f64| {
            let more = AirFlow::from_litres_per_second(more);
            let of_tool = &air.aged.tools[*tool];
            let then = probe.tool(of_tool, &air.aged.cases, outlet, more);
            then.and_then(|then| then.gets)
        };
        let lasts = |more: f64| gets(more).is_some_and(|gets| gets.kpa() >= least.value.kpa());
        let most = first.map_or(MOST, |first| first.more.litres_per_second());
        if lasts(most) {
            continue;
        }
        let (mut low, mut high) = (0.0, 1.0_f64.min(most));
        while high < most && lasts(high) {
            (low, high) = (high, (high * 2.0).min(most));
        }
        while high - low > NEAR * high && high > NEAR {
            let middle = low.midpoint(high);
            if lasts(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        first = Some(Until {
            more: AirFlow::from_litres_per_second(low),
            tool: *tool,
        });
    }
    first
}
