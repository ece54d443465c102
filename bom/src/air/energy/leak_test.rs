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
        && seconds > 0.0
        && seconds.is_finite();
    let leak = volume * fall / (atmosphere * seconds);
    (known && leak.is_finite()).then_some(leak)
}

#[cfg(test)]
mod tests {
    use super::{LeakLine, Reading, bleed_down, correction};
    use crate::quantity::Pressure;

    const ATMOSPHERE: f64 = 101_325.0;
    const PSI: f64 = 6_894.757_293_168;

    fn near(found: Option<f64>, wanted: f64, tolerance: f64) {
        let found = found.unwrap();
        assert!((found - wanted).abs() <= tolerance, "{found} for {wanted}");
    }

    fn reading(seconds: f64, gauge: f64) -> Reading {
        Reading { seconds, gauge }
    }

    // By hand: 300 litres that fall from 100 to 80 psi in 60 s lose 20 / 14.69595 of
    // 300 litres, 408.28, so 6.8046 l/s half-way and 1.12 times that at 100 psi.
    #[test]
    fn a_test_worked_by_hand() {
        let (start, end) = (reading(0.0, 100.0 * PSI), reading(60.0, 80.0 * PSI));
        near(
            bleed_down(300.0, start, end, ATMOSPHERE),
            1.12 * 6.804_6,
            1e-3,
        );
        for (seconds, gauge) in [(60.0, 100.0), (60.0, 101.0), (0.0, 80.0), (60.0, 49.0)] {
            let end = reading(seconds, gauge * PSI);
            assert_eq!(bleed_down(300.0, start, end, ATMOSPHERE), None, "{end:?}");
        }
    }

    #[test]
    fn the_correction_grows_with_the_fall() {
        for (psi, wanted) in [(0.1, 1.0), (10.0, 1.0), (15.0, 1.06), (35.0, 1.185)] {
            near(correction(psi * PSI), wanted, 1e-9);
        }
        let psi = |psi| Pressure::from_psi(psi).kpa() * 1e3;
        for start in 50..=700_i32 {
            let start = f64::from(start);
            let fall = psi(start) - psi(start - 50.0);
            near(correction(fall), 1.25, 1e-9);
        }
        let mut before = 1.0;
        for tenths in 1..=500_i32 {
            let now = correction(f64::from(tenths) / 10.0 * PSI).unwrap();
            assert!(now >= before, "{tenths}");
            before = now;
        }
        for outside in [0.0, -PSI, 50.001 * PSI, f64::NAN, f64::INFINITY] {
            assert_eq!(correction(outside), None);
        }
    }

    // A leak of 1e-5 l/s for each Pa less 2: the readings are worked out backwards.
    #[test]
    fn a_straight_leak_comes_back() {
        let mut readings = vec![reading(0.0, 7e5)];
        for gauge in [6e5, 5e5, 4e5] {
            let leak = 1e-5 * (gauge + 5e4) - 2.0;
            let seconds = readings.last().unwrap().seconds + 500.0 * 1e5 / (ATMOSPHERE * leak);
            readings.push(reading(seconds, gauge));
        }
        let line = LeakLine::through(500.0, &readings, ATMOSPHERE).unwrap();
        assert!((line.slope / 1e-5 - 1.0).abs() < 1e-9, "{line:?}");
        assert!((line.at_zero + 2.0).abs() < 1e-9, "{line:?}");
        near(line.at(8e5), 6.0, 1e-8);
        assert_eq!(line.at(1e5), Some(0.0));

        assert_eq!(LeakLine::through(500.0, &readings[..2], ATMOSPHERE), None);
        assert_eq!(LeakLine::through(500.0, &[], ATMOSPHERE), None);
        readings.swap(1, 2);
        assert_eq!(LeakLine::through(500.0, &readings, ATMOSPHERE), None);
        // It falls faster when it is low: something was drawn.
        let drawn = [(0.0, 7e5), (60.0, 6e5), (90.0, 5e5)].map(|(s, p)| reading(s, p));
        assert_eq!(LeakLine::through(500.0, &drawn, ATMOSPHERE), None);
    }

    #[test]
    fn figures_out_of_range_have_no_leak() {
        let (start, end) = (reading(0.0, 6e5), reading(60.0, 5.9e5));
        assert!(bleed_down(100.0, start, end, ATMOSPHERE).is_some());
        let line = LeakLine {
            slope: 1e-5,
            at_zero: 0.0,
        };
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1.0, 1e9] {
            let low = reading(60.0, bad);
            assert_eq!(bleed_down(100.0, start, end, bad), None);
            assert_eq!(bleed_down(100.0, reading(0.0, bad), end, ATMOSPHERE), None);
            assert_eq!(bleed_down(100.0, start, low, ATMOSPHERE), None);
            assert_eq!(line.at(bad), None);
        }
        for volume in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(bleed_down(volume, start, end, ATMOSPHERE), None);
        }
        for seconds in [f64::NAN, f64::INFINITY, -1.0] {
            let end = reading(seconds, 5.9e5);
            assert_eq!(bleed_down(100.0, start, end, ATMOSPHERE), None);
        }
    }
}
