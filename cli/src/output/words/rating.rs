//! Ratings in words.

use bom::quantity::{Pressure, Units};
use bom::rating::Zone;

/// A rating; a dash where nobody publishes one.
pub(in crate::output) fn carries(psi: Option<f64>, units: Units) -> String {
    psi.map_or_else(|| "-".to_owned(), |psi| Pressure::from_psi(psi).show(units))
}

/// The weakest part of a zone in a sentence; none where there is none.
pub(in crate::output) fn weakest(zone: &Zone, units: Units) -> Option<String> {
    let item = zone.items.first()?;
    let margin = item.margin_psi.map_or_else(String::new, |margin| {
        format!(", {} to spare", Pressure::from_psi(margin).show(units))
    });
    let words = if item.words.is_empty() {
        String::new()
    } else {
        format!(" ({})", item.words)
    };
    let figures = item.shown.iter().map(|shown| shown.psi);
    let (least, most) = figures.fold((f64::INFINITY, 0.0_f64), |(least, most), psi| {
        (least.min(psi), most.max(psi))
    });
    let views = match item.shown.len() {
        0 => String::new(),
        1 => format!(
            " Another published view says {}; it is not used.",
            carries(Some(most), units)
        ),
        _ => format!(
            " Other published views go from {} to {}; they are not used.",
            carries(Some(least), units),
            carries(Some(most), units)
        ),
    };
    Some(format!(
        "Weakest {}: {}{words} carries {} at {}; {}{margin}.{views} `check --ratings` lists every part with its source.",
        zone.name,
        item.what,
        carries(item.psi, units),
        item.temperature.show(units),
        zone.limit_words,
    ))
}

/// What is published beside the figures that are used.
pub(in crate::output) fn other_views(zone: &Zone, units: Units) -> Vec<String> {
    let views = zone.items.iter().flat_map(|item| {
        item.shown.iter().map(|shown| {
            format!(
                "{}: {}, {} ({}).",
                item.what,
                shown.words,
                carries(Some(shown.psi), units),
                shown.source
            )
        })
    });
    views.collect()
}
