//! The job handed over: what is done before it is put under pressure, how tight it is, what
//! the machine gives, what to read under flow, how it is kept, and how it was built.

mod as_built;
mod before;
mod flow;
mod freeze;
mod gas;
mod labels;
mod machine;
mod pack;
mod pressure;
pub mod record;
mod sections;
mod sheet;
mod tightness;
mod upkeep;
pub mod worked;

pub use freeze::{Edit, Place, Written, done_with, freeze};
pub use gas::{Reading, cooled, falls_in, leaked, stored_energy};
pub use pack::{Pack, contents, head, misfit, settles_size};
pub use pressure::{Rule, Stages, rules};
pub use sections::{Part as Section, Step, litres, parts, search};
pub use sheet::{Blank, Part, Sheet};

use crate::Plan;
use crate::air::answer::{Air, answer};
use crate::drawing::{Tags, tags};
use crate::library::Library;
use crate::quantity::{Pressure, Temperature, Units, Volume};
use crate::water::{Stop, round};
use record::Record;
use worked::Worked;

/// What the user says of the handover.
#[derive(Debug, Clone, Copy, Default)]
pub struct Asked<'a> {
    /// The rule of the test that was agreed on.
    pub rule: Option<&'a Rule>,
    /// What a kWh costs.
    pub energy_price: Option<f64>,
    /// The mark of the papers, for the pack of what was built.
    pub fingerprint: &'a str,
    /// What was read on site.
    pub record: Option<&'a Record>,
}

/// What every sheet is made of.
struct Context<'a> {
    plan: &'a Plan,
    library: &'a Library,
    asked: Asked<'a>,
    tags: Tags,
    sections: Vec<Section>,
    air: Air,
    round: Vec<Stop>,
    figures: Figures,
    worked: Worked,
}

/// The figures that sheets are worked out from.
#[derive(Debug, Clone, Copy)]
pub struct Figures {
    /// What all pipe holds, litres, drops and drains too.
    pub pipe: f64,
    /// What all tanks hold; none if the job does not say.
    pub tank: Option<f64>,
    /// The highest pressure that the pipe can see, as its ratings are judged by it: that of
    /// the highest relief valve, as stated or as usual; none where nothing says it.
    pub design: Option<Pressure>,
    /// The pressures of the test; none without a rule or a pressure.
    pub stages: Option<Stages>,
    /// The energy stored in the pipe alone at the test, kJ.
    pub stored: Option<f64>,
    /// The same with the tank.
    pub stored_with_tank: Option<f64>,
}

/// The handover of a job.
#[derive(Debug, Clone)]
pub struct Handover {
    /// Its sheets.
    pub sheets: Vec<Sheet>,
    /// What they are worked out from.
    pub figures: Figures,
    /// The pipework in parts that valves shut off.
    pub sections: Vec<Section>,
    /// What was read, worked out; none without a record.
    pub readings: Option<Worked>,
}

/// A sheet's name on the command line, its title, and what writes it.
type Maker = (&'static str, &'static str, fn(&Context<'_>) -> Vec<Part>);

/// All sheets, in their order.
const SHEETS: [Maker; 6] = [
    ("before", "Before pressure", before::parts),
    ("tightness", "Tightness", tightness::parts),
    ("machine", "The machine", machine::parts),
    ("flow", "Under flow", flow::parts),
    ("upkeep", "Upkeep card", upkeep::parts),
    ("as-built", "As built", as_built::parts),
];

/// The names of all sheets, in their order.
#[must_use]
pub fn sheet_names() -> [&'static str; 6] {
    SHEETS.map(|(word, ..)| word)
}

/// Writes the sheets that are wanted, by their names.
#[must_use]
pub fn handover(
    plan: &Plan,
    library: &Library,
    asked: Asked<'_>,
    wanted: impl Fn(&str) -> bool,
) -> Handover {
    let mut context = context(plan, library, asked);
    let readings = asked.record.map(|record| Worked::of(&context, record));
    context.worked = readings.clone().unwrap_or_default();
    let wanted = SHEETS.iter().filter(|(word, ..)| wanted(word));
    let sheets = wanted.map(|(word, title, parts)| Sheet {
        word,
        title,
        card: *word == "upkeep",
        parts: parts(&context),
    });
    Handover {
        sheets: sheets.collect(),
        figures: context.figures,
        sections: context.sections,
        readings,
    }
}

fn context<'a>(plan: &'a Plan, library: &'a Library, asked: Asked<'a>) -> Context<'a> {
    let sections = parts(plan, library);
    Context {
        plan,
        library,
        asked,
        tags: tags(plan),
        figures: figures(plan, &sections, asked.rule),
        sections,
        air: answer(&plan.job, &plan.network, library),
        round: round(&plan.network, library, &plan.water),
        worked: Worked::default(),
    }
}

