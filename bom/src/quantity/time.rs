//! A stretch of time.

use super::QuantityError;
use super::scan::Scanner;

/// A stretch of time, by a clock.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Time {
    seconds: f64,
}

/// What a stretch may be written in, the longest first, in seconds.
const PARTS: [(&[&str], f64); 4] = [
    (&["d", "day", "days"], 86_400.0),
    (&["h", "hour", "hours"], 3_600.0),
    (&["min", "minute", "minutes"], 60.0),
    (&["s", "sec", "second", "seconds"], 1.0),
];
/// Nobody watches a gauge for longer, s.
const LONGEST: f64 = 31.0 * 86_400.0;

impl Time {
    /// In seconds.
    #[must_use]
    pub const fn seconds(self) -> f64 {
        self.seconds
    }

    /// A computed time.
    #[must_use]
    pub const fn from_seconds(seconds: f64) -> Self {
        Self { seconds }
    }

    /// Reads `4 h`, `1 h 30 min`, `7 min 20 s` or `420 s`.
    ///
    /// # Errors
    /// A missing or unknown unit, units that do not go down, no time at all, or more
    /// than a month.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        const HOW: &str = "write it like \"4 h\", \"7 min 20 s\" or \"420 s\"";
        let trimmed = text.trim();
        let wrong = |message: String| QuantityError::new(message, HOW);
        if trimmed.starts_with(['-', '−']) {
            return Err(wrong(format!("the time `{trimmed}` is below zero")));
        }
        let mut scan = Scanner::new(trimmed);
        let (mut seconds, mut from) = (0.0, 0);
        loop {
            let number = scan.number()?.to_f64();
            let unit = scan.word();
            if unit.is_empty() {
                return Err(wrong(format!("the time `{trimmed}` has no unit")));
            }
            let found = PARTS.iter().position(|(words, _)| words.contains(&unit));
            let Some(at) = found else {
                return Err(wrong(format!("`{unit}` is not a unit of time")));
            };
            if at < from {
                return Err(wrong(format!(
                    "the time `{trimmed}` does not go from long to short"
                )));
            }
            seconds += number * PARTS[at].1;
            from = at + 1;
            if scan.at_end() {
                break;
            }
        }
        if seconds <= 0.0 || seconds > LONGEST {
            return Err(QuantityError::new(
                format!("`{trimmed}` is no time from a second to 31 days"),
                "check the figure and its unit",
            ));
        }
        Ok(Self { seconds })
    }

    /// Hours, minutes and seconds, whole ones.
    #[must_use]
    pub fn show(self) -> String {
        let seconds = self.seconds.round();
        let minutes = (seconds / 60.0).floor();
        let hours = (minutes / 60.0).floor();
        let (left, over) = (seconds - minutes * 60.0, minutes - hours * 60.0);
        match (hours > 0.0, minutes > 0.0, left > 0.0) {
            (false, false, _) => format!("{left:.0} s"),
            (false, true, false) => format!("{minutes:.0} min"),
            (false, true, true) => format!("{minutes:.0} min {left:02.0} s"),
            (true, _, false) => format!("{hours:.0} h {over:02.0} min"),
            (true, _, true) => format!("{hours:.0} h {over:02.0} min {left:02.0} s"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Time;

    #[test]
    fn times_read_and_print() {
        for (text, seconds, shown) in [
            ("4 h", 14_400.0, "4 h 00 min"),
            ("1 h 30 min", 5_400.0, "1 h 30 min"),
            ("1.5h", 5_400.0, "1 h 30 min"),
            ("7 min 20 s", 440.0, "7 min 20 s"),
            ("420 s", 420.0, "7 min"),
            ("12.4 s", 12.4, "12 s"),
            ("1 day 1 h 5 s", 90_005.0, "25 h 00 min 05 s"),
        ] {
            let read = Time::parse(text).unwrap();
            assert!((read.seconds() - seconds).abs() < 1e-9, "{text}");
            assert_eq!(read.show(), shown, "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_says_how_to_write_it() {
        for (text, message) in [
            ("-5 min", "the time `-5 min` is below zero"),
            ("5", "the time `5` has no unit"),
            ("5:40", "the time `5:40` has no unit"),
            ("5 psi", "`psi` is not a unit of time"),
            (
                "5 s 4 min",
                "the time `5 s 4 min` does not go from long to short",
            ),
            ("0 s", "`0 s` is no time from a second to 31 days"),
            ("60 days", "`60 days` is no time from a second to 31 days"),
        ] {
            assert_eq!(Time::parse(text).unwrap_err().message, message, "{text}");
        }
        assert!(Time::parse("").is_err() && Time::parse("soon").is_err());
    }
}
