//! How much water air can hold, and where it begins to give it up.
//!
//! Pressures are absolute and in Pa, temperatures in K, so that a dew point is
//! not rounded before it is used. Air and vapour are ideal gases: under 8 bar
//! real air holds up to 3 % more.

/// Kilograms of vapour to one of dry air at equal pressures: the ratio of their
/// molecular masses. Source: ASHRAE Handbook, Fundamentals, from memory.
pub const MASS_RATIO: f64 = 0.621_945;

/// Where ice, water and vapour meet.
pub(super) const TRIPLE_POINT: f64 = 273.16;
/// The equation over ice begins at -100 C, that over water ends at 200 C.
pub(crate) const COLDEST: f64 = 173.15;
pub(crate) const HOTTEST: f64 = 473.15;

/// ln p = `inverse` / T + the polynomial of `powers` + `log` ln T.
struct Curve {
    inverse: f64,
    /// In the order of rising powers.
    powers: [f64; 5],
    log: f64,
}

/// Hyland and Wexler (1983) as the ASHRAE Handbook, Fundamentals, prints it for
/// 0 to 200 C.
const OVER_WATER: Curve = Curve {
    inverse: -5.800_220_6e3,
    powers: [
        1.391_499_3,
        -4.864_023_9e-2,
        4.176_476_8e-5,
        -1.445_209_3e-8,
        0.0,
    ],
    log: 6.545_967_3,
};

/// The same for -100 to 0 C.
const OVER_ICE: Curve = Curve {
    inverse: -5.674_535_9e3,
    powers: [
        6.392_524_7,
        -9.677_843_0e-3,
        6.221_570_1e-7,
        2.074_782_5e-9,
        -9.484_024_0e-13,
    ],
    log: 4.163_501_9,
};

impl Curve {
    fn at(kelvin: f64) -> &'static Self {
        if kelvin < TRIPLE_POINT {
            &OVER_ICE
        } else {
            &OVER_WATER
        }
    }

    fn pressure(&self, kelvin: f64) -> f64 {
        let sum = self.powers.iter().rfold(0.0, |sum, c| sum * kelvin + c);
        (self.inverse / kelvin + sum + self.log * kelvin.ln()).exp()
    }

    /// How much the pressure rises with each degree.
    fn slope(&self, kelvin: f64) -> f64 {
        let [_, one, two, three, four] = self.powers;
        let sum = one + kelvin * (2.0 * two + kelvin * (3.0 * three + kelvin * 4.0 * four));
        self.pressure(kelvin) * (sum + (self.log - self.inverse / kelvin) / kelvin)
    }
}

/// The pressure of vapour over water or, below the triple point, over ice. The
/// ends of the equations' range, -100 and 200 C, stand for what lies beyond.
#[must_use]
pub fn saturation(kelvin: f64) -> f64 {
    let kelvin = kelvin.clamp(COLDEST, HOTTEST);
    Curve::at(kelvin).pressure(kelvin)
}

/// How much more vapour saturated air holds with each degree, in kilograms to
/// one of dry air.
pub(super) fn ratio_slope(kelvin: f64, absolute: f64) -> f64 {
    if !(COLDEST..=HOTTEST).contains(&kelvin) {
        return 0.0;
    }
    let curve = Curve::at(kelvin);
    let dry = absolute - curve.pressure(kelvin);
    MASS_RATIO * absolute * curve.slope(kelvin) / (dry * dry)
}

/// Kilograms of vapour to each of dry air: without limit where the vapour
/// alone has the whole pressure.
#[must_use]
pub fn humidity_ratio(vapour: f64, absolute: f64) -> f64 {
    if vapour >= absolute {
        return f64::INFINITY;
    }
    MASS_RATIO * vapour / (absolute - vapour)
}

/// The most vapour that air of this temperature and pressure holds.
#[must_use]
pub fn saturation_ratio(kelvin: f64, absolute: f64) -> f64 {
    humidity_ratio(saturation(kelvin), absolute)
}

