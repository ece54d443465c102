//! Why a tool does not get enough, and what mends it.

use super::State;
use super::say::Say;
use crate::air::ladder::{Blocked, Part, Step, ToolAir};
use crate::quantity::Pressure;
use std::cmp::Ordering;

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
                "Begin with a larger one; what follows may be too small as well.".to_owned(),
            ),
            None => (
                format!("at {place}"),
                "Begin with larger pipe there; what follows may be too small as well.".to_owned(),
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
        let cure = self.cure(air, step);
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
}