fn figures(plan: &Plan, sections: &[Section], rule: Option<&Rule>) -> Figures {
    let limit = plan.zones.zones.first().and_then(|zone| zone.limit_psi);
    let design = limit.map(Pressure::from_psi);
    let stages = design
        .zip(rule)
        .map(|(design, rule)| Stages::of(design, rule.factor));
    let pipe = sections.iter().map(|section| section.litres).sum();
    let tanks: Option<Vec<f64>> = plan
        .job
        .supplies
        .iter()
        .map(|supply| supply.tank.map(Volume::litres))
        .collect();
    let tank = tanks.map(|tanks| tanks.iter().sum());
    let atmosphere = plan.job.site().atmosphere;
    let at_test = stages.map(|stages| stages.test).or(design);
    let stored = |litres: f64| at_test.map(|at| stored_energy(litres, pascal(at), atmosphere));
    Figures {
        pipe,
        tank,
        design,
        stages,
        stored: stored(pipe),
        stored_with_tank: tank.and_then(|tank| stored(pipe + tank)),
    }
}

/// Numbers in their order, those that follow each other as `3 to 7`.
fn numbers(list: &[usize]) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut at = 0;
    while let Some(first) = list.get(at) {
        let run = |follows: &dyn Fn(usize, usize) -> bool| {
            let two = list[at..].windows(2);
            two.take_while(|two| follows(two[0], two[1])).count()
        };
        let up = run(&|one, next| next == one + 1);
        let long = up.max(run(&|one, next| next + 1 == one));
        match long {
            0 | 1 => words.push(first.to_string()),
            _ => words.push(format!("{first} to {}", list[at + long])),
        }
        at += if long > 1 { long + 1 } else { 1 };
    }
    words.join(", ")
}

fn pascal(pressure: Pressure) -> f64 {
    pressure.kpa() * 1_000.0
}

impl Context<'_> {
    fn atmosphere(&self) -> f64 {
        self.plan.job.site().atmosphere
    }

    /// A pressure to a tenth.
    fn fine(&self, pressure: Pressure) -> String {
        pressure.show_fine(self.plan.summary.units, 1)
    }

    fn shown(&self, pressure: Pressure) -> String {
        pressure.show(self.plan.summary.units)
    }

    /// A pressure that may not be less: up to a tenth.
    fn at_least(&self, pressure: Pressure) -> String {
        self.tenths(pressure, |tenths| (tenths - 1e-6).ceil())
    }

    /// A pressure that may not be more: down to a tenth.
    fn at_most(&self, pressure: Pressure) -> String {
        self.tenths(pressure, |tenths| (tenths + 1e-6).floor())
    }

    fn tenths(&self, pressure: Pressure, rounded: impl Fn(f64) -> f64) -> String {
        let units = self.plan.summary.units;
        let (tenth, decimals) = match units {
            Units::Feet => (Pressure::from_psi(0.1).kpa(), 1),
            Units::Metric => (10.0, 0),
        };
        let pressure = Pressure::from_kpa(rounded(pressure.kpa() / tenth) * tenth);
        pressure.show_fine(units, decimals).replace(".0 ", " ")
    }

    /// Where the highest pressure comes from, as the end of a sentence.
    fn highest_words(&self) -> &str {
        let zone = self.plan.zones.zones.first();
        zone.map_or("", |zone| zone.limit_words.as_str())
    }

    /// What pipe holds, or a day brings of water.
    fn volume(&self, litres: f64) -> String {
        crate::water::volume(litres, self.plan.summary.units)
    }

    /// The numbers and names of all outlets, in walking order.
    fn outlets(&self) -> impl Iterator<Item = (usize, &str)> {
        let outlets = self.plan.summary.outlets.iter();
        outlets.map(|outlet| (outlet.number, outlet.name.as_str()))
    }
}

/// The room in which a test is thought to begin.
const ROOM: Temperature = Temperature::from_fahrenheit(70);

#[cfg(test)]
mod tests;
