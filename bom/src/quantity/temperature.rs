use super::scan::Scanner;
use super::{QuantityError, Units};

/// A temperature, kept as a whole number of 1/900 of a kelvin, so that a
/// hundredth of a degree is exact in both scales and figures out of tables
/// compare as they are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(i64);

const PER_KELVIN: i64 = 900;
const PER_FAHRENHEIT: i64 = 500;
/// 0 C and 32 F.
const FREEZING: i64 = 245_835;
/// 0 F: 32 F below freezing.
const ZERO_F: i64 = FREEZING - 32 * PER_FAHRENHEIT;
/// Above every pipe's limit; a figure beyond it is a typing accident.
const HOTTEST: i64 = FREEZING + 2_000 * PER_KELVIN;

impl Temperature {
    /// A whole number of degrees Fahrenheit.
    #[must_use]
    pub const fn from_fahrenheit(degrees: i32) -> Self {
        Self(ZERO_F + degrees as i64 * PER_FAHRENHEIT)
    }

    /// A whole number of degrees Celsius.
    #[must_use]
    pub const fn from_celsius(degrees: i32) -> Self {
        Self(FREEZING + degrees as i64 * PER_KELVIN)
    }

    /// A computed temperature, rounded to 1/900 of a kelvin.
    #[must_use]
    #[expect(
        clippy::cast_possible_truncation,
        reason = "the cast clamps what is out of range, and a reading is never near it"
    )]
    pub fn from_kelvin(kelvin: f64) -> Self {
        Self((kelvin * reading(PER_KELVIN)).round() as i64)
    }

    /// Above absolute zero.
    #[must_use]
    pub fn kelvin(self) -> f64 {
        reading(self.0) / reading(PER_KELVIN)
    }

    /// In degrees Celsius.
    #[must_use]
    pub fn celsius(self) -> f64 {
        reading(self.0 - FREEZING) / reading(PER_KELVIN)
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub fn fahrenheit(self) -> f64 {
        reading(self.0 - ZERO_F) / reading(PER_FAHRENHEIT)
    }

    /// Reads `140 F`, `60 C` or `60 °C`, below zero with a sign before it.
    ///
    /// # Errors
    /// A missing or unknown unit, or a temperature that no pipe has.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"140 F\" or \"60 C\"";
        let trimmed = text.trim();
        let (below, body) = match trimmed.strip_prefix(['-', '−']) {
            Some(body) => (true, body),
            None => (false, trimmed),
        };
        let mut scan = Scanner::new(body);
        let number = scan.number()?;
        scan.take('°');
        let unit = scan.rest().trim();
        let (zero, per_degree) = match unit {
            "F" => (ZERO_F, PER_FAHRENHEIT),
            "C" => (FREEZING, PER_KELVIN),
            "" => {
                return Err(QuantityError::new(
                    format!("the temperature `{trimmed}` has no unit"),
                    HOW,
                ));
            }
            other => {
                return Err(QuantityError::new(
                    format!("`{other}` is not a unit of temperature"),
                    HOW,
                ));
            }
        };
        let degrees = number
            .times_exact(100)
            .and_then(|hundredths| i64::try_from(hundredths).ok())
            .ok_or_else(|| {
                QuantityError::new(
                    format!("the temperature `{trimmed}` has more than two decimals"),
                    HOW,
                )
            })?;
        let from_zero = degrees.saturating_mul(per_degree / 100);
        let sum = zero + if below { -from_zero } else { from_zero };
        if !(0..=HOTTEST).contains(&sum) {
            return Err(QuantityError::new(
                format!("no pipe is at `{trimmed}`"),
                "check the figure and its unit",
            ));
        }
        Ok(Self(sum))
    }

    /// Fahrenheit where the job is in feet, Celsius where it is metric; to a
    /// tenth of a degree.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        let (degrees, unit) = match units {
            Units::Feet => (self.fahrenheit(), "F"),
            Units::Metric => (self.celsius(), "C"),
        };
        let text = format!("{degrees:.1}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        format!("{} {unit}", if text == "-0" { "0" } else { text })
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "temperatures stay far below 2^52 of their units"
)]
const fn reading(count: i64) -> f64 {
    count as f64
}

#[cfg(test)]
mod tests {
    use super::Temperature;
    use crate::quantity::Units;

    #[test]
    fn both_scales_are_exact() {
        for (text, feet, metric) in [
            ("140 F", "140 F", "60 C"),
            ("60 C", "140 F", "60 C"),
            ("60 °C", "140 F", "60 C"),
            ("60°C", "140 F", "60 C"),
            ("-40 F", "-40 F", "-40 C"),
            ("−40C", "-40 F", "-40 C"),
            ("0 C", "32 F", "0 C"),
            ("98.6 F", "98.6 F", "37 C"),
            ("31.98 F", "32 F", "0 C"),
            ("0.01 C", "32 F", "0 C"),
        ] {
            let read = Temperature::parse(text).unwrap();
            assert_eq!(read.show(Units::Feet), feet, "{text}");
            assert_eq!(read.show(Units::Metric), metric, "{text}");
        }
        let hot = Temperature::parse("150 F").unwrap();
        assert_eq!(hot, Temperature::from_fahrenheit(150));
        assert_eq!(hot, Temperature::from_kelvin(hot.kelvin()));
        assert!(Temperature::parse("65.55 C").unwrap() < hot);
        assert!(Temperature::parse("65.56 C").unwrap() > hot);
        let cold = Temperature::from_celsius(20);
        assert!((cold.kelvin() - 293.15).abs() < 1e-12);
        assert!((cold.celsius() - 20.0).abs() < 1e-12);
        assert!((cold.fahrenheit() - 68.0).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_read_says_how_to_write_it() {
        for (text, message) in [
            ("140", "the temperature `140` has no unit"),
            ("140 K", "`K` is not a unit of temperature"),
            ("140 psi", "`psi` is not a unit of temperature"),
            (
                "60.125 C",
                "the temperature `60.125 C` has more than two decimals",
            ),
            ("-300 C", "no pipe is at `-300 C`"),
            ("99999999999 F", "no pipe is at `99999999999 F`"),
        ] {
            let error = Temperature::parse(text).unwrap_err();
            assert_eq!(error.message, message, "{text}");
            assert!(!error.help.is_empty());
        }
        assert!(Temperature::parse("warm").is_err());
        assert!(Temperature::parse("--4 F").is_err());
    }
}
