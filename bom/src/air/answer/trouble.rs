//! Why a tool does not get enough, and what mends it.

use super::State;
use super::judge::READING;
use super::say::Say;
use crate::air::demand::Figure;
use crate::air::ladder::{Blocked, Part, Probe, Step, ToolAir, Wear};
use crate::air::sizes::stepped;
use crate::job::Hose;
use crate::quantity::{AirFlow, Length, Pressure, Units};
use std::cmp::Ordering;

/// Bores of hoses, in 64ths of an inch and in millimetres. Common practice, no
/// source.
const FEET_BORES: [i64; 4] = [16, 24, 32, 48];
const METRIC_BORES: [i64; 6] = [6, 8, 10, 13, 16, 19];

impl Say<'_> {
    /// Why a tool does not get enough, and what to change.
    pub(super) fn trouble(&self, number: usize) -> String {
        let (judged, tool) = (&self.air.tools[number], &self.air.demand.tools[number]);
        let name = self.tool(number);
        let air = match judged.new.state.cmp(&judged.aged.state) {
            Ordering::Greater => &self.air.new.tools[number],
            _ => &self.air.aged.tools[number],
        };
        let when = self.when(air);
        if let Some(blocked) = &air.blocked {
            let worn = match judged.new.state {
                State::Blocked => "",
                _ => " once worn",
            };
            return format!("BLOCKED{worn}: {}", self.blocked(air, blocked, &when));
        }
        let (word, lacks, wanted) = match judged.state() {
            State::Starved => ("STARVED", tool.least, "and needs {} to work"),
            _ => ("WEAK", tool.best, "and works best at {}"),
        };
        let lacks = lacks.map(|lacks| lacks.value);
        let wanted = lacks.map(|lacks| wanted.replace("{}", &self.show(lacks)));
        let gets = |pressure: Option<Pressure>| {
            pressure.map_or_else(|| "nothing".to_owned(), |pressure| self.show(pressure))
        };
        let (new, aged) = (gets(judged.new.gets), gets(judged.aged.gets));
        let got = if judged.new.state != judged.aged.state {
            format!(
                "gets {new} as new, {} worn ({})",
                aged,
                judged.aged.state.word()
            )
        } else if new == aged {
            format!("gets {new}")
        } else {
            format!("gets {new} as new, {aged} worn")
        };
        let wanted = wanted.unwrap_or_default();
        format!(
            "{word}: {name} {got}{when}, {wanted}. {}",
            self.cause(air, lacks)
        )
    }

    fn blocked(&self, air: &ToolAir, blocked: &Blocked, when: &str) -> String {
        let place = self.network.place(blocked.at);
        let name = self.tool(air.tool);
        if blocked.cut_off {
            return format!("no way leads to {name}{when}: it ends at {place}.");
        }
        let (place, cure) = match &blocked.item {
            Some(item) if item.starts_with("hose") => (
                format!("in its {item}"),
                self.larger_hose(air)
                    .unwrap_or_else(|| "No bore of hose mends that alone.".to_owned()),
            ),
            Some(item) => (
                format!("in its {item}"),
                "Take a larger one; what follows may be too small as well.".to_owned(),
            ),
            None => (
                format!("at {place}"),
                "Make the pipe there larger; what follows may be too small as well.".to_owned(),
            ),
        };
        format!(
            "the air does not get through to {name}{when}: {place} the pressure would fall to nothing. {cure}"
        )
    }

    /// In which case it is, where that is not the tool alone.
    fn when(&self, air: &ToolAir) -> String {
        let mut words = String::new();
        // A tool's own case stands at its own number.
        if air.case != air.tool {
            let cases = &self.air.aged.cases;
            let name = cases.get(air.case).map_or("", |case| &case.name);
            words = format!(", with {name}");
        }
        if let Some(valve) = air.shut.and_then(|at| self.network.valve_at(at)) {
            words += &format!(", with valve {} shut", valve.name);
        }
        words
    }

    /// What takes most on the way to a tool that lacks this pressure, and what to
    /// do about it.
    fn cause(&self, air: &ToolAir, lacks: Option<Pressure>) -> String {
        if let Some(lacks) = lacks.filter(|lacks| self.air.cut_in.kpa() < lacks.kpa()) {
            return self.low_cut_in(lacks);
        }
        let all: f64 = air.steps.iter().map(|step| step.loss.kpa()).sum();
        let lost = self.fine(Pressure::from_kpa(all));
        let by = lacks.zip(air.gets);
        let by = by.map_or(0.0, |(lacks, gets)| lacks.kpa() - gets.kpa());
        let held_back = |step: &&Step| step.held_back.kpa() > 1.0;
        let regulators: Vec<&Step> = air.steps.iter().filter(held_back).collect();
        let low = regulators.iter().find(|step| step.held_back.kpa() >= by);
        let higher = |step: &Step| {
            let whose = match step.part {
                Part::Connection => "The {} behind the tank",
                _ => "Its {}",
            };
            let whose = whose.replace("{}", &step.item);
            format!("{whose} holds back {}: set it", self.fine(step.held_back))
        };
        if let Some(step) = low {
            let by = Pressure::from_kpa(by);
            return format!("{} at least {} higher.", higher(step), self.fine(by));
        }
        let most = air
            .steps
            .iter()
            .max_by(|a, b| a.loss.kpa().total_cmp(&b.loss.kpa()));
        let Some(step) = most else {
            return String::new();
        };
        let found = match step.part {
            Part::Hose => self.larger_hose(air),
            Part::Main => self.larger_main(air),
            Part::Connection | Part::Drop | Part::Side => None,
        };
        let cure = found.unwrap_or_else(|| self.cure(step).to_owned());
        let too = regulators.first();
        let too = too.map_or_else(String::new, |step| {
            format!(" {} higher too: that alone is not enough.", higher(step))
        });
        format!(
            "Of the {lost} lost on the way {} takes {}. {cure}{too}",
            step.item,
            self.fine(step.loss),
        )
    }

    /// The tank itself may have less than a tool lacks.
    fn low_cut_in(&self, lacks: Pressure) -> String {
        let wanted = self.show(lacks);
        let cure = match self.job.cut_out() {
            Some(cut_out) if cut_out.kpa() <= lacks.kpa() => format!(
                "it stops at {} already: take a tool that needs less, or give this one a machine of its own",
                self.show(cut_out)
            ),
            _ => format!(
                "raise the cut-in above {wanted} if the machine may, or take a tool that needs less"
            ),
        };
        format!(
            "The compressor starts again only at {}, and no pipe mends that; {cure}.",
            self.show(self.air.cut_in)
        )
    }

    /// What a tool aims at: what it works best at, if the tank has that.
    fn aim(&self, air: &ToolAir) -> Option<Pressure> {
        let tool = &self.air.demand.tools[air.tool];
        let best = tool.best.map(|best| best.value);
        let there = |best: &Pressure| best.kpa() <= self.air.cut_in.kpa();
        best.filter(there).or(tool.least.map(|least| least.value))
    }

    /// What a main of the next larger size does.
    fn larger_main(&self, air: &ToolAir) -> Option<String> {
        let larger = stepped(self.network, self.library, Ordering::Greater)?;
        let demand = &self.air.demand;
        let probe = Probe::of(self.job, &larger, self.library, demand, Wear::Aged);
        let none = AirFlow::from_litres_per_second(0.0);
        let gets = probe.tool(air, &self.air.aged.cases, 0, none)?.gets?;
        Some(format!(
            "With all of the main a size larger it gets {}.",
            self.show(gets)
        ))
    }

    /// The narrowest hose as long with which a tool gets what it aims at, or the
    /// widest where none does.
    fn larger_hose(&self, air: &ToolAir) -> Option<String> {
        let tool = &self.air.demand.tools[air.tool];
        let hose = tool.hose?;
        let wanted = self.aim(air)?;
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
            let probe = Probe::of(self.job, self.network, self.library, &demand, Wear::Aged);
            let none = AirFlow::from_litres_per_second(0.0);
            let then = probe.tool(air, &self.air.aged.cases, 0, none)?;
            let Some(gets) = then.gets else { continue };
            let enough = gets.kpa() * READING >= wanted.kpa();
            let even = if enough { "With" } else { "Even with" };
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

    fn cure(&self, step: &Step) -> &'static str {
        match (step.part, self.device(step)) {
            (Part::Hose, _) => "Take a hose of the next larger bore, or a shorter one.",
            (_, Some("coupler")) => "Take the next larger coupler, with its plug.",
            (_, Some("filter")) => "Change its element, or take the next larger filter.",
            (_, Some("hose")) => "Take a larger hose there, or a shorter one.",
            (_, Some(_)) => "Take the next larger one.",
            (Part::Main, None) => "Make that leg a size larger.",
            (_, None) => "Make the drop a size larger.",
        }
    }
}
