//! The leak test with a gauge and a clock: the line is pumped up and shut off,
//! nothing is drawn, and the pressure falls.
//!
//! Volumes are litres, pressures Pa gauge, leaks litres of free air each second,
//! and the air in the line is as warm as outside: a line that still cools down
//! reads as a leak. Source of the test: NAVFAC MO-209, chapter 5.

use super::{ATMOSPHERE, GAUGE};
use crate::quantity::Pressure;

/// What the gauge and the clock said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Since the test began, s.
    pub seconds: f64,
    /// On the gauge, Pa, from 0 to 50 bar.
    pub gauge: f64,
}

/// Falls, psi, and what the rate is multiplied by. Source: a public page with a
/// calculator for bleed-down tests.
const CORRECTIONS: [(f64, f64); 3] = [(10.0, 1.0), (20.0, 1.12), (50.0, 1.25)];
/// A fall is the difference of two figures that were turned from psi into Pa, so
/// it may miss the end of a range by a hair, psi.
const HAIR: f64 = 1e-6;

/// The leak at the pressure at which the test began: V (P1 − P2) / (Pa t), which
/// is the leak half-way down, times [`correction`]. None if the later reading is
/// not later and lower, the fall is above 50 psi, or a figure is out of its
/// range: the volume's is above nothing, the atmosphere's 30 to 120 kPa.
#[must_use]
pub fn bleed_down(volume: f64, first: Reading, last: Reading, atmosphere: f64) -> Option<f64> {
    let leak = lost(volume, first, last, atmosphere)? * correction(first.gauge - last.gauge)?;
    leak.is_finite().then_some(leak)
}

/// By how much the leak at the beginning is above that during a fall of so many
/// Pa: 1.00 up to 10 psi, 1.12 at 20 psi, 1.25 at 50 psi, and in between on a
/// straight line, which is our own. None above, and for no fall at all: the
/// source says nothing there.
#[must_use]
pub fn correction(fall: f64) -> Option<f64> {
    let psi = fall / (Pressure::from_psi(1.0).kpa() * 1_000.0);
    let [(low, least), ..] = CORRECTIONS;
    if psi > 0.0 && psi <= low {
        return Some(least);
    }
    CORRECTIONS.windows(2).find_map(|pair| {
        let [(from, lower), (to, upper)] = *pair else {
            return None;
        };
        let part = (psi - from) / (to - from);
        (psi > from && psi <= to + HAIR).then_some(lower + (upper - lower) * part)
    })
}

/// How a line's leaks grow with its pressure, on a straight line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakLine {
    /// Leak for each Pa, l/s.
    pub slope: f64,
    /// Where the line meets no pressure, l/s; often below nothing, as the line
    /// holds only near the readings.
    pub at_zero: f64,
}

impl LeakLine {
    /// By least squares through the leaks between each reading and the next, each
    /// at the pressure half-way, so that none is corrected. None unless there are
    /// three readings or more, each later and lower than the one before it, and
    /// the leak grows with the pressure; or if a figure is out of its range, as
    /// for [`bleed_down`].
    #[must_use]
    pub fn through(volume: f64, readings: &[Reading], atmosphere: f64) -> Option<Self> {
        let points: Vec<(f64, f64)> = readings
            .windows(2)
            .map(|pair| {
                let [first, last] = *pair else { return None };
                let middle = first.gauge.midpoint(last.gauge);
                Some((middle, lost(volume, first, last, atmosphere)?))
            })
            .collect::<Option<_>>()?;
        let count: f64 = points.iter().map(|_| 1.0).sum();
        let pressure = points.iter().map(|(p, _)| p).sum::<f64>() / count;
        let leak = points.iter().map(|(_, q)| q).sum::<f64>() / count;
        let (mut together, mut alone) = (0.0, 0.0);
        for (p, q) in &points {
            together += (p - pressure) * (q - leak);
            alone += (p - pressure).powi(2);
        }
        let slope = together / alone;
        let line = Self {
            slope,
            at_zero: leak - slope * pressure,
        };
        (slope >= 0.0 && line.at_zero.is_finite()).then_some(line)
    }

    /// The leak at a gauge pressure, never below nothing. Above the readings it is
    /// an estimate. None if the pressure is out of its range.
    #[must_use]
    pub fn at(&self, gauge: f64) -> Option<f64> {
        let leak = self.slope * gauge + self.at_zero;
        (GAUGE.contains(&gauge) && leak.is_finite()).then_some(leak.max(0.0))
    }
}

fn lost(volume: f64, first: Reading, last: Reading, atmosphere: f64) -> Option<f64> {
    let (fall, seconds) = (first.gauge - last.gauge, last.seconds - first.seconds);
    let known = GAUGE.contains(&first.gauge)
        && GAUGE.contains(&last.gauge)
        && ATMOSPHERE.contains(&atmosphere)
        && volume > 0.0
        && fall > 0.0
        && seconds > 0.0;
    let leak = volume * fall / (atmosphere * seconds);
    (known && leak.is_finite()).then_some(leak)
}
