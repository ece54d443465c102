//! How moist air cools along pipe, and what it keeps of its water.
//!
//! Water that falls out gives off its heat, which keeps the air warmer: for
//! each kilogram of dry air, (cₐ + W cᵥ) dT + L dW = −loss (T − Tₐ) dA / m.

use super::moisture::{
    TRIPLE_POINT, dew_point, ratio_slope, saturation, saturation_ratio, vapour_pressure,
};
use crate::quantity::Length;

/// Heat that bare pipe indoors loses to still air, W on each m2 of its outside
/// and degree: convection and radiation together. Handbooks give 10 to 12 for
/// dull pipe, from memory; bright copper and aluminium lose less. The lower
/// figure leaves the air hotter.
pub const BARE_PIPE: f64 = 10.0;

/// Heat that warms air by a degree at constant pressure, J/(kg K), from memory.
const AIR: f64 = 1_006.0;
/// The same of its vapour. Source: ASHRAE Handbook, Fundamentals, from memory.
const VAPOUR: f64 = 1_860.0;

/// The outside of a length of pipe, m2.
#[must_use]
pub fn surface(length: Length, outside: Length) -> f64 {
    std::f64::consts::PI * outside.mm() / 1_000.0 * length.mm() / 1_000.0
}

/// Air at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistAir {
    /// Its temperature, K.
    pub kelvin: f64,
    /// Kilograms of vapour to each of dry air.
    pub ratio: f64,
}

/// Pipe that air runs through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Its outside, m2.
    pub surface: f64,
    /// Heat that it loses, W/(m2 K).
    pub loss: f64,
    /// The air around it, K.
    pub around: f64,
    /// The pressure in it, Pa, absolute.
    pub absolute: f64,
}

impl MoistAir {
    /// The temperature at which water begins to fall out at this pressure, K;
    /// none below -100 C.
    #[must_use]
    pub fn dew_point(self, absolute: f64) -> Option<f64> {
        /// A ratio that was worked out of a pressure does not give back every
        /// bit of it.
        const ROUNDING: f64 = 1.0 - 1e-12;
        let vapour = vapour_pressure(self.ratio, absolute);
        if vapour >= saturation(self.kelvin) * ROUNDING {
            return Some(self.kelvin);
        }
        dew_point(vapour)
    }

    /// This air, `dry` kg/s of it without its vapour, behind a wall. Dry air
    /// follows T = Tₐ + (T₀ − Tₐ) exp(−loss × surface / (mass × heat)); below
    /// its dew point the temperature is within 0.001 K of a fine integration,
    /// and pipe cut in two is the same pipe to 1e-6 K. What has fallen out is
    /// gone: air that warms takes nothing up. Air that stands still becomes as
    /// its surroundings.
    #[must_use]
    pub fn behind(self, wall: &Wall, dry: f64) -> Self {
        let spent = wall.loss * wall.surface;
        if spent.is_nan() || spent <= 0.0 {
            return self;
        }
        let kelvin = if dry > 0.0 {
            self.cooled(wall, spent / dry)
        } else {
            wall.around
        };
        Self {
            kelvin,
            ratio: self.ratio.min(saturation_ratio(kelvin, wall.absolute)),
        }
    }

    /// `left` is loss × surface / mass, J/(kg K).
    fn cooled(self, wall: &Wall, left: f64) -> f64 {
        let above = self.kelvin - wall.around;
        let heat = AIR + self.ratio * VAPOUR;
        let dew = self.dew_point(wall.absolute);
        let to_dew = dew
            .filter(|dew| above > 0.0 && *dew > wall.around)
            .map(|dew| (dew, heat * (above / (dew - wall.around)).ln()))
            .filter(|(_, needed)| *needed < left);
        let Some((dew, needed)) = to_dew else {
            return wall.around + above * (-left / heat).exp();
        };
        let mut left = left - needed;
        let mut above = dew - wall.around;
        for frozen in [false, true] {
            let rest = if frozen {
                0.0
            } else {
                (TRIPLE_POINT - wall.around).max(0.0)
            };
            above = Wet { wall, frozen }.down_to(rest, above, &mut left);
        }
        wall.around + above
    }
}

/// Saturated air on one side of the triple point.
struct Wet<'a> {
    wall: &'a Wall,
    frozen: bool,
}

