use super::air::{number_and_unit, short, unknown_unit};
use super::{QuantityError, Units};

/// How fast air runs in a pipe.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Speed {
    metres_per_second: f64,
}

const METRES_PER_FOOT: f64 = 0.3048;

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
    /// A missing or unknown unit, or no speed at all.
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
        Ok(speed)
    }

    /// Feet each second where the job is in feet, metres where it is metric.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Feet => format!(
                "{} ft/s",
                short(self.metres_per_second / METRES_PER_FOOT, 1)
            ),
            Units::Metric => format!("{} m/s", short(self.metres_per_second, 1)),
        }
    }
}
