//! The only place that reads the clock.

use jiff::civil::Date;
use jiff::{Timestamp, tz::Offset};

/// Today's date in UTC; `--date` gives another.
#[must_use]
pub fn today() -> Date {
    Offset::UTC.to_datetime(Timestamp::now()).date()
}
