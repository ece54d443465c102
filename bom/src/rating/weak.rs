//! `rated-below-relief`: what carries less than its zone can see.

use super::zones::{Rated, Zone, Zones};
use crate::finding::Finding;
use crate::quantity::Units;

/// 1 psi in kPa.
pub(super) const KPA_PER_PSI: f64 = 6.894_757_293_168_36;

/// Every part that carries less than its zone can see, or for which no
/// published figure holds at its temperature; weakest first.
#[must_use]
pub fn findings(zones: &Zones) -> Vec<Finding> {
    let found = zones.zones.iter().flat_map(|zone| {
        let items = zone.items.iter();
        items.filter_map(|item| finding(item, zone, zones.units))
    });
    found.collect()
}

fn finding(item: &Rated, zone: &Zone, units: Units) -> Option<Finding> {
    /// Psi that are lost in converting a setting.
    const ROUNDING: f64 = 1e-6;
    let temperature = item.temperature.show(units);
    let (message, help) = match (item.psi, zone.limit_psi) {
        (Some(psi), Some(limit)) if psi + ROUNDING < limit => (
            format!(
                "{} may carry {} at {temperature}, and {}",
                named(item),
                shown(psi, units),
                zone.limit_words
            ),
            format!(
                "use there what may carry {} or more, or a relief valve that opens at {} \
                 or less and a cut-out pressure below it ({})",
                shown(limit, units),
                shown(psi, units),
                item.source
            ),
        ),
        (Some(_), _) => return None,
        (None, _) => (
            format!(
                "no published figure says what {} may carry at {temperature}",
                named(item)
            ),
            "use there what has a rating at that temperature, cool the air before it enters \
             the pipe, or state the temperature at which it leaves the tank (`discharge`) if \
             that is lower"
                .to_owned(),
        ),
    };
    Some(
        Finding::error("rated-below-relief", item.span, message, help)
            .here(item.place_words.clone()),
    )
}

/// What it is, and which of its ratings is meant.
fn named(item: &Rated) -> String {
    if item.words.is_empty() {
        item.what.clone()
    } else {
        format!("{} ({})", item.what, item.words)
    }
}

/// A pressure in psi as the job prints pressures, to a tenth.
pub(super) fn shown(psi: f64, units: Units) -> String {
    let (figure, unit) = match units {
        Units::Feet => (psi, "psi"),
        Units::Metric => (psi * KPA_PER_PSI / 100.0, "bar"),
    };
    let text = format!("{figure:.1}");
    format!(
        "{} {unit}",
        text.trim_end_matches('0').trim_end_matches('.')
    )
}
