//! How hot air cools along bare pipe.

use crate::quantity::{Length, Temperature};

/// Heat that bare pipe indoors loses to still air, W on each m2 of its outside
/// and degree: convection and radiation together. Handbooks give 10 to 12 for
/// dull pipe, from memory; bright copper and aluminium lose less. The lower
/// figure leaves the air hotter.
pub const BARE_PIPE: f64 = 10.0;

/// Heat that warms air by a degree at constant pressure, J/(kg K), from memory.
const HEAT: f64 = 1_006.0;

/// The outside of a length of pipe, m2.
#[must_use]
pub fn surface(length: Length, outside: Length) -> f64 {
    std::f64::consts::PI * outside.mm() / 1_000.0 * length.mm() / 1_000.0
}

/// The temperature of `kg_per_s` of air behind `surface` m2 of pipe whose wall
/// loses `loss` W/(m2 K): T = Tₐ + (T₀ − Tₐ) exp(−loss × surface / (mass × heat)).
/// Air that stands still has the temperature of its surroundings.
#[must_use]
pub fn cooled(
    air: Temperature,
    ambient: Temperature,
    kg_per_s: f64,
    surface: f64,
    loss: f64,
) -> Temperature {
    if surface <= 0.0 {
        return air;
    }
    if kg_per_s <= 0.0 {
        return ambient;
    }
    let left = (-loss * surface / (kg_per_s * HEAT)).exp();
    let above = air.kelvin() - ambient.kelvin();
    Temperature::from_kelvin(ambient.kelvin() + above * left)
}

#[cfg(test)]
mod tests {
    use super::{BARE_PIPE, cooled, surface};
    use crate::quantity::{Length, Temperature, Units};

    // By hand: 24 cfm of free air at 20 C is 0.01364 kg/s. 100 ft of 1 in pipe,
    // 1.315 in outside: 3.1983 m2, so 10 × 3.1983 / (0.01364 × 1006) = 2.3308;
    // e^-2.3308 = 0.09722. From 150 F at 100 F around it: 104.86 F.
    #[test]
    fn a_case_worked_by_hand() {
        let outside = Length::parse("1.315in", Units::Feet).unwrap();
        let pipe = surface(Length::from_feet(100), outside);
        assert!((pipe - 3.1983).abs() < 1e-4, "{pipe}");
        let f = Temperature::from_fahrenheit;
        let end = cooled(f(150), f(100), 0.01364, pipe, BARE_PIPE);
        assert!((end.fahrenheit() - 104.86).abs() < 0.01, "{end:?}");
        // In two stretches it comes to the same.
        let half = cooled(f(150), f(100), 0.01364, pipe / 2.0, BARE_PIPE);
        let end_again = cooled(half, f(100), 0.01364, pipe / 2.0, BARE_PIPE);
        assert!((end.kelvin() - end_again.kelvin()).abs() < 0.002);
    }

    #[test]
    fn the_ends_of_the_scale() {
        let f = Temperature::from_fahrenheit;
        assert_eq!(cooled(f(150), f(100), 0.01, 0.0, BARE_PIPE), f(150));
        assert_eq!(cooled(f(150), f(100), 0.0, 1.0, BARE_PIPE), f(100));
        assert_eq!(cooled(f(150), f(100), 0.01, 1e6, BARE_PIPE), f(100));
    }
}
