//! `[as_built]`: the job from which this one was frozen when it was built.

use crate::job::AsBuilt;
use crate::job::fields::Fields;
use crate::job::read::Reader;
use toml::de::DeValue;

pub(in crate::job) fn as_built(
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<AsBuilt> {
    let fields = Fields::of("[as_built]", value, &["mark", "date"], &mut r.findings)?;
    fields.require(
        &[("mark", "\"4F2A-91C0\""), ("date", "\"2026-11-02\"")],
        &mut r.findings,
    );
    let mut text = |key| {
        fields
            .text(key, &mut r.findings)
            .map(|text| text.value.trim().to_owned())
    };
    let (mark, date) = (text("mark"), text("date"));
    Some(AsBuilt {
        mark: mark?,
        date: date?,
    })
}
