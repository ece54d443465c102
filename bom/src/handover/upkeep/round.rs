//! The round of whoever lets the water out, how much comes, and what no drain empties.

use super::super::{Context, Part, numbers};
use super::warn;
use crate::quantity::{LITRES_PER_GAL, Units};
use crate::water::{Day, Drained, Stop};

/// More outlets than this are told by their numbers alone.
pub(super) const MOST_NAMED: usize = 12;
/// More rows than this: drip legs all together, and if that is not enough, the crew's sheet.
const MOST_ROWS: usize = 10;

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![Part::heading(
        "Every day, in this order: open until only air comes, then shut",
    )];
    parts.extend(drains(context));
    parts.extend(warn::undrained(context));
    parts.extend(warn::freezing(context));
    parts
}

fn drains(context: &Context<'_>) -> Vec<Part> {
    let groups = groups(&context.round);
    if groups.len() > MOST_ROWS {
        return vec![Part::note(format!(
            "There are {} drains, too many for a card: the round stands on the water sheet of `dripleg crew`.",
            context.round.len()
        ))];
    }
    let amounts = context.plan.amounts.as_ref();
    let days: Vec<(&str, &str, &Day)> = amounts
        .iter()
        .flat_map(|amounts| {
            [
                ("Water, mean day", "a mean day", Some(&amounts.mean)),
                ("Hot damp day", "a hot damp day", amounts.hottest.as_ref()),
                ("Winter day", "a winter day", amounts.coldest.as_ref()),
            ]
        })
        .filter_map(|(head, words, day)| Some((head, words, day?)))
        .collect();
    let units = context.plan.summary.units;
    let rows = groups.iter().map(|stops| {
        let figures = days.iter().map(|(.., day)| {
            let litres: Option<f64> = stops.iter().map(|stop| day.at_stop(stop)).sum();
            // The water of all tanks is counted at the first.
            litres.map_or_else(
                || "with the first".to_owned(),
                |litres| water(litres, units),
            )
        });
        std::iter::once(named(context, stops))
            .chain(figures)
            .collect()
    });
    let heads = days.iter().map(|(head, ..)| (*head, true));
    let columns: Vec<(&str, bool)> = std::iter::once(("Where", false)).chain(heads).collect();
    let sums: Vec<String> = days
        .iter()
        .map(|(_, words, day)| {
            let stops = context.round.iter().filter_map(|stop| day.at_stop(stop));
            format!("{} on {words}", water(stops.sum(), units))
        })
        .collect();
    let sums = (!sums.is_empty()).then(|| format!("All together {}.", sums.join(", ")));
    let automatic = context.round.iter().any(|stop| stop.automatic);
    let automatic =
        automatic.then(|| "Automatic: press its button, see it drain and shut.".to_owned());
    let words = automatic.into_iter().chain(sums).chain(unknown(context));
    let words: Vec<String> = words.collect();
    let words = (!words.is_empty()).then(|| Part::Note(words.join(" ")));
    std::iter::once(Part::table(&columns, rows.collect()))
        .chain(words)
        .collect()
}

/// What is not known of the water, and how to mend it.
fn unknown(context: &Context<'_>) -> Option<String> {
    let Some(amounts) = &context.plan.amounts else {
        return Some("How much water comes is not worked out: state `free_air` under each [supply], and an outlet.".to_owned());
    };
    let missing = match (&amounts.hottest, &amounts.coldest) {
        (Some(_), Some(_)) => return None,
        (None, Some(_)) => "`hottest`",
        (Some(_), None) => "`coldest`",
        (None, None) => "`hottest` and `coldest`",
    };
    Some(format!(
        "Other days are not known: state {missing} of the room."
    ))
}

/// Drip legs one after the other go together; where there are too many of these, all of
/// them after the others, those that drain by themselves apart.
pub(super) fn groups(round: &[Stop]) -> Vec<Vec<&Stop>> {
    let is_drop = |stop: &Stop| matches!(stop.what, Drained::Drop(_));
    let together =
        |one: &Stop, next: &Stop| is_drop(one) && is_drop(next) && one.automatic == next.automatic;
    let runs = round.chunk_by(together).map(|run| run.iter().collect());
    let runs: Vec<Vec<&Stop>> = runs.collect();
    if runs.len() <= MOST_ROWS {
        return runs;
    }
    let legs = [false, true].map(|automatic| {
        let legs = round.iter();
        legs.filter(|stop| is_drop(stop) && stop.automatic == automatic)
            .collect()
    });
    let others = round.iter().filter(|stop| !is_drop(stop));
    let others = others.map(|stop| vec![stop]);
    others
        .chain(
            legs.into_iter()
                .filter(|legs: &Vec<&Stop>| !legs.is_empty()),
        )
        .collect()
}

fn named(context: &Context<'_>, stops: &[&Stop]) -> String {
    let network = &context.plan.network;
    let drops: Vec<usize> = stops
        .iter()
        .filter_map(|stop| match stop.what {
            Drained::Drop(drop) => Some(context.tags.outlet(&network.drops[drop].name)),
            Drained::Tank(_) | Drained::Main(_) => None,
        })
        .collect();
    let words = match stops.first().map(|stop| stop.what) {
        Some(Drained::Tank(supply)) => format!("tank of {}", network.supplies[supply].0),
        Some(Drained::Main(drain)) => {
            let drain = &network.drains[drain];
            let tag = context.tags.drain_at(drain.at).unwrap_or_default();
            format!("{tag} {}", drain.name)
        }
        _ if drops.len() == 1 => format!("drip leg of {}", outlets(context, &drops)),
        _ => format!("drip legs of {}", outlets(context, &drops)),
    };
    match stops.first().is_some_and(|stop| stop.automatic) {
        true => format!("{words} (automatic)"),
        false => words,
    }
}

/// Outlets by number and name, or where there are many by number alone.
pub(super) fn outlets(context: &Context<'_>, which: &[usize]) -> String {
    let all: Vec<(usize, &str)> = context.outlets().collect();
    if all.len() > MOST_NAMED {
        return numbers(which);
    }
    let name = |number: &usize| all.iter().find(|one| one.0 == *number);
    let named = which.iter().filter_map(name);
    let named: Vec<String> = named
        .map(|(number, name)| format!("{number} {name}"))
        .collect();
    named.join(", ")
}

/// Water as it is caught in a can: gallons or ounces, litres or millilitres.
pub(super) fn water(litres: f64, units: Units) -> String {
    const OUNCES_PER_GAL: f64 = 128.0;
    /// Half an ounce.
    const DROPS: f64 = LITRES_PER_GAL / OUNCES_PER_GAL / 2.0;
    let gallons = litres / LITRES_PER_GAL;
    match units {
        _ if litres < DROPS => "drops".to_owned(),
        Units::Feet if gallons >= 1.0 => format!("{gallons:.1} gal"),
        Units::Feet if gallons >= 0.25 => format!("{gallons:.2} gal"),
        Units::Feet => format!("{:.0} fl oz", gallons * OUNCES_PER_GAL),
        Units::Metric if litres >= 1.0 => format!("{litres:.1} l"),
        Units::Metric => format!("{:.0} ml", litres * 1_000.0),
    }
}
