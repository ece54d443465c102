//! What the pressure and a leak cost in a year.

use super::Air;
use crate::air::demand::free_air;
use crate::air::energy::{ALL_YEAR, Compression, OVERALL_EFFICIENCY, Plant};
use crate::air::ladder::{Part, Probe, ToolAir, Wear};
use crate::air::leak::Hole;
use crate::air::sizes::stepped;
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;
use crate::quantity::{AirFlow, Length, Pressure, Temperature};
use std::cmp::Ordering;

/// What it takes in a year, kWh.
#[derive(Debug, Clone, PartialEq)]
pub struct Yearly {
    /// Hours of a year in which the shop works.
    pub worked: f64,
    /// The pressure that the compressor delivers at.
    pub discharge: Pressure,
    /// For the air that the shop wants on average.
    pub average: f64,
    /// For what the pipe takes on the way to the tool that is worst off, after
    /// years; none where nothing says which that is.
    pub pipe: Option<OfPipe>,
    /// For the leak, if one was asked for.
    pub leak: Option<OfLeak>,
    /// What a kWh costs, in the user's currency.
    pub price: Option<f64>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

impl Yearly {
    /// What so many kWh cost.
    #[must_use]
    pub fn cost(&self, energy: f64) -> Option<f64> {
        self.price.map(|price| price * energy)
    }
}

/// What is asked beside the shop's own air.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Asked {
    /// The diameter of a leak.
    pub leak: Option<Length>,
    /// What a kWh costs.
    pub price: Option<f64>,
}

/// What the pipe to a tool takes.
#[derive(Debug, Clone, PartialEq)]
pub struct OfPipe {
    /// The tool, by its number in the demand.
    pub tool: usize,
    /// What main and drop lose together.
    pub lost: Pressure,
    /// KWh a year.
    pub energy: f64,
    /// What of it a main of the next larger size would not lose.
    pub saved: Pressure,
    /// KWh a year.
    pub energy_saved: f64,
}

/// What a leak takes.
#[derive(Debug, Clone, PartialEq)]
pub struct OfLeak {
    /// The hole's diameter.
    pub hole: Length,
    /// Free air at sea level and 20 C.
    pub flow: AirFlow,
    /// KWh a year where the line is never shut off.
    pub all_year: f64,
    /// KWh a year where it is shut off whenever nobody works.
    pub worked: f64,
}

/// Days of work in a year. Common practice, no source.
const DAYS: f64 = 250.0;
/// Hours of a working day where the job does not say. Common practice, no
/// source.
const HOURS: f64 = 8.0;
/// A hole with sharp edges: a common handbook figure.
const SHARP: f64 = 0.61;

/// What the shop's air, the pressure lost and a leak take in a year. None where a pressure or a flow is beyond what a shop has.
#[must_use]
pub fn yearly(
    air: &Air,
    job: &Job,
    network: &Network,
    library: &Library,
    asked: Asked,
) -> Option<Yearly> {
    let site = job.site();
    let hours = job
        .supplies
        .iter()
        .map(|supply| supply.running.unwrap_or(HOURS));
    let daily = hours.fold(0.0, f64::max);
    let cut_out = job.cut_out().unwrap_or(air.cut_in);
    let discharge = Pressure::from_kpa(air.cut_in.kpa().midpoint(cut_out.kpa()));
    let plant = Plant {
        compression: Compression::OneStage,
        efficiency: OVERALL_EFFICIENCY,
        discharge: discharge.kpa() * 1e3,
        atmosphere: site.atmosphere,
        worked: daily * DAYS,
        under_pressure: ALL_YEAR,
    };
    // The plant takes in the thinner air of its place.
    let taken_in = |flow: AirFlow| flow.litres_per_second() / air.supply.density_ratio;
    let average = taken_in(air.demand.total.average);
    let worst = air.worst;
    let worst = worst.filter(|worst| air.aged.tools[*worst].gets.is_some());
    let pipe = match worst {
        Some(tool) => {
            let of = &air.aged.tools[tool];
            let none = AirFlow::from_litres_per_second(0.0);
            let larger =
                match stepped(network, library, Ordering::Greater) {
                    Some(larger) => Probe::of(job, &larger, library, &air.demand, Wear::Aged)
                        .tool(of, &air.aged.cases, 0, none)?,
                    None => of.clone(),
                };
            let lost = in_pipe(of);
            let saved = (lost - in_pipe(&larger)).max(0.0);
            let energy = |kpa: f64| plant.of_pressure(average, kpa * 1e3);
            Some(OfPipe {
                tool,
                lost: Pressure::from_kpa(lost),
                energy: energy(lost)?,
                saved: Pressure::from_kpa(saved),
                energy_saved: energy(lost)? - energy(lost - saved)?,
            })
        }
        None => None,
    };
    let leak = match asked.leak {
        Some(hole) => Some(of_leak(&plant, hole, taken_in)?),
        None => None,
    };
    Some(Yearly {
        worked: plant.worked,
        discharge,
        average: plant.energy(average)?,
        pipe,
        leak,
        price: asked.price,
        assumptions: assumptions(job, daily, discharge, &plant),
    })
}

/// What main and drop take on the way to a tool, kPa.
fn in_pipe(tool: &ToolAir) -> f64 {
    (tool.takes(Part::Main).kpa() + tool.takes(Part::Drop).kpa()).max(0.0)
}

fn of_leak(plant: &Plant, hole: Length, taken_in: impl Fn(AirFlow) -> f64) -> Option<OfLeak> {
    let of_hole = Hole {
        diameter: hole.mm() / 1e3,
        discharge: SHARP,
    };
    let inside = plant.discharge + plant.atmosphere;
    let lets_out = of_hole.flow(inside, plant.atmosphere, Temperature::from_celsius(20));
    let flow = free_air(lets_out);
    Some(OfLeak {
        hole,
        flow,
        all_year: plant.of_leak(taken_in(flow))?,
        worked: plant.energy(taken_in(flow))?,
    })
}

fn assumptions(job: &Job, daily: f64, discharge: Pressure, plant: &Plant) -> Vec<String> {
    let two_stages = Plant {
        compression: Compression::TwoStage,
        ..*plant
    };
    let less = two_stages.kilowatts(1.0).zip(plant.kilowatts(1.0));
    let less = less.map_or(0.0, |(two, one)| (1.0 - two / one) * 100.0);
    vec![
        format!(
            "The shop works {daily:.1} hours a day (`running` under the supply, else {HOURS:.0} hours) on {DAYS:.0} days a year (common practice, no source)."
        ),
        format!(
            "The compressor is of one stage and delivers at {}, the mean of cut-in and cut-out; of what its motor takes {:.0} % becomes pressed air. One of two stages takes {less:.0} % less.",
            discharge.show(job.units),
            plant.efficiency * 100.0
        ),
        "A leak is a round hole with sharp edges; one with round edges lets out 1.6 times as much."
            .to_owned(),
    ]
}
