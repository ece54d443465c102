//! The answer in sentences: the supply first, since no pipe mends that; then the
//! tools, the main, what else takes pressure, and what more there is room for.

use super::{Air, Judged, State};
use crate::air::ladder::{Fast, Part, Step, ToolAir};
use crate::job::Job;
use crate::library::Library;
use crate::network::{Network, NodeKind};
use crate::quantity::{AirFlow, Pressure, Speed, Units};

/// The part of the tank's pressure that a main may take and be fine. Common
/// practice, no source: 1 to 3 %.
const FINE: f64 = 0.03;

/// What takes less of the tank's pressure is not worth a sentence where its tool
/// gets enough.
const WORTH_A_WORD: f64 = 0.02;

/// So many times what a tool works best at wear it out. Common practice, no
/// source.
const TOO_MUCH: f64 = 1.1;

/// So little more air, l/s, is none: what is printed is no finer.
const NOTHING: f64 = 0.024;

/// More troubled tools than these stand in the table alone.
const MOST_TROUBLED: usize = 12;

/// All of them.
pub(super) fn sentences(air: &Air, job: &Job, network: &Network, library: &Library) -> Vec<String> {
    let say = Say {
        air,
        job,
        network,
        library,
        units: job.units,
    };
    let mut said = vec![format!("{}.", air.supply.line)];
    if air.demand.tools.is_empty() {
        said.extend(say.speeds());
        return said;
    }
    said.push(say.all_tools());
    if air.supply.duty.is_some_and(|duty| duty > 1.0) {
        said.push(format!(
            "That is so while the tank holds its cut-in of {}: as the compressor falls behind, every tool falls with it.",
            say.show(air.cut_in)
        ));
    }
    let mut troubled: Vec<(usize, &Judged)> = air.tools.iter().enumerate().collect();
    troubled.retain(|(_, tool)| tool.state() > State::Unknown);
    troubled.sort_by_key(|(number, tool)| (std::cmp::Reverse(tool.state()), *number));
    let mut troubles: Vec<(String, usize)> = Vec::new();
    let mut told = 0;
    for (number, _) in &troubled {
        let trouble = say.trouble(*number);
        let told_already = troubles.iter().position(|(one, _)| *one == trouble);
        match told_already {
            Some(at) => troubles[at].1 += 1,
            None if troubles.len() == MOST_TROUBLED => break,
            None => troubles.push((trouble, 0)),
        }
        told += 1;
    }
    said.extend(troubles.into_iter().map(|(trouble, alike)| match alike {
        0 => trouble,
        1 => format!("{trouble} So it is with 1 other like it there."),
        alike => format!("{trouble} So it is with {alike} others like it there."),
    }));
    match troubled.len() - told {
        0 => {}
        1 => said.push("1 more tool: see the table.".to_owned()),
        more => said.push(format!("{more} more tools: see the table.")),
    }
    said.extend(say.too_much());
    said.extend(say.main());
    let is_hose = |step: &Step| step.part == Part::Hose;
    said.extend(say.more_than_pipe("hose", "hoses", &is_hose));
    let is_coupler = |step: &Step| say.device(step) == Some("coupler");
    said.extend(say.more_than_pipe("coupler", "couplers", &is_coupler));
    said.extend(say.room());
    said.extend(say.speeds());
    said
}

/// What the sentences are made of.
pub(super) struct Say<'a> {
    pub(super) air: &'a Air,
    pub(super) job: &'a Job,
    pub(super) network: &'a Network,
    pub(super) library: &'a Library,
    pub(super) units: Units,
}

