//! What a machine delivers by the time in which it pumped up, against its plate.

use super::remarks;
use super::say::{Sum, lasted};
use crate::air::receiver::pumped;
use crate::handover::sheet::{Blank, Part};
use crate::handover::{Context, ROOM, pascal, record};
use crate::quantity::{AirFlow, Temperature, Units};

/// How far what is delivered may be off the plate, by the plate's m3/min. ISO 1217,
/// annex C, from memory.
const TOLERANCES: [(f64, f64); 3] = [(0.5, 0.07), (1.5, 0.06), (15.0, 0.05)];
/// Above them all.
const LARGEST: f64 = 0.04;
/// 1 m3/min, l/s.
const CUBIC_METRE: f64 = 1_000.0 / 60.0;

/// What was delivered against the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plate {
    /// No further off than the plate may be.
    Within,
    /// Less.
    Below,
    /// More.
    Above,
}

/// A machine's test, worked out.
#[derive(Debug, Clone)]
pub struct Machine {
    /// What was read.
    pub read: record::Machine,
    /// The machine's name.
    pub name: String,
    /// What it filled; none if the job states no tank for it.
    pub litres: Option<f64>,
    /// What it delivers, free air.
    pub delivers: Option<AirFlow>,
    /// What its plate says.
    pub plate: Option<AirFlow>,
    /// The one as a part of the other.
    pub share: Option<f64>,
    /// What of it would be heat and no air, had the tank warmed by [`warming`] meanwhile.
    pub heat: f64,
    /// What that means.
    pub against: Option<Plate>,
}

/// What a machine delivers that filled so many litres.
#[must_use]
pub fn delivered(litres: f64, read: &record::Machine, atmosphere: f64) -> Option<AirFlow> {
    let (from, to) = (pascal(read.from), pascal(read.to));
    pumped(litres, from, to, read.seconds, atmosphere).map(AirFlow::from_litres_per_second)
}

/// How far a machine may be off its plate, as a part of it.
#[must_use]
pub fn plate_tolerance(plate: AirFlow) -> f64 {
    let flow = plate.litres_per_second() / CUBIC_METRE;
    let found = TOLERANCES.iter().find(|(most, _)| flow <= *most);
    found.map_or(LARGEST, |(_, tolerance)| *tolerance)
}

/// What a tank may warm by while it is pumped up, for what that does to the reading.
fn warming(units: Units) -> (Temperature, &'static str) {
    match units {
        Units::Feet => (Temperature::from_fahrenheit(90), "20 F"),
        Units::Metric => (Temperature::from_kelvin(ROOM.kelvin() + 10.0), "10 C"),
    }
}

impl Machine {
    pub(super) fn of(context: &Context<'_>, read: &record::Machine) -> Self {
        let supply = context.plan.job.supplies.get(read.supply);
        let tank = supply.and_then(|supply| supply.tank);
        let pipe = if read.with_pipe {
            context.figures.pipe
        } else {
            0.0
        };
        let litres = tank.map(|tank| tank.litres() + pipe);
        let delivers = litres.and_then(|litres| delivered(litres, read, context.atmosphere()));
        let plate = supply.and_then(|supply| supply.free_air);
        let share = delivers.zip(plate);
        let share = share.map(|(flow, plate)| flow.litres_per_second() / plate.litres_per_second());
        let against = share.zip(plate).map(|(share, plate)| {
            let tolerance = plate_tolerance(plate);
            if share < 1.0 - tolerance {
                Plate::Below
            } else if share > 1.0 + tolerance {
                Plate::Above
            } else {
                Plate::Within
            }
        });
        let (warm, _) = warming(context.plan.summary.units);
        let heated = 1.0 - ROOM.kelvin() / warm.kelvin();
        let rise = pascal(read.to) - pascal(read.from);
        Self {
            name: supply.map_or_else(String::new, |supply| supply.name.value.clone()),
            litres,
            delivers,
            plate,
            share,
            heat: (pascal(read.to) + context.atmosphere()) * heated / rise,
            against,
            read: read.clone(),
        }
    }

    /// What was read, the sum, and the result.
    pub(in crate::handover) fn parts(&self, context: &Context<'_>) -> Vec<Part> {
        let (sum, read) = (Sum::of(context), &self.read);
        let flow = |flow: Option<AirFlow>| flow.map_or_else(String::new, |flow| sum.flow(flow));
        let with = if read.with_pipe {
            "with the pipe"
        } else {
            "the tank alone"
        };
        let mut parts = vec![Part::Blanks(vec![
            vec![
                Blank::filled("Gauge from", &sum.pressure(read.from)),
                Blank::filled("Gauge to", &sum.pressure(read.to)),
                Blank::filled("Time", &lasted(read.seconds)),
            ],
            vec![
                Blank::filled("With: the tank alone, or with the pipe", with),
                Blank::filled("It delivers", &flow(self.delivers)),
                Blank::filled("Its plate says", &flow(self.plate)),
            ],
        ])];
        let Some((litres, delivers)) = self.litres.zip(self.delivers) else {
            parts.push(Part::note(
                "Not worked out: the job states no `tank` for it.",
            ));
            return parts;
        };
        parts.push(Part::Points(vec![format!(
            "It delivers: fills x (gauge to - gauge from) / air outside / time = {} x ({} - {}) / {} / {} = {}",
            sum.volume(litres),
            sum.gauge(read.to),
            sum.gauge(read.from),
            sum.outside(),
            sum.time(read.seconds),
            sum.flow(delivers)
        )]));
        parts.push(Part::Caution(self.words(&sum, delivers)));
        let (_, warmer) = warming(context.plan.summary.units);
        parts.push(Part::Note(format!(
            "Had the tank warmed by {warmer} meanwhile, {:.0} % of this would be heat and no air: let it cool and read the gauge again before a machine is called good or bad.",
            self.heat * 100.0
        )));
        parts.extend(remarks(&read.remarks));
        parts
    }

    fn words(&self, sum: &Sum, delivers: AirFlow) -> String {
        let known = self.share.zip(self.plate).zip(self.against);
        let Some(((share, plate), against)) = known else {
            return format!(
                "It delivers {}; the job states no `free_air` to hold that against.",
                sum.flow(delivers)
            );
        };
        let off = format!(
            "A plate of this size may be off by {:.0} % (ISO 1217, annex C, from memory).",
            plate_tolerance(plate) * 100.0
        );
        let of = format!(
            "It delivers {}: {:.0} % of its plate",
            sum.flow(delivers),
            share * 100.0
        );
        match against {
            Plate::Within => format!("{of}. {off} This is no further off."),
            Plate::Below => format!(
                "{of}. {off} This is less. What leaks is part of it: look at the tightness first, then at the intake filter, the belt, the valves, and at what the tank really holds."
            ),
            Plate::Above => format!(
                "{of}. {off} This is more. The tank was hot, or it holds less than stated, or a figure was misread."
            ),
        }
    }
}
