//! A length as the job file writes it.

use crate::quantity::{Length, Units};

const INCH: i64 = Length::from_64ths(64).nm();
const FOOT: i64 = Length::from_feet(1).nm();

/// Writes a length so that it is read again exactly: `12-6 1/2` where the job's units are
/// feet, else `3810mm`; what is finer than 1/64 in is written in millimetres.
#[must_use]
pub fn as_written(length: Length, units: Units) -> String {
    let nm = length.nm();
    let part = Length::from_64ths(1).nm();
    if units == Units::Metric || nm % part != 0 || nm < 0 {
        return format!("{}mm", exact_mm(nm));
    }
    let (feet, inches) = (nm / FOOT, nm % FOOT / INCH);
    let (mut over, mut under) = (nm % INCH / part, 64);
    while over > 0 && over % 2 == 0 {
        over /= 2;
        under /= 2;
    }
    match over {
        0 => format!("{feet}-{inches}"),
        over => format!("{feet}-{inches} {over}/{under}"),
    }
}

/// Millimetres with all their decimals.
fn exact_mm(nm: i64) -> String {
    let sign = if nm < 0 { "-" } else { "" };
    let (whole, rest) = (nm.unsigned_abs() / 1_000_000, nm.unsigned_abs() % 1_000_000);
    let text = format!("{sign}{whole}.{rest:06}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