impl Wet<'_> {
    /// Follows air that is `above` its surroundings until it is only `rest`
    /// above them, or nothing is `left`: Σ heat × d ln(T − Tₐ) = left.
    fn down_to(&self, rest: f64, mut above: f64, left: &mut f64) -> f64 {
        /// The longest step, K and in the logarithm.
        const STEP: (f64, f64) = (1.0, 0.25);
        /// So near its surroundings air is as they are, K.
        const THERE: f64 = 1e-9;
        while above > rest + THERE && *left > 0.0 {
            let to_rest = if rest > 0.0 {
                (above / rest).ln()
            } else {
                f64::INFINITY
            };
            let mut step = STEP.1.min(STEP.0 / above).min(to_rest);
            let whole = step * self.mean_heat(above, step);
            if whole > *left {
                // The heat hardly changes within a step: each round leaves
                // less than a tenth of the fault.
                for _ in 0..10 {
                    step = *left / self.mean_heat(above, step);
                }
                *left = 0.0;
            } else {
                *left -= whole;
            }
            above *= (-step).exp();
        }
        if above > rest + THERE {
            above
        } else {
            rest.min(above)
        }
    }

    /// Over a step in the logarithm, by Simpson's rule.
    fn mean_heat(&self, above: f64, step: f64) -> f64 {
        let at = |part: f64| self.heat(self.wall.around + above * (-step * part).exp());
        (at(0.0) + 4.0 * at(0.5) + at(1.0)) / 6.0
    }

    /// Heat that a degree less sets free in air that stays saturated, J on each
    /// kilogram of dry air. Latent heat by the enthalpies of the ASHRAE
    /// Handbook, Fundamentals, from memory: vapour 2501 + 1.86 t, water
    /// 4.186 t, ice −333.4 + 2.1 t kJ/kg at t C.
    fn heat(&self, kelvin: f64) -> f64 {
        let kelvin = if self.frozen {
            kelvin.min(TRIPLE_POINT.next_down())
        } else {
            kelvin.max(TRIPLE_POINT)
        };
        let celsius = kelvin - 273.15;
        let latent = if self.frozen {
            2_834_400.0 - 240.0 * celsius
        } else {
            2_501_000.0 - 2_326.0 * celsius
        };
        let absolute = self.wall.absolute;
        let ratio = saturation_ratio(kelvin, absolute);
        AIR + ratio * VAPOUR + latent * ratio_slope(kelvin, absolute)
    }
}

#[cfg(test)]
mod tests {
    use super::{BARE_PIPE, MoistAir, Wall, surface};
    use crate::air::moisture::saturation_ratio;
    use crate::quantity::{Length, Temperature, Units};

    const ABSOLUTE: f64 = 801_325.0;

    fn kelvin(fahrenheit: i32) -> f64 {
        Temperature::from_fahrenheit(fahrenheit).kelvin()
    }

    fn wall(surface: f64, around: f64) -> Wall {
        Wall {
            surface,
            loss: BARE_PIPE,
            around,
            absolute: ABSOLUTE,
        }
    }

    fn saturated(kelvin: f64) -> MoistAir {
        MoistAir {
            kelvin,
            ratio: saturation_ratio(kelvin, ABSOLUTE),
        }
    }

    // By hand: 24 cfm of free air at 20 C is 0.01364 kg/s. 100 ft of 1 in pipe,
    // 1.315 in outside: 3.1983 m2, so 10 × 3.1983 / (0.01364 × 1006) = 2.3308;
    // e^-2.3308 = 0.09722. From 150 F at 100 F around it: 104.86 F.
    #[test]
    fn dry_air_worked_by_hand() {
        let outside = Length::parse("1.315in", Units::Feet).unwrap();
        let pipe = surface(Length::from_feet(100), outside);
        assert!((pipe - 3.1983).abs() < 1e-4, "{pipe}");
        let air = MoistAir {
            kelvin: kelvin(150),
            ratio: 0.0,
        };
        let end = air.behind(&wall(pipe, kelvin(100)), 0.01364).kelvin;
        let wanted = kelvin(100) + (kelvin(150) - kelvin(100)) * (-2.330_8_f64).exp();
        assert!((end - wanted).abs() < 0.001, "{end} {wanted}");
        assert!(((end - 273.15) * 1.8 + 32.0 - 104.86).abs() < 0.01);
    }

    // In any two stretches it comes to the same, through the dew point and
    // through freezing.
    #[test]
    fn a_pipe_cut_in_two_is_the_same_pipe() {
        for (from, around) in [(150, 70), (110, -20), (60, 0), (212, 100), (30, -40)] {
            for ratio in [0.2, 0.7, 1.0] {
                let mut air = saturated(kelvin(from));
                air.ratio *= ratio;
                for tenths in 1..10 {
                    let whole = 4.0;
                    let first = whole * f64::from(tenths) / 10.0;
                    let once = air.behind(&wall(whole, kelvin(around)), 0.02);
                    let twice = air
                        .behind(&wall(first, kelvin(around)), 0.02)
                        .behind(&wall(whole - first, kelvin(around)), 0.02);
                    let off = (once.kelvin - twice.kelvin).abs();
                    assert!(off < 1e-6, "{from} {around} {ratio} {tenths}: {off}");
                    assert!((once.ratio / twice.ratio - 1.0).abs() < 1e-6);
                }
            }
        }
    }

    #[test]
    fn wet_air_stays_warmer_and_air_that_warms_takes_nothing_up() {
        let dry = MoistAir {
            kelvin: kelvin(100),
            ratio: 0.0,
        };
        let wall = wall(2.0, kelvin(40));
        let wet = saturated(kelvin(100)).behind(&wall, 0.02);
        assert!(wet.kelvin > dry.behind(&wall, 0.02).kelvin + 2.0);
        let cold = saturated(kelvin(35));
        let warmed = cold.behind(&wall, 0.02);
        assert!(warmed.kelvin > cold.kelvin && warmed.kelvin < kelvin(40));
        assert!((warmed.ratio / cold.ratio - 1.0).abs() < 1e-12);
        assert_eq!(cold.dew_point(ABSOLUTE), Some(cold.kelvin));
    }

    #[test]
    fn the_ends_of_the_scale() {
        let air = saturated(kelvin(150));
        assert_eq!(air.behind(&wall(0.0, kelvin(100)), 0.01), air);
        for (surface, dry) in [(1.0, 0.0), (1e9, 0.01)] {
            let end = air.behind(&wall(surface, kelvin(100)), dry);
            assert_eq!(end, saturated(kelvin(100)));
        }
    }
}
