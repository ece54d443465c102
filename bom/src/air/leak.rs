//! What a hole in pressed pipe lets out.

use super::{GAS, HEAT_RATIO};
use crate::quantity::Temperature;
use std::f64::consts::FRAC_PI_4;

/// A round hole between the pipe and the air outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Diameter, m.
    pub diameter: f64,
    /// Discharge coefficient, up to 1: 0.97 for a rounded edge, about 0.61 for a
    /// sharp one (common handbook figures).
    pub discharge: f64,
}

impl Hole {
    /// kg/s of air at rest behind it, from one absolute pressure in Pa to
    /// another; nothing if the outside has more. Isentropic flow of an ideal gas:
    /// at the speed of sound where the pressure inside is at least 1.893 times
    /// that outside.
    #[must_use]
    pub fn flow(&self, inside: f64, outside: f64, temperature: Temperature) -> f64 {
        if inside <= outside {
            return 0.0;
        }
        let area = FRAC_PI_4 * self.diameter * self.diameter;
        let gamma = HEAT_RATIO;
        let sonic = (2.0 / (gamma + 1.0)).powf(gamma / (gamma - 1.0));
        let ratio = (outside / inside).max(sonic);
        let spread = ratio.powf(2.0 / gamma) - ratio.powf((gamma + 1.0) / gamma);
        let speed = (2.0 * gamma / (gamma - 1.0) * spread).sqrt();
        self.discharge * area * inside * speed / (GAS * temperature.kelvin()).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::Hole;
    use crate::quantity::Temperature;

    #[test]
    fn the_flow_grows_with_the_pressure_and_joins_at_the_speed_of_sound() {
        let hole = Hole {
            diameter: 0.003,
            discharge: 0.61,
        };
        let air = Temperature::from_celsius(20);
        let flow = |bar: f64| hole.flow(bar * 1e5, 1e5, air);
        assert!(flow(1.0).abs() < 1e-15 && flow(0.5).abs() < 1e-15);
        let pressures: Vec<f64> = (10..100).map(|tenth| f64::from(tenth) / 10.0).collect();
        assert!(pressures.windows(2).all(|two| flow(two[0]) < flow(two[1])));
        assert!((flow(1.893) / flow(1.894) - 1.893 / 1.894).abs() < 1e-6);
        // Above it, in proportion: 0.0404 kg/s K^0.5 m-2 Pa-1 over √T.
        let wanted = 0.61 * 0.040_42 * std::f64::consts::FRAC_PI_4 * 9e-6 * 8e5 / 293.15_f64.sqrt();
        assert!((flow(8.0) / wanted - 1.0).abs() < 1e-3, "{}", flow(8.0));
    }
}