/// The part of the pressure that is the vapour's.
#[must_use]
pub fn vapour_pressure(ratio: f64, absolute: f64) -> f64 {
    absolute * ratio / (MASS_RATIO + ratio)
}

/// The temperature at which vapour of this pressure begins to turn into water
/// or frost, to 1e-6 K. None where it lies outside -100 to 200 C: the driest
/// air has none that matters.
#[must_use]
pub fn dew_point(vapour: f64) -> Option<f64> {
    const CLOSE: f64 = 1e-7;
    if !(saturation(COLDEST)..=saturation(HOTTEST)).contains(&vapour) {
        return None;
    }
    let (mut below, mut above) = (COLDEST, HOTTEST);
    while above - below > CLOSE {
        let middle = below.midpoint(above);
        if saturation(middle) < vapour {
            below = middle;
        } else {
            above = middle;
        }
    }
    Some(below.midpoint(above))
}

/// The dew point that air has at another pressure, when none of its vapour is
/// lost on the way there.
#[must_use]
pub fn dew_point_at(dew_point_now: f64, absolute: f64, other: f64) -> Option<f64> {
    dew_point(saturation(dew_point_now) * other / absolute)
}

#[cfg(test)]
mod tests {
    use super::{
        OVER_ICE, OVER_WATER, dew_point, dew_point_at, humidity_ratio, ratio_slope, saturation,
        saturation_ratio, vapour_pressure,
    };

    #[test]
    fn water_and_ice_meet_at_the_triple_point() {
        let ice = OVER_ICE.pressure(273.16);
        let apart = OVER_WATER.pressure(273.16) - ice;
        assert!(apart.abs() < 0.005, "{apart}");
        assert!((ice - 611.657).abs() < 0.001);
    }

    #[test]
    fn the_slope_is_what_the_ratio_rises_by() {
        for celsius in [-60.0, -5.0, 3.0, 40.0, 150.0] {
            let (kelvin, absolute) = (celsius + 273.15, 801_325.0);
            let ratio = |by: f64| saturation_ratio(kelvin + by, absolute);
            let rise = (ratio(0.01) - ratio(-0.01)) / 0.02;
            let slope = ratio_slope(kelvin, absolute);
            assert!(
                (slope / rise - 1.0).abs() < 1e-6,
                "{celsius}: {slope} {rise}"
            );
        }
    }

    #[test]
    fn the_dew_point_of_saturated_air_is_its_temperature() {
        for hundredths in -9_999..20_000_i32 {
            let kelvin = 273.15 + f64::from(hundredths) / 100.0 + 0.003;
            let dew = dew_point(saturation(kelvin)).unwrap();
            assert!((dew - kelvin).abs() < 1e-6, "{kelvin}: {dew}");
        }
        assert_eq!(dew_point(0.0), None);
        assert_eq!(dew_point(2e6), None);
        assert_eq!(dew_point(f64::NAN), None);
    }

    #[test]
    fn the_pressure_falls_and_the_dew_point_with_it() {
        let dew = dew_point_at(276.15, 801_325.0, 101_325.0).unwrap();
        // 758.0 Pa of vapour become 95.8 Pa, which is frost below -20 C (103.3 Pa
        // over ice) and above -22 C (85.1 Pa).
        assert!((251.15..253.15).contains(&dew), "{dew}");
        let back = dew_point_at(dew, 101_325.0, 801_325.0).unwrap();
        assert!((back - 276.15).abs() < 1e-5, "{back}");
    }

    #[test]
    fn ratio_and_vapour_are_one_figure() {
        let ratio = saturation_ratio(293.15, 801_325.0);
        let vapour = vapour_pressure(ratio, 801_325.0);
        assert!((vapour / saturation(293.15) - 1.0).abs() < 1e-12);
        assert!(humidity_ratio(101_325.0, 101_325.0).is_infinite());
        assert!(saturation(f64::NEG_INFINITY) > 0.0);
    }
}
