//! Why a tool does not get enough, and what mends it.

use super::State;
use super::say::Say;
use crate::air::demand::Figure;
use crate::air::ladder::{Blocked, Part, Probe, Step, ToolAir, Wear};
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
            return format!("BLOCKED{worn}: {}", self.blocked(blocked, &name, &when));
        }
        let (word, wanted) = match judged.state() {
            State::Starved => (
                "STARVED",
                tool.least
                    .map(|least| format!("and needs {} to work", self.show(least.value))),
            ),
            _ => (
                "WEAK",
                tool.best
                    .map(|best| format!("and works best at {}", self.show(best.value))),
            ),
        };
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
            self.cause(air, tool.best.or(tool.least).map(|wanted| wanted.value))
        )
    }

    fn blocked(&self, blocked: &Blocked, name: &str, when: &str) -> String {
        let place = self.network.place(blocked.at);
        if blocked.cut_off {
            return format!("no way leads to {name}{when}: it ends at {place}.");
        }
        let (place, cure) = match &blocked.item {
            Some(item) if item.starts_with("hose") => {
                (format!("in its {item}"), "Take a hose of a larger bore.")
            }
            Some(item) => (
                format!("in its {item}"),
                "Take a larger one; what follows may be too small as well.",
            ),
            None => (
                format!("at {place}"),
                "Make the pipe there larger; what follows may be too small as well.",
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

    /// What takes most on the way, and what to do about it.
    fn cause(&self, air: &ToolAir, wanted: Option<Pressure>) -> String {
        if let Some(wanted) = wanted.filter(|wanted| self.air.cut_in.kpa() < wanted.kpa()) {
            return format!(
                "The compressor starts again only at {}: no pipe mends that; raise the cut-in above {} if the machine may, or take a tool that needs less.",
                self.show(self.air.cut_in),
                self.show(wanted)
            );
        }
        let held_back = air.steps.iter().find(|step| step.held_back.kpa() > 1.0);
        if let Some(step) = held_back {
            return format!(
                "Its {} holds back {}: set it higher.",
                step.item,
                self.fine(step.held_back)
            );
        }
        let most = air
            .steps
            .iter()
            .max_by(|a, b| a.loss.kpa().total_cmp(&b.loss.kpa()));
        let Some(step) = most else {
            return String::new();
        };
        let all: f64 = air.steps.iter().map(|step| step.loss.kpa()).sum();
        let cure = match step.part {
            Part::Hose => self
                .larger_hose(air)
                .unwrap_or_else(|| self.cure(step).to_owned()),
            _ => self.cure(step).to_owned(),
        };
        format!(
            "Of the {} lost on the way {} takes {}. {cure}",
            self.fine(Pressure::from_kpa(all)),
            step.item,
            self.fine(step.loss),
        )
    }

    /// The narrowest hose as long with which a tool gets what it works best at, or
    /// the widest where none does.
    fn larger_hose(&self, air: &ToolAir) -> Option<String> {
        let tool = &self.air.demand.tools[air.tool];
        let hose = tool.hose?;
        let wanted = tool.best.or(tool.least)?.value;
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
            said = Some(format!(
                "With a hose of {} as long it gets {}.",
                bore.show(self.units),
                self.show(gets)
            ));
            if gets >= wanted {
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