impl Say<'_> {
    pub(super) fn show(&self, pressure: Pressure) -> String {
        pressure.show(self.units)
    }

    /// A loss, finer than a gauge.
    pub(super) fn fine(&self, pressure: Pressure) -> String {
        pressure.show_fine(self.units, 1)
    }

    /// `orbital sander at bench`.
    pub(super) fn tool(&self, number: usize) -> String {
        let tool = &self.air.demand.tools[number];
        format!(
            "{} at {}",
            tool.name, self.job.outlets[tool.outlet].name.value
        )
    }

    /// `the orbital sander at bench`.
    fn the_tool(&self, number: usize) -> String {
        let tool = &self.air.demand.tools[number];
        let outlet = &self.job.outlets[tool.outlet].name.value;
        format!("{} at {outlet}", tool.with_article())
    }

    pub(super) fn device(&self, step: &Step) -> Option<&str> {
        let NodeKind::Device { device, .. } = self.network.node(step.device?).kind else {
            return None;
        };
        Some(&self.library.devices()[device].name)
    }

    fn all_tools(&self) -> String {
        let count = |state| {
            let tools = self.air.tools.iter();
            tools.filter(|tool| tool.state() == state).count()
        };
        let all = self.air.tools.len();
        let enough = count(State::Enough);
        let best = "at least the pressure at which it works best, as new and worn";
        let first = match (enough, all) {
            (1, 1) => return format!("The one tool gets {best}."),
            (enough, all) if enough == all => {
                return format!("Each of the {all} tools gets {best}.");
            }
            (0, 1) => "The one tool does not get the pressure at which it works best".to_owned(),
            (0, all) => format!("None of the {all} tools gets the pressure at which it works best"),
            (1, all) => format!("1 of {all} tools gets the pressure at which it works best"),
            (enough, all) => {
                format!("{enough} of {all} tools get the pressure at which they work best")
            }
        };
        let others = [
            (State::Blocked, "gets no air at all", "get no air at all"),
            (
                State::Starved,
                "is starved: less than it needs to work",
                "are starved: less than they need to work",
            ),
            (State::Weak, "runs weak", "run weak"),
            (
                State::Unknown,
                "says no pressure that it needs",
                "say no pressure that they need",
            ),
        ];
        let others = others.into_iter().filter_map(|(state, one, many)| {
            let words = match count(state) {
                0 => return None,
                1 => format!("1 {one}"),
                count => format!("{count} {many}"),
            };
            Some(words)
        });
        let others: Vec<String> = others.collect();
        format!("{first}; {}.", others.join("; "))
    }

    /// Tools that get more than they work best at even while the tank is at its
    /// lowest.
    fn too_much(&self) -> Option<String> {
        let tools = self.air.tools.iter().enumerate();
        let over = tools.filter_map(|(number, judged)| {
            let best = self.air.demand.tools[number].best?.value;
            let gets = judged.new.gets?;
            let times = gets.kpa() / best.kpa();
            (times > TOO_MUCH).then_some((times, number, gets, best))
        });
        let mut over: Vec<_> = over.collect();
        over.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let (_, number, gets, best) = over.first()?;
        let others = match over.len() {
            1 => String::new(),
            2 => " 1 other tool gets too much as well.".to_owned(),
            count => format!(" {} other tools get too much as well.", count - 1),
        };
        Some(format!(
            "TOO MUCH: {} gets {} even while the tank is at its lowest, and works best at {}. A regulator on its side, set to that, mends it.{others}",
            self.tool(*number),
            self.show(*gets),
            self.show(*best)
        ))
    }

    fn main(&self) -> Option<String> {
        let takes = self.air.main_takes?;
        let part = takes.kpa() / self.air.cut_in.kpa();
        if part <= FINE {
            return Some(format!(
                "The main is fine: it takes at most {}.",
                self.fine(takes)
            ));
        }
        let steps = self.air.aged.tools.iter().flat_map(|tool| &tool.steps);
        let most = steps
            .filter(|step| step.part == Part::Main)
            .max_by(|a, b| a.loss.kpa().total_cmp(&b.loss.kpa()));
        let most = most.map_or_else(String::new, |step| {
            format!("; most of it {}, {}", step.item, self.fine(step.loss))
        });
        Some(format!(
            "The main takes up to {}, {:.0} % of the {} at the tank, where 1 to 3 % is usual (common practice, no source){most}.",
            self.fine(takes),
            part * 100.0,
            self.show(self.air.cut_in)
        ))
    }

    /// The hose or coupler that takes most, where it takes more than all pipe on
    /// its way.
    fn more_than_pipe(&self, one: &str, many: &str, of: &dyn Fn(&Step) -> bool) -> Option<String> {
        let worth = WORTH_A_WORD * self.air.cut_in.kpa();
        // Of the others it is said already what takes most.
        let served = |tool: &&ToolAir| self.air.tools[tool.tool].state() < State::Weak;
        let found = self.air.aged.tools.iter().filter(served);
        let found = found.filter_map(|tool| {
            let step = tool.steps.iter().rev().find(|step| of(step))?;
            let pipe = tool.takes(Part::Main).kpa() + tool.takes(Part::Drop).kpa();
            let most = step.loss.kpa();
            (most > pipe && most > worth).then_some((tool, step, pipe))
        });
        let mut found: Vec<_> = found.collect();
        found.sort_by(|a, b| b.1.loss.kpa().total_cmp(&a.1.loss.kpa()));
        let (tool, step, pipe) = found.first()?;
        let size = step.item.strip_prefix(one).unwrap_or(&step.item).trim();
        let others = match found.len() {
            1 => String::new(),
            2 => format!(" So does 1 other {one}."),
            count => format!(" So do {} other {many}.", count - 1),
        };
        Some(format!(
            "The {size} {one} of {} takes {}, more than all pipe on its way, which takes {}.{others}",
            self.the_tool(tool.tool),
            self.fine(step.loss),
            self.fine(Pressure::from_kpa(*pipe))
        ))
    }

    fn room(&self) -> Option<String> {
        let worst = self.air.worst?;
        let judged = &self.air.tools[worst];
        let spare = judged.to_spare.filter(|spare| spare.kpa() >= 0.0)?;
        let name = self.the_tool(worst);
        let room = self.air.spare.as_ref();
        let bounds = room.map_or_else(Vec::new, |room| {
            let limits = self.air.limits;
            let too_fast = |what, limit: Speed| {
                format!("before {what} runs faster than {}", limit.show(self.units))
            };
            let bounds = [
                (
                    room.until_least.map(|until| until.more),
                    "before that".to_owned(),
                ),
                (room.until_fast_main, too_fast("the main", limits.main)),
                (room.until_fast_drop, too_fast("its drop", limits.drop)),
            ];
            bounds
                .into_iter()
                .filter_map(|(flow, why)| Some((flow?, why)))
                .collect()
        });
        let by_flow = |flow: &AirFlow| flow.litres_per_second();
        let least = bounds
            .iter()
            .min_by(|a, b| by_flow(&a.0).total_cmp(&by_flow(&b.0)));
        let more = least.map_or_else(String::new, |(flow, why)| {
            if flow.litres_per_second() < NOTHING {
                let why = why
                    .replacen("before ", "", 1)
                    .replacen("runs", "already runs", 1);
                return format!(" The pipe has no room for more there: {why}.");
            }
            let compressor = match self.air.supply.spare {
                Some(spare) if spare.litres_per_second() > 0.0 => {
                    format!("; the compressor has {} left", spare.show(self.units))
                }
                Some(_) => "; the compressor has nothing left".to_owned(),
                None => String::new(),
            };
            format!(
                " The pipe has room for {} more there {why}{compressor}.",
                flow.show(self.units)
            )
        });
        Some(format!(
            "Worst off is {name}: {} more could be lost on its way before it gets less than it needs.{more}",
            self.fine(spare)
        ))
    }

    /// The fastest air in the main and in the drops, against what is usual.
    fn speeds(&self) -> Vec<String> {
        let places = [
            (true, self.air.limits.main, "the main"),
            (false, self.air.limits.drop, "the drops"),
        ];
        let places = places.into_iter().filter_map(|(main, limit, words)| {
            let pipes = self.air.aged.fastest.iter();
            let pipes = pipes.filter(|fast| super::in_main(self.network, fast.link) == main);
            let pipes: Vec<&Fast> = pipes.collect();
            let fastest = pipes.first()?;
            let [speed, limit_words] = fastest.speed.beside(limit, self.units);
            let too_fast = pipes.iter().filter(|fast| fast.speed > limit).count();
            Some(match too_fast {
                0 => format!("The air runs at {speed} at most in {words}, where {limit_words} is the limit."),
                _ => format!(
                    "The air runs too fast in {words}: {speed} in {}, where {limit_words} is the limit.",
                    super::part_of(self.network, fastest.link)
                ),
            })
        });
        places.collect()
    }
}
