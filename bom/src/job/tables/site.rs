//! `[site]`: where the shop stands.

use crate::job::fields::Fields;
use crate::job::read::Reader;
use crate::quantity::{Length, QuantityError, Units};
use toml::de::DeValue;

/// How high the site is above the sea.
pub(in crate::job) fn site(
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<Length> {
    let fields = Fields::of("[site]", value, &["altitude"], &mut r.findings)?;
    let units = r.units;
    let read = |text: &str| altitude(text, units);
    let altitude = fields.quantity("altitude", read, &mut r.findings)?;
    Some(altitude.value)
}

/// Reads `650ft`, or `-120m` below the sea.
fn altitude(text: &str, units: Units) -> Result<Length, QuantityError> {
    let trimmed = text.trim();
    let altitude = match trimmed.strip_prefix(['-', '−']) {
        Some(below) => Length::ZERO - Length::parse(below, units)?,
        None => Length::parse(trimmed, units)?,
    };
    if (-400_000.0..=5_000_000.0).contains(&altitude.mm()) {
        return Ok(altitude);
    }
    Err(QuantityError::new(
        format!("`{trimmed}` is no altitude from -400m to 5000m"),
        "write it like \"650ft\" or \"200m\"",
    ))
}
