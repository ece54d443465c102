//! What is looked at besides the drains.

use super::super::{Context, numbers};
use super::round::MOST_NAMED;
use crate::job::Quality;
use crate::quantity::Units;

pub(super) fn points(context: &Context<'_>) -> Vec<String> {
    let mut points = Vec::new();
    if let Some(places) = hung(context, "filter") {
        let lost = match context.plan.summary.units {
            Units::Feet => "5 psi",
            Units::Metric => "0.35 bar",
        };
        points.push(format!(
            "Filters ({places}): empty the bowls; a new element when one takes more than {lost} while tools run (common practice, no source)."
        ));
    }
    if let Some(places) = hung(context, "lubricator") {
        points.push(format!(
            "Lubricators ({places}): airline oil; they drip while the tool runs."
        ));
    }
    if let Some(places) = spray(context) {
        points.push(format!(
            "Spray ({places}): never oil, no lubricator, no hose that has had oil in it."
        ));
    }
    if let Some(places) = hung(context, "dryer") {
        points.push(format!(
            "Dryer ({places}) and its drain: as its maker says."
        ));
    }
    points.push("Leaks: all off, the line full, listen; soap what hisses, mend it, soap it again. Couplers and hoses first.".to_owned());
    points.push("Relief valve, gauge, tank: tried and inspected as maker and local code say; this card is no record of it. Never shut off, never set higher.".to_owned());
    points.push("Compressor, intake filter, oil, belt: as the maker says.".to_owned());
    points
}

/// Where devices of a kind hang: supplies by name, outlets by number.
fn hung(context: &Context<'_>, kind: &str) -> Option<String> {
    let (job, devices) = (&context.plan.job, context.library.devices());
    let is = |device: usize| devices[device].name == kind;
    let supplies = job.supplies.iter().filter(|supply| {
        let mut connect = supply.connect.iter();
        connect.any(|used| is(used.value.device))
    });
    let mut places: Vec<String> = supplies.map(|supply| supply.name.value.clone()).collect();
    let outlets = job.outlets.iter().filter(|outlet| {
        outlet.drop.is_some_and(|drop| {
            let mut used = job.drops[drop].sides.iter().flatten();
            used.any(|used| is(used.value.device))
        })
    });
    places.extend(numbered(
        context,
        outlets.map(|outlet| outlet.name.value.as_str()),
    ));
    (!places.is_empty()).then(|| places.join(" and "))
}

/// The outlets for paint.
fn spray(context: &Context<'_>) -> Option<String> {
    let outlets = context.plan.job.outlets.iter();
    let paint = outlets.filter(|outlet| {
        let quality = outlet.quality.as_ref();
        quality.is_some_and(|quality| quality.value == Quality::Paint)
    });
    numbered(context, paint.map(|outlet| outlet.name.value.as_str()))
}

fn numbered<'a>(context: &Context<'_>, names: impl Iterator<Item = &'a str>) -> Option<String> {
    let mut found: Vec<usize> = names.map(|name| context.tags.outlet(name)).collect();
    found.sort_unstable();
    match found.len() {
        0 => None,
        1 => Some(format!("outlet {}", numbers(&found))),
        few if few <= MOST_NAMED => Some(format!("outlets {}", numbers(&found))),
        many => Some(format!("{many} outlets")),
    }
}
