//! A shut-in part that was watched: what was read, the sum, and where to look next.

use super::fall::{Fall, Fell, fell};
use super::remarks;
use super::say::{Sum, lasted};
use crate::handover::record;
use crate::handover::sheet::{Blank, Part};
use crate::handover::tightness::{mark_of, step_words};
use crate::handover::{Context, ROOM, cooled, numbers, pascal, search};
use crate::quantity::{Pressure, Temperature, Units};

/// A room's temperature less some cooling, and how much that is.
fn cooling(units: Units) -> (Temperature, &'static str) {
    match units {
        Units::Feet => (Temperature::from_fahrenheit(65), "5 F"),
        Units::Metric => (Temperature::from_kelvin(ROOM.kelvin() - 3.0), "3 C"),
    }
}

/// A part that was watched.
#[derive(Debug, Clone)]
pub struct Tightness {
    /// What was read.
    pub read: record::Tightness,
    /// The part's letter, or `all`.
    pub part: String,
    /// What it holds.
    pub litres: f64,
    /// One mark of the gauge: as noted, else that of a usual one.
    pub mark: Pressure,
    /// What follows.
    pub fall: Fall,
    /// What it means, in words.
    pub words: String,
}

impl Tightness {
    pub(super) fn of(context: &Context<'_>, read: &record::Tightness) -> Self {
        let part = read.part.and_then(|at| context.sections.get(at));
        let (letter, litres) = part.map_or(("all", context.figures.pipe), |part| {
            (part.letter.as_str(), part.litres)
        });
        let mark = read.mark.unwrap_or(mark_of(context.plan.summary.units));
        let fall = fell(litres, read, mark, context.atmosphere());
        let worked = Self {
            read: read.clone(),
            part: letter.to_owned(),
            litres,
            mark,
            fall,
            words: String::new(),
        };
        Self {
            words: worked.verdict(context),
            ..worked
        }
    }

    fn verdict(&self, context: &Context<'_>) -> String {
        let sum = Sum::of(context);
        let (fall, mark) = (&self.fall, sum.pressure(self.mark));
        match fall.fell {
            Fell::Falls if fall.still.is_none() => format!(
                "Falls by {} as it was read. The pipe's temperature was not read, so that this may be cooling as well as a leak: {} alone looks like {}. Were it all leak, it would be {}. Read again with a thermometer.",
                sum.pressure(fall.left),
                cooling(context.plan.summary.units).1,
                sum.pressure(self.looks_like(context)),
                sum.flow(fall.leak)
            ),
            Fell::Stands if fall.still.is_none() => format!(
                "No fall beyond one mark of the gauge ({mark}). The pipe's temperature was not read: had it warmed, that would hide a leak. Read again with a thermometer."
            ),
            Fell::Stands => format!(
                "No fall beyond one mark of the gauge ({mark}). A leak of less than {} would not show in this reading; whether that is enough is for the local code or the contract to say.",
                sum.flow(fall.sees)
            ),
            Fell::Falls => format!(
                "Falls by {}: a leak of {}. {}",
                sum.pressure(fall.left),
                sum.flow(fall.leak),
                self.next(context)
            ),
            Fell::Rises if fall.still.is_none() => format!(
                "Rises by {}. The pipe's temperature was not read, so that nothing says whether it is warming: read again with a thermometer.",
                sum.pressure(Pressure::from_kpa(-fall.left.kpa()))
            ),
            Fell::Rises => format!(
                "A reading that cannot be: shut-in air does not rise by {} on its own. A valve to the tank lets air in, or a figure was misread: read again.",
                sum.pressure(Pressure::from_kpa(-fall.left.kpa()))
            ),
        }
    }

    /// What some cooling takes off the first reading.
    fn looks_like(&self, context: &Context<'_>) -> Pressure {
        let (cold, _) = cooling(context.plan.summary.units);
        let first = pascal(self.read.first.gauge);
        let shows = cooled(first, ROOM, cold, context.atmosphere());
        Pressure::from_kpa((first - shows) / 1_000.0)
    }

