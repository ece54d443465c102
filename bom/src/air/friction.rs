//! What air loses by friction in a round bore: Darcy-Weisbach with the
//! friction factor of Colebrook.

use super::Stream;
use crate::quantity::Length;

/// Below this Reynolds number the flow is laminar.
const LAMINAR: f64 = 2_300.0;

/// Pressure lost on each metre of pipe, Pa, at the density of the stream. The
/// caller lets the density follow the pressure along the pipe.
#[must_use]
pub fn loss_per_metre(stream: &Stream, bore: Length, roughness: Length) -> f64 {
    if stream.kg_per_s <= 0.0 {
        return 0.0;
    }
    let metres = bore.mm() / 1_000.0;
    let speed = stream.speed(bore);
    let factor = factor(stream.reynolds(bore), roughness.mm() / bore.mm());
    factor / metres * stream.density * speed * speed / 2.0
}

/// The Darcy friction factor: laminar below Re 2300, above it the larger of
/// Colebrook's and the laminar one.
#[must_use]
pub fn factor(reynolds: f64, relative_roughness: f64) -> f64 {
    let laminar = 64.0 / reynolds;
    if reynolds < LAMINAR {
        return laminar;
    }
    colebrook(reynolds, relative_roughness).max(laminar)
}

/// The Darcy friction factor times the square of the Reynolds number, and how
/// fast that grows with the latter. A network needs both, and a loss that grows
/// without a step: up to 5 % above Re 2300 a straight line stands for it.
#[must_use]
pub fn squared(reynolds: f64, relative_roughness: f64) -> (f64, f64) {
    const STEEP: f64 = 1.05;
    if reynolds <= LAMINAR {
        return (64.0 * reynolds, 64.0);
    }
    let turbulent = |reynolds: f64| colebrook(reynolds, relative_roughness) * reynolds * reynolds;
    if reynolds < LAMINAR * STEEP {
        let foot = 64.0 * LAMINAR;
        let slope = (turbulent(LAMINAR * STEEP) - foot) / (LAMINAR * (STEEP - 1.0));
        return (foot + slope * (reynolds - LAMINAR), slope);
    }
    let loss = turbulent(reynolds);
    // Colebrook's equation, differentiated; by it the argument of its logarithm
    // is 10^(-1/(2√f)).
    let inside = 10_f64.powf(-0.5 * reynolds / loss.sqrt());
    let share = 2.0 * 2.51 / (reynolds * std::f64::consts::LN_10 * inside);
    (loss, 2.0 * loss / reynolds / (1.0 + share))
}

/// Solves 1/√f = −2 log(ε/3.7 + 2.51/(Re √f)) by Newton's method for 1/√f,
/// from Haaland's explicit formula.
fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    const CLOSE: f64 = 1e-10;
    const MOST_STEPS: usize = 20;
    let rough = relative_roughness / 3.7;
    let smooth = 2.51 / reynolds;
    let mut root = -1.8 * (rough.powf(1.11) + 6.9 / reynolds).log10();
    for _ in 0..MOST_STEPS {
        let inside = rough + smooth * root;
        let miss = root + 2.0 * inside.log10();
        let slope = 1.0 + 2.0 * smooth / (std::f64::consts::LN_10 * inside);
        root -= miss / slope;
        if (miss / slope).abs() < CLOSE {
            break;
        }
    }
    1.0 / (root * root)
}

#[cfg(test)]
mod tests {
    use super::{colebrook, factor, loss_per_metre, squared};
    use crate::air::{Site, Stream};
    use crate::quantity::{AirFlow, Length, Pressure, Temperature, Units};

    // Moody chart readings: 0.0222 at Re 1e5, ε/D 0.001; 0.0180 at Re 1e5,
    // smooth; 0.0379 fully rough at ε/D 0.01 (textbook values, from memory).
    #[test]
    fn colebrook_solves_its_equation() {
        for (reynolds, rough, published) in
            [(1e5, 1e-3, 0.0222), (1e5, 0.0, 0.0180), (1e8, 1e-2, 0.0379)]
        {
            let f = colebrook(reynolds, rough);
            assert!((f - published).abs() < 5e-5, "{reynolds} {rough}: {f}");
            let root = 1.0 / f.sqrt();
            let inside: f64 = rough / 3.7 + 2.51 * root / reynolds;
            assert!((root + 2.0 * inside.log10()).abs() < 1e-9);
        }
    }

