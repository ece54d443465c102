//! What pressure and leaks cost in a year, in kWh: who knows the price of a kWh
//! multiplies.
//!
//! Flows are litres of free air each second, pressures Pa (gauge, but for the
//! atmosphere), hours those of a year. A figure outside its stated range has no
//! answer. The power is taken to follow the flow, as with a compressor that
//! stops when the tank is full; one that runs on unloaded takes more.

pub mod leak_test;

use super::{HEAT_RATIO, Site, density};
use crate::quantity::{AirFlow, Length, Pressure, Temperature};
use std::ops::RangeInclusive;

/// Work on the ideal compressor's air for each unit of electricity taken in:
/// what is assumed where nothing better is known. From memory; with it a
/// one-stage compressor takes 19.1 kW per 100 cfm at 100 psi, and 18 to 20 is
/// what the trade reckons (from memory too).
pub const OVERALL_EFFICIENCY: f64 = 0.70;

/// All hours of a year of 365 days: a line that is never shut off.
pub const ALL_YEAR: f64 = 8_760.0;

/// From the highest mountain to a deep mine, Pa.
const ATMOSPHERE: RangeInclusive<f64> = 3e4..=1.2e5;
/// Above 50 bar air is no ideal gas, and two stages are too few.
const GAUGE: RangeInclusive<f64> = 0.0..=5e6;
/// Far above any shop's, so that a slip of units does not pass.
const FLOW: RangeInclusive<f64> = 0.0..=1e6;
/// Up to a leap year.
const HOURS: RangeInclusive<f64> = 0.0..=8_784.0;
/// A figure below is no compressor's.
const EFFICIENCY: RangeInclusive<f64> = 0.1..=1.0;

/// How the ideal compressor gets its air to the pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compression {
    /// At once, and no heat gets away: most shop compressors.
    OneStage,
    /// In two equal ratios, cooled down to the intake's temperature between
    /// them.
    TwoStage,
    /// All heat gets away at once: the least work that there can be, to compare
    /// with. No compressor does it.
    Isothermal,
}

impl Compression {
    /// The ideal work on each m3 of free air, J. The intake's temperature does
    /// not matter: warm air is thinner by as much as it takes more work.
    /// Source: any textbook of thermodynamics, from memory.
    fn work(self, gauge: f64, atmosphere: f64) -> f64 {
        let ratio = (gauge / atmosphere).ln_1p();
        let stages = match self {
            Self::OneStage => 1.0,
            Self::TwoStage => 2.0,
            Self::Isothermal => return atmosphere * ratio,
        };
        let exponent = (HEAT_RATIO - 1.0) / (HEAT_RATIO * stages);
        atmosphere * (ratio * exponent).exp_m1() / exponent
    }
}

/// A compressor, and how long in a year it is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plant {
    /// How it compresses.
    pub compression: Compression,
    /// Ideal work over electricity taken in, from 0.1 to 1: compressor, drive and
    /// motor together. [`OVERALL_EFFICIENCY`] where it is not known.
    pub efficiency: f64,
    /// The pressure that it delivers at, gauge, Pa, from 0 to 50 bar.
    pub discharge: f64,
    /// The surrounding air's pressure, absolute, Pa, from 30 to 120 kPa.
    pub atmosphere: f64,
    /// Hours of a year in which the shop works, up to 8784.
    pub worked: f64,
    /// Hours of a year in which the line is under pressure, up to 8784. Leaks
    /// run through all of them.
    pub under_pressure: f64,
}

impl Plant {
    /// The electric power for this flow, kW. At 100 cfm it is the trade's figure
    /// of kW per 100 cfm. None if a figure is out of its range; the flow's ends
    /// at 1e6 l/s.
    #[must_use]
    pub fn kilowatts(&self, flow: f64) -> Option<f64> {
        self.kilowatts_at(flow, self.discharge)
    }

    /// KWh a year for this flow on average over the hours worked. None as for
    /// [`Plant::kilowatts`].
    #[must_use]
    pub fn energy(&self, flow: f64) -> Option<f64> {
        over(self.worked, self.kilowatts(flow)?)
    }

    /// KWh a year for a pressure of `lost` Pa in the pipe, because the compressor
    /// must stand that much above `discharge` for the same pressure at the tools.
    /// Two sizes of pipe are compared by the difference of their figures. None as
    /// for [`Plant::kilowatts`], at either pressure.
    #[must_use]
    pub fn of_pressure(&self, flow: f64, lost: f64) -> Option<f64> {
        if !GAUGE.contains(&lost) {
            return None;
        }
        let higher = self.kilowatts_at(flow, self.discharge + lost)?;
        over(self.worked, higher - self.kilowatts(flow)?)
    }

    /// KWh a year for a leak of this flow, which never rests while the line is
    /// under pressure. None as for [`Plant::kilowatts`].
    #[must_use]
    pub fn of_leak(&self, flow: f64) -> Option<f64> {
        over(self.under_pressure, self.kilowatts(flow)?)
    }

    fn kilowatts_at(&self, flow: f64, gauge: f64) -> Option<f64> {
        let known = FLOW.contains(&flow)
            && GAUGE.contains(&gauge)
            && ATMOSPHERE.contains(&self.atmosphere)
            && EFFICIENCY.contains(&self.efficiency);
        // Litres and joules to m3 and kJ: the thousands are squared.
        let ideal = self.compression.work(gauge, self.atmosphere) * flow / 1e6;
        known.then_some(ideal / self.efficiency)
    }
}

fn over(hours: f64, kilowatts: f64) -> Option<f64> {
    HOURS.contains(&hours).then_some(hours * kilowatts)
}

/// How much more free air, l/s, a pipe could carry before it runs faster than
/// `limit` m/s, where it carries `now` at this pressure and temperature: the
/// room for one more outlet. Nothing where it is as fast already. The pressure
/// that the added air loses is another question. None for a bore, a limit or a
/// pressure that is not above zero, or beyond what numbers hold.
#[must_use]
pub fn growth(
    now: AirFlow,
    bore: Length,
    limit: f64,
    site: &Site,
    gauge: Pressure,
    pipe: Temperature,
) -> Option<f64> {
    let metres = bore.mm() / 1_000.0;
    let area = std::f64::consts::PI / 4.0 * metres * metres;
    let absolute = site.atmosphere + gauge.kpa() * 1_000.0;
    let thicker = density(absolute, pipe) / density(site.atmosphere, site.temperature);
    let most = limit * area * thicker * 1_000.0;
    let known = metres > 0.0 && limit > 0.0 && absolute > 0.0 && thicker > 0.0;
    let more = most - now.litres_per_second();
    (known && more.is_finite()).then_some(more.max(0.0))
}

#[cfg(test)]
mod tests;