    /// Where to look next.
    fn next(&self, context: &Context<'_>) -> String {
        let part = self.read.part.and_then(|at| context.sections.get(at));
        let steps = search(&context.sections);
        match (part, steps.first()) {
            (None, Some(step)) => format!("Next: {}", step_words(step)),
            (Some(part), Some(_)) if part.outlets.is_empty() => {
                format!("Next: soap part {}.", part.letter)
            }
            (Some(part), Some(_)) => format!(
                "Next: soap part {}, what hangs on its outlets ({}) first.",
                part.letter,
                numbers(&part.outlets)
            ),
            (_, None) => "Next: soap from the tank outwards, joint by joint.".to_owned(),
        }
    }

    /// What was read, the sum, and the result.
    pub(in crate::handover) fn parts(&self, context: &Context<'_>) -> Vec<Part> {
        let (sum, units) = (Sum::of(context), context.plan.summary.units);
        let row = |label: &str, time: &str, shown: &record::Shown| {
            let pipe = shown.pipe.map_or_else(String::new, |pipe| pipe.show(units));
            vec![
                Blank::filled(&format!("{label}: day, time"), time),
                Blank::filled("Gauge", &sum.pressure(shown.gauge)),
                Blank::filled("Pipe's temperature", &pipe),
            ]
        };
        let leak = match self.fall.fell {
            _ if self.fall.still.is_none() => String::new(),
            Fell::Falls => sum.flow(self.fall.leak),
            Fell::Stands => format!("not above {}", sum.flow(self.fall.sees)),
            Fell::Rises => "none can be worked out".to_owned(),
        };
        // Without a thermometer nothing is left of a fall that could be written down.
        let left = self.fall.still.map(|_| sum.pressure(self.fall.left));
        let left = left.unwrap_or_default();
        let title = if self.part == "all" {
            "The whole pipework".to_owned()
        } else {
            format!("Part {}", self.part)
        };
        let mut parts = vec![
            Part::Note(format!(
                "{title}, watched for {}:",
                lasted(self.read.seconds)
            )),
            Part::Blanks(vec![
                row("Begun", &self.read.times.0, &self.read.first),
                row("Ended", &self.read.times.1, &self.read.last),
                vec![
                    Blank::filled("Fall that is left when the cooling is taken off", &left),
                    Blank::filled("Lost air", &leak),
                ],
            ]),
            Part::Points(self.sums(&sum)),
            Part::Caution(self.words.clone()),
        ];
        parts.extend(remarks(&self.read.remarks));
        parts
    }

    fn sums(&self, sum: &Sum) -> Vec<String> {
        let (first, last, outside) = (&self.read.first, &self.read.last, sum.outside());
        let temperatures = first.pipe.zip(last.pipe);
        let temperatures =
            temperatures.map(|(before, after)| (sum.absolute(before), sum.absolute(after)));
        let mut sums = Vec::new();
        let still = self.fall.still;
        if let Some((still, (before, after))) = still.zip(temperatures.as_ref()) {
            sums.push(format!(
                "Still air, cooled alike: ({} + {outside}) x {after} / {before} - {outside} = {}; read {}, less by {}",
                sum.gauge(first.gauge),
                sum.pressure(still),
                sum.pressure(last.gauge),
                sum.pressure(self.fall.left),
            ));
        }
        if self.fall.fell == Fell::Falls {
            let back = temperatures.map_or_else(String::new, |(before, after)| {
                format!(" x {before} / {after}")
            });
            sums.push(format!(
                "Lost air: holds x fall / air outside / time = {} x {} / {outside}{back} / {} = {}",
                sum.volume(self.litres),
                sum.gauge(self.fall.left),
                sum.time(self.read.seconds),
                sum.flow(self.fall.leak)
            ));
        }
        sums
    }
}
