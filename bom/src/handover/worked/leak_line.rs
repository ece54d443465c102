//! How the leak grows with the pressure, by several falls one after the other. Source:
//! NAVFAC MO-209, chapter 5.

use super::bleed_down::holds;
use super::say::Sum;
use crate::air::energy::leak_test::{self, LeakLine};
use crate::handover::{Context, pascal, record};
use crate::quantity::{AirFlow, Pressure};

/// The line through falls that follow each other, each from where the last one ended.
#[must_use]
pub fn line(litres: f64, falls: &[record::BleedDown], atmosphere: f64) -> Option<LeakLine> {
    let meets = |two: &[record::BleedDown]| (two[0].to.kpa() - two[1].from.kpa()).abs() < 1e-6;
    if !falls.windows(2).all(meets) {
        return None;
    }
    let first = falls.first()?;
    let mut readings = vec![leak_test::Reading {
        seconds: 0.0,
        gauge: pascal(first.from),
    }];
    let mut seconds = 0.0;
    for fall in falls {
        seconds += fall.seconds;
        readings.push(leak_test::Reading {
            seconds,
            gauge: pascal(fall.to),
        });
    }
    LeakLine::through(litres, &readings, atmosphere)
}

/// How the leak grows with the pressure.
#[derive(Debug, Clone)]
pub struct Line {
    /// By the readings.
    pub leak: LeakLine,
    /// The leak where the compressor starts and stops.
    pub at: Vec<(Pressure, AirFlow)>,
}

impl Line {
    pub(super) fn of(context: &Context<'_>, falls: &[record::BleedDown]) -> Option<Self> {
        let leak = line(holds(context)?, falls, context.atmosphere())?;
        let job = &context.plan.job;
        let at = [job.stated_cut_in(), job.cut_out()].into_iter().flatten();
        let at = at.filter_map(|at| {
            let flow = AirFlow::from_litres_per_second(leak.at(pascal(at))?);
            Some((at, flow))
        });
        Some(Self {
            at: at.collect(),
            leak,
        })
    }

    pub(super) fn words(&self, sum: &Sum) -> String {
        let each = sum.each(self.leak.slope);
        let none = AirFlow::from_litres_per_second(self.leak.at_zero.abs());
        let sign = if self.leak.at_zero < 0.0 { "-" } else { "+" };
        let at: Vec<String> = self
            .at
            .iter()
            .map(|(at, leak)| format!("{} at {}", sum.flow(*leak), sum.pressure(*at)))
            .collect();
        format!(
            "The leak grows with the pressure. The line through these readings (least squares, each at its middle pressure): {each} x gauge {sign} {}; so {}.",
            sum.flow(none),
            at.join(", ")
        )
    }
}
