//! What a hole lets out, and what that costs in a year.

use super::super::{Context, Part, pascal};
use crate::air::Site;
use crate::air::demand::free_air;
use crate::air::energy::{ALL_YEAR, Compression, OVERALL_EFFICIENCY, Plant};
use crate::air::leak::Hole;
use crate::quantity::{AirFlow, Length, Pressure, Temperature, Units};

/// Holes of the table: in inches, in 64ths of one, and in millimetres.
const HOLES: [(&str, i64, &str); 4] = [
    ("1/64 in", 1, "0.4 mm"),
    ("1/32 in", 2, "0.8 mm"),
    ("1/16 in", 4, "1.6 mm"),
    ("1/8 in", 8, "3.2 mm"),
];
/// Air leaves a leak over a sharp edge. Common handbook figure.
const SHARP: f64 = 0.61;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let Some(stops) = context.plan.job.cut_out() else {
        return vec![Part::note(
            "Not worked out: state `cut_out` under [supply], the pressure at which the compressor stops.",
        )];
    };
    let (units, site) = (context.plan.summary.units, context.plan.job.site());
    let price = context.asked.energy_price;
    let holes = HOLES.map(|(inches, sixty_fourths, millimetres)| {
        let (flow, energy) = lost(Length::from_64ths(sixty_fourths), stops, &site);
        let name = match units {
            Units::Feet => inches,
            Units::Metric => millimetres,
        };
        (name, flow, energy)
    });
    let row = |words: &str, figure: &dyn Fn(AirFlow, Option<f64>) -> Option<String>| {
        let figures = holes.iter().map(|(_, flow, energy)| figure(*flow, *energy));
        let figures = figures.map(|figure| figure.unwrap_or_else(|| "-".to_owned()));
        std::iter::once(words.to_owned())
            .chain(figures)
            .collect::<Vec<_>>()
    };
    let mut rows = vec![
        row("lets out", &|flow, _| Some(flow.show(units))),
        row("energy a year", &|_, energy| {
            energy.map(|energy| format!("{} kWh", three(energy)))
        }),
    ];
    rows.extend(price.map(|price| {
        row("cost a year", &|_, energy| {
            energy.map(|energy| three(energy * price))
        })
    }));
    let names = holes.iter().map(|(name, ..)| (*name, true));
    let columns: Vec<(&str, bool)> = std::iter::once(("A hole of", false)).chain(names).collect();
    let words = format!(
        "At {} all year, sharp edge (0.61), one stage, {:.0} % overall, stopped when the tank is full (common handbook figures).{}",
        context.shown(stops),
        OVERALL_EFFICIENCY * 100.0,
        match price {
            Some(price) => format!(" A kWh at {price}."),
            None => " For the cost give your price of a kWh: --energy-price.".to_owned(),
        }
    );
    vec![Part::table(&columns, rows), Part::Note(words)]
}

/// Three figures: what is assumed allows no more.
fn three(figure: f64) -> String {
    let places = (figure.abs().max(1.0).log10().floor() - 2.0).max(0.0);
    let step = 10.0_f64.powf(places);
    format!("{:.0}", (figure / step).round() * step)
}

/// The free air that a hole lets out of a line, as tools' figures are in, and the energy
/// that it takes in a year.
pub(super) fn lost(diameter: Length, gauge: Pressure, site: &Site) -> (AirFlow, Option<f64>) {
    let hole = Hole {
        diameter: diameter.mm() / 1_000.0,
        discharge: SHARP,
    };
    let inside = pascal(gauge) + site.atmosphere;
    let mass = hole.flow(inside, site.atmosphere, Temperature::from_celsius(20));
    // The compressor takes in the air that is there, which is thinner up a mountain.
    let taken_in = mass / site.mass(AirFlow::from_litres_per_second(1.0));
    (free_air(mass), plant(gauge, site).of_leak(taken_in))
}

/// What a leak takes in a year is reckoned by.
pub(in crate::handover) fn plant(stops: Pressure, site: &Site) -> Plant {
    Plant {
        compression: Compression::OneStage,
        efficiency: OVERALL_EFFICIENCY,
        discharge: pascal(stops),
        atmosphere: site.atmosphere,
        worked: ALL_YEAR,
        under_pressure: ALL_YEAR,
    }
}
