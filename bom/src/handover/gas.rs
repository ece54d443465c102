//! What shut-in air does: the energy that it stores, how its pressure falls with its
//! temperature, and what leaks from what gauges and thermometers read. Ideal gas.
//! Volumes are litres, flows litres of free air each second, pressures Pa.

use crate::air::HEAT_RATIO;
use crate::quantity::Temperature;

/// The energy, in kJ, that air at a gauge pressure sets free when it bursts out:
/// E = P V / (k - 1) (1 - (Pa / P)^((k - 1) / k)), P absolute. Source: ASME PCC-2,
/// from memory.
#[must_use]
pub fn stored_energy(litres: f64, gauge: f64, atmosphere: f64) -> f64 {
    let absolute = gauge.max(0.0) + atmosphere;
    let k = HEAT_RATIO;
    let left = (atmosphere / absolute).powf((k - 1.0) / k);
    absolute * (litres / 1_000.0) / (k - 1.0) * (1.0 - left) / 1_000.0
}

/// What a gauge shows, nothing leaking, when air shut in at one temperature has taken
/// another: absolute pressure goes with absolute temperature.
#[must_use]
pub fn cooled(gauge: f64, from: Temperature, to: Temperature, atmosphere: f64) -> f64 {
    (gauge + atmosphere) * to.kelvin() / from.kelvin() - atmosphere
}

/// A reading of gauge and thermometer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Gauge pressure, Pa.
    pub gauge: f64,
    /// Of the air in the pipe.
    pub temperature: Temperature,
}

/// The free air, at the temperature of the first reading, that leaked from so many
/// litres between two readings; less than none where the second says more. None where no
/// time passes.
#[must_use]
pub fn leaked(
    litres: f64,
    (first, last): (Reading, Reading),
    seconds: f64,
    atmosphere: f64,
) -> Option<f64> {
    let still = cooled(first.gauge, first.temperature, last.temperature, atmosphere);
    let lost = (still - last.gauge) * first.temperature.kelvin() / last.temperature.kelvin();
    (seconds > 0.0).then(|| litres * lost / atmosphere / seconds)
}

/// How long a leak takes to pull the gauge of so many litres down by some pressure,
/// seconds. None where nothing leaks.
#[must_use]
pub fn falls_in(litres: f64, fall: f64, flow: f64, atmosphere: f64) -> Option<f64> {
    (flow > 0.0).then(|| litres * fall / atmosphere / flow)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ATMOSPHERE: f64 = 101_325.0;
    const PSI: f64 = 6_894.757;
    const CUBIC_FOOT: f64 = 28.316_846_6;
    const GALLON: f64 = 3.785_411_784;

    // Energy by the formula of ASME PCC-2 (from memory) at the test pressures of B31.3:
    // litres, psig, kJ, worked out elsewhere.
    #[test]
    fn stored_energy_is_that_of_the_table() {
        for (litres, psig, kj) in [
            (10.0, 137.5, 12.781),
            (60.0, 137.5, 76.688),
            (200.0, 165.0, 316.539),
            (500.0, 192.5, 947.267),
            (1_000.0, 137.5, 1_278.135),
        ] {
            let ours = stored_energy(litres, psig * PSI, ATMOSPHERE);
            assert!((ours / kj - 1.0).abs() < 1e-3, "{ours} {kj}");
        }
        assert!(stored_energy(60.0, 0.0, ATMOSPHERE).abs() < 1e-12);
    }

    // NAVFAC MO-209, ch. 5, tables 5-3 and 5-4: minutes between readings in psig, and the
    // loss in scfm that the page gives. Its volume is not on the page: 629 ft3 follow from
    // all seven. 14.7 psia.
    const MO_209: [(f64, f64, f64, f64); 7] = [
        (90.0, 80.0, 10.7, 40.0),
        (80.0, 70.0, 12.58, 34.0),
        (70.0, 60.0, 15.29, 28.0),
        (60.0, 50.0, 20.36, 21.0),
        (50.0, 40.0, 28.54, 15.0),
        (40.0, 30.0, 47.55, 9.0),
        (30.0, 20.0, 142.65, 3.0),
    ];

    #[test]
    fn leaks_are_those_of_the_navy_s_example_with_its_line() {
        let air = Temperature::from_fahrenheit(70);
        let reading = |psig: f64| Reading {
            gauge: psig * PSI,
            temperature: air,
        };
        let scfm = |(from, to, minutes, _): (f64, f64, f64, f64)| {
            let both = (reading(from), reading(to));
            let flow = leaked(629.0 * CUBIC_FOOT, both, minutes * 60.0, 14.7 * PSI);
            flow.unwrap() * 60.0 / CUBIC_FOOT
        };
        for row in MO_209 {
            assert!((scfm(row) - row.3).abs() < 0.05, "{}", scfm(row));
        }
        // The page's line through its losses over the mean pressures: Q = 0.62 P - 12.75,
        // 47 scfm at 96 psig. With its own figures 0.6214 P - 12.750, and 46.9.
        let points = MO_209.map(|row| (row.0.midpoint(row.1), row.3));
        let count = 7.0;
        let (x, y) = points
            .iter()
            .fold((0.0, 0.0), |(x, y), one| (x + one.0, y + one.1));
        let (x, y) = (x / count, y / count);
        let over: f64 = points.iter().map(|one| (one.0 - x) * (one.1 - y)).sum();
        let under: f64 = points.iter().map(|one| (one.0 - x).powi(2)).sum();
        let (slope, at_none) = (over / under, y - over / under * x);
        assert!((slope - 0.6214).abs() < 5e-5, "{slope}");
        assert!((at_none + 12.750).abs() < 5e-4, "{at_none}");
        assert!((slope * 96.0 + at_none - 46.9).abs() < 0.05);
    }

    // At 125 psig, air that cools by 20 F from 70 F loses 5.3 psi and nothing leaks, by 5 F
    // 1.3 psi: by hand, 139.7 psia x 20 / 529.67.
    #[test]
    fn air_that_cools_loses_pressure_and_no_air() {
        let warm = Temperature::from_fahrenheit(70);
        for (cold, psi) in [(50, 5.275), (65, 1.319)] {
            let cold = Temperature::from_fahrenheit(cold);
            let shows = cooled(125.0 * PSI, warm, cold, ATMOSPHERE);
            assert!((125.0 - shows / PSI - psi).abs() < 1e-3 * psi);
            let both = (
                Reading {
                    gauge: 125.0 * PSI,
                    temperature: warm,
                },
                Reading {
                    gauge: shows,
                    temperature: cold,
                },
            );
            assert!(leaked(60.0, both, 3_600.0, ATMOSPHERE).unwrap().abs() < 1e-9);
        }
    }

    // 1 scfm out of 160 ft of 1 in pipe alone takes 15 psi in a minute, and 1.3 psi with a
    // tank of 80 gal: by hand.
    #[test]
    fn a_tank_hides_a_leak() {
        let pipe = 160.0 * 0.006 * CUBIC_FOOT;
        let scfm = CUBIC_FOOT / 60.0;
        let minute = |litres: f64| 60.0 / falls_in(litres, PSI, scfm, ATMOSPHERE).unwrap();
        assert!((minute(pipe) - 15.3).abs() < 0.05, "{}", minute(pipe));
        assert!((minute(pipe + 80.0 * GALLON) - 1.26).abs() < 0.01);
        assert_eq!(falls_in(pipe, PSI, 0.0, ATMOSPHERE), None);
    }
}
