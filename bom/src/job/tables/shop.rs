//! `[shop]`: who works there.

use crate::finding::Finding;
use crate::job::Outlet;
use crate::job::fields::Fields;
use crate::job::read::Reader;
use crate::quantity::QuantityError;
use crate::source::Spanned;
use toml::de::DeValue;

/// How many people use air at the same time, if the job says so.
pub(in crate::job) fn people(
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<Spanned<u8>> {
    let fields = Fields::of("[shop]", value, &["people"], &mut r.findings)?;
    fields.quantity("people", count, &mut r.findings)
}

/// Where nobody works, no hand tool runs, and none adds to what the shop wants.
pub(in crate::job) fn nobody_holds(people: Spanned<u8>, outlets: &[Outlet], r: &mut Reader<'_>) {
    if people.value > 0 {
        return;
    }
    let mut tools = outlets.iter().flat_map(|outlet| &outlet.tools);
    let by_hand = tools.find(|tool| tool.listed(r.library).is_some_and(|it| it.by_hand));
    let Some(one) = by_hand else { return };
    let finding = Finding::warning(
        "nobody-holds-tools",
        people.span,
        "no people use air, so that no hand tool is counted in what the shop wants",
        "write how many people use air at the same time, or take `people` out if nobody knows",
    );
    r.findings
        .push(finding.related(one.span, "runs only in somebody's hand"));
}

fn count(text: &str) -> Result<u8, QuantityError> {
    text.trim().parse().map_err(|_| {
        QuantityError::new(
            format!("`{}` is no number of people from 0 to 255", text.trim()),
            "write how many people use air at the same time: people = 3",
        )
    })
}
