//! `[shop]`: who works there.

use crate::job::fields::Fields;
use crate::job::read::Reader;
use crate::quantity::QuantityError;
use toml::de::DeValue;

/// How many people use air at the same time, if the job says so.
pub(in crate::job) fn people(value: &toml::Spanned<DeValue<'_>>, r: &mut Reader<'_>) -> Option<u8> {
    let fields = Fields::of("[shop]", value, &["people"], &mut r.findings)?;
    let people = fields.quantity("people", count, &mut r.findings)?;
    Some(people.value)
}

fn count(text: &str) -> Result<u8, QuantityError> {
    text.trim().parse().map_err(|_| {
        QuantityError::new(
            format!("`{}` is no number of people from 0 to 255", text.trim()),
            "write how many people use air at the same time: people = 3",
        )
    })
}
