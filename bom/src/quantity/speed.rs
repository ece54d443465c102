use super::air::{number_and_unit, short, units_of, unknown_unit, within};
use super::{QuantityError, Units};
use std::ops::RangeInclusive;

/// How fast air runs in a pipe.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Speed {
    metres_per_second: f64,
}

const METRES_PER_FOOT: f64 = 0.3048;
/// From what hardly moves to what no pipe is laid for, a good quarter of the speed of
/// sound, m/s.
const SPEEDS: RangeInclusive<f64> = 0.5 * METRES_PER_FOOT..=300.0 * METRES_PER_FOOT;

impl Speed {
    /// A speed in m/s.
    #[must_use]
    pub const fn from_metres_per_second(metres_per_second: f64) -> Self {
        Self { metres_per_second }
    }

    /// A speed in ft/s.
    #[must_use]
    pub const fn from_feet_per_second(feet_per_second: f64) -> Self {
        Self {
            metres_per_second: feet_per_second * METRES_PER_FOOT,
        }
    }

    /// Metres each second.
    #[must_use]
    pub const fn metres_per_second(self) -> f64 {
        self.metres_per_second
    }

    /// Reads `30 ft/s` or `9 m/s`.
    ///
    /// # Errors
    /// A missing or unknown unit, no speed at all, or one that no pipe is laid for.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"30 ft/s\" or \"9 m/s\"";
        let (number, unit) = number_and_unit(text, "speed", HOW)?;
        let speed = match unit.as_str() {
            "ft/s" => Self::from_feet_per_second(number),
            "m/s" => Self::from_metres_per_second(number),
            other => return Err(unknown_unit(other, "speed", HOW)),
        };
        if speed.metres_per_second <= 0.0 {
            return Err(QuantityError::new("the speed is nothing", HOW));
        }
        let show = |speed, units| Self::from_metres_per_second(speed).show(units);
        let units = units_of(&unit);
        within(
            speed.metres_per_second,
            &SPEEDS,
            units,
            ("speed", text),
            show,
        )
        .map(Self::from_metres_per_second)
    }

    /// Feet each second where the job is in feet, metres where it is metric.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        self.with_decimals(1, units)
    }

    /// This speed and a limit, with as many decimals as tell the one from the other.
    #[must_use]
    pub fn beside(self, limit: Self, units: Units) -> [String; 2] {
        /// Closer than a part in a thousand million is rounding.
        const MOST: usize = 9;
        let both = |decimals| [self, limit].map(|speed| speed.with_decimals(decimals, units));
        (1..=MOST)
            .map(both)
            .find(|[speed, limit]| speed != limit)
            .unwrap_or_else(|| both(1))
    }

    fn with_decimals(self, decimals: usize, units: Units) -> String {
        let (value, unit) = match units {
            Units::Feet => (self.metres_per_second / METRES_PER_FOOT, "ft/s"),
            Units::Metric => (self.metres_per_second, "m/s"),
        };
        format!("{} {unit}", short(value, decimals))
    }
}

#[cfg(test)]
mod tests {
    use super::{Speed, Units};

    #[test]
    fn a_speed_is_told_from_its_limit() {
        let beside = |speed, limit| {
            let [speed, limit] = [speed, limit].map(Speed::from_feet_per_second);
            speed.beside(limit, Units::Feet).join(", ")
        };
        assert_eq!(beside(28.74, 20.0), "28.7 ft/s, 20 ft/s");
        assert_eq!(beside(20.04, 20.0), "20.04 ft/s, 20 ft/s");
        assert_eq!(beside(19.999_6, 20.0), "19.9996 ft/s, 20 ft/s");
        assert_eq!(beside(20.04, 20.04), "20 ft/s, 20 ft/s");
        let [speed, limit] = [6.12, 6.1].map(Speed::from_metres_per_second);
        assert_eq!(speed.beside(limit, Units::Metric), ["6.12 m/s", "6.1 m/s"]);
    }
}