    #[test]
    fn slow_air_is_laminar_and_the_step_goes_up() {
        assert!((factor(1_000.0, 0.01) - 0.064).abs() < 1e-12);
        assert!(factor(2_299.0, 0.0) < factor(2_301.0, 0.0));
        assert!((factor(2_301.0, 0.0) - colebrook(2_301.0, 0.0)).abs() < 1e-15);
    }

    #[test]
    fn the_slope_is_that_of_the_loss() {
        for rough in [0.0, 1e-4, 0.02] {
            for reynolds in [10.0, 2_200.0, 2_350.0, 2_500.0, 1e4, 1e6, 1e8] {
                let step = reynolds * 1e-6;
                let (loss, slope) = squared(reynolds, rough);
                let found = (squared(reynolds + step, rough).0 - loss) / step;
                assert!((found / slope - 1.0).abs() < 1e-5, "{reynolds} {rough}");
            }
            for reynolds in [100.0, 2_300.0, 2_420.0, 1e5] {
                let plain = factor(reynolds, rough).min(if reynolds > 2_300.0 {
                    1.0
                } else {
                    64.0 / reynolds
                });
                let loss = squared(reynolds, rough).0;
                assert!((loss / (plain * reynolds * reynolds) - 1.0).abs() < 1e-12);
            }
        }
    }

    // Points of Piping Handbook, Table B8.14: drop in psi on 100 ft of Schedule
    // 40 pipe with air of 100 psig at its inlet, both at 60 F; within 1.5 % at
    // the density of the inlet and a roughness of 0.0018 in.
    #[test]
    fn the_handbook_points_come_back() {
        for (bore, flow, published) in [
            ("0.364in", "10 cfm", 5.96),
            ("0.493in", "20 cfm", 4.76),
            ("0.622in", "30 cfm", 3.15),
            ("0.824in", "20 cfm", 0.345),
            ("0.824in", "100 cfm", 7.69),
            ("1.049in", "20 cfm", 0.102),
            ("1.049in", "100 cfm", 2.21),
            ("1.38in", "300 cfm", 4.56),
            ("1.61in", "400 cfm", 3.64),
            ("2.067in", "400 cfm", 1.0),
            ("2.469in", "400 cfm", 0.402),
            ("3.068in", "400 cfm", 0.134),
            ("4.026in", "400 cfm", 0.034),
        ] {
            let drop = psi_per_100_ft(bore, flow, "100 psi");
            let apart = (drop / published - 1.0).abs();
            assert!(apart < 0.015, "{bore} {flow}: {drop} for {published}");
        }
    }

    // The note under the same table: at 60 psig the drop is 1.5355 times as
    // large (that figure holds for an atmosphere of 14.7 psi).
    #[test]
    fn thinner_air_loses_more() {
        let ratio = psi_per_100_ft("2.067in", "400 cfm", "60 psi")
            / psi_per_100_ft("2.067in", "400 cfm", "100 psi");
        assert!((ratio - 1.5355).abs() < 1e-3, "{ratio}");
    }

    fn psi_per_100_ft(bore: &str, flow: &str, gauge: &str) -> f64 {
        let site = Site {
            temperature: Temperature::from_fahrenheit(60),
            ..Site::SEA_LEVEL
        };
        let stream = Stream::new(
            AirFlow::parse(flow).unwrap(),
            &site,
            Pressure::parse(gauge).unwrap(),
            site.temperature,
        );
        let length = |text| Length::parse(text, Units::Feet).unwrap();
        let pascal = loss_per_metre(&stream, length(bore), length("0.0018in"));
        pascal * 30.48 / 6_894.757
    }
}
