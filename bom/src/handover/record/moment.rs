//! A day and a time of day, as a clock on the wall says them.

use crate::quantity::QuantityError;

/// A time of day, with its day if that was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Moment {
    /// Days since some day.
    day: Option<i64>,
    /// Since midnight.
    seconds: i64,
}

const HOW: &str = "write it like \"2026-11-02 17:05\", or \"17:05\" within one day";
const DAY: i64 = 86_400;

impl Moment {
    /// Reads `2026-11-02 17:05`, `2026-11-02 17:05:30` or `17:05`.
    pub(super) fn parse(text: &str) -> Result<Self, QuantityError> {
        let trimmed = text.trim();
        let found = match trimmed.split_once([' ', 'T']) {
            None => time_of_day(trimmed).map(|seconds| (None, seconds)),
            Some((day, time)) => day_number(day)
                .zip(time_of_day(time.trim()))
                .map(|(day, seconds)| (Some(day), seconds)),
        };
        let (day, seconds) = found.ok_or_else(|| {
            QuantityError::new(format!("`{trimmed}` is no day and time of day"), HOW)
        })?;
        Ok(Self { day, seconds })
    }

    /// From this to a later one, s; less than nothing if it is not later. Where only one
    /// says its day, both are of it.
    pub(super) fn until(self, later: Self) -> i64 {
        let days = match (self.day, later.day) {
            (Some(one), Some(other)) => other - one,
            _ => 0,
        };
        days * DAY + later.seconds - self.seconds
    }
}

/// The figures between signs, each with no more digits than its place has.
fn figures(text: &str, sign: char, digits: &[usize]) -> Option<Vec<i64>> {
    let parts: Vec<&str> = text.split(sign).collect();
    if parts.len() > digits.len() {
        return None;
    }
    let read = parts.iter().zip(digits).map(|(part, most)| {
        let whole = part.len() <= *most && part.bytes().all(|byte| byte.is_ascii_digit());
        part.parse().ok().filter(|_| whole)
    });
    read.collect()
}

fn time_of_day(text: &str) -> Option<i64> {
    let parts = figures(text, ':', &[2, 2, 2])?;
    let (hours, minutes) = (*parts.first()?, *parts.get(1)?);
    let seconds = parts.get(2).copied().unwrap_or(0);
    (hours < 24 && minutes < 60 && seconds < 60).then_some(hours * 3_600 + minutes * 60 + seconds)
}

/// Days of the calendar, counted from a first of March, so that the leap day ends a year.
fn day_number(text: &str) -> Option<i64> {
    let parts = figures(text, '-', &[4, 2, 2])?;
    let [year, month, day] = <[i64; 3]>::try_from(parts).ok()?;
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let longest = match month {
        2 => 28 + i64::from(leap),
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    if !(1..=12).contains(&month) || !(1..=longest).contains(&day) || year < 1 {
        return None;
    }
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    let leaps = year / 4 - year / 100 + year / 400;
    Some(365 * year + leaps + (153 * month + 2) / 5 + day)
}

#[cfg(test)]
mod tests {
    use super::Moment;

    fn between(first: &str, last: &str) -> i64 {
        let [first, last] = [first, last].map(|text| Moment::parse(text).unwrap());
        first.until(last)
    }

    #[test]
    fn times_between_days_are_those_of_the_calendar() {
        assert_eq!(between("8:05", "12:05"), 4 * 3_600);
        assert_eq!(between("17:00", "07:30"), -34_200);
        assert_eq!(between("2026-11-02 17:00", "2026-11-03 07:30"), 52_200);
        assert_eq!(between("2026-11-02 17:00:30", "18:00"), 3_570);
        assert_eq!(between("2028-02-28 00:00", "2028-03-01 00:00"), 2 * 86_400);
        assert_eq!(between("2026-02-28 00:00", "2026-03-01 00:00"), 86_400);
        assert_eq!(between("2026-12-31 23:59", "2027-01-01 00:00"), 60);
        assert_eq!(
            between("2000-01-01 00:00", "2026-11-02 00:00"),
            9_802 * 86_400
        );
    }

    #[test]
    fn what_is_no_time_is_told() {
        for text in [
            "",
            "5",
            "24:00",
            "12:60",
            "2026-02-30 10:00",
            "2026-13-01 10:00",
            "02.11.2026 10:00",
            "2026-11-02",
            "-1:00",
            "morning",
            "99999-01-01 10:00",
        ] {
            assert!(Moment::parse(text).is_err(), "{text}");
        }
    }
}
