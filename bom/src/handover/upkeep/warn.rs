//! Water that no drain lets out, and water that freezes.

use super::super::{Context, Part, numbers};
use super::round::water;
use crate::network::{NodeId, Owner};
use crate::water::{EndKind, FreezingKind};
use std::collections::BTreeSet;

/// More places than this are told on the crew's sheets alone.
const MOST_PLACES: usize = 4;

/// A warning of every low point, tool and level stretch that nothing drains.
pub(super) fn undrained(context: &Context<'_>) -> Option<Part> {
    let plan = context.plan;
    let ends = plan.water.ends.iter().enumerate();
    let ends: Vec<(usize, NodeId)> = ends
        .filter(|(_, end)| matches!(end.kind, EndKind::Pocket | EndKind::Tool(_)))
        .map(|(number, end)| (number, end.at))
        .collect();
    let standing = plan.water.standing.iter();
    let level = standing
        .map(|one| level(context, one.from, one.to))
        .collect();
    let places: Vec<NodeId> = ends.iter().map(|(_, at)| *at).collect();
    let told = told(context, &places, level)?;
    let day = plan.amounts.as_ref().map(|amounts| &amounts.mean);
    let litres = day.map(|day| {
        let here = ends.iter().filter_map(|(end, _)| day.at_ends.get(*end));
        here.sum::<f64>() + day.standing
    });
    let litres = litres.map_or_else(String::new, |litres| {
        format!(" ({} on a mean day)", water(litres, plan.summary.units))
    });
    Some(Part::Caution(format!(
        "Nothing drains {told}. That water{litres} comes to the tools: look there first, and have drains fitted."
    )))
}

/// A warning for each room in which water freezes.
pub(super) fn freezing(context: &Context<'_>) -> Vec<Part> {
    let freezing = &context.plan.freezing;
    let rooms: BTreeSet<&str> = freezing.iter().map(|one| one.room.as_str()).collect();
    let warning = |room: &str| {
        let here = || freezing.iter().filter(move |one| one.room == room);
        let coldest = here().map(|one| one.coldest).min()?;
        let level = here().filter_map(|one| match one.kind {
            FreezingKind::Level(to) => Some(level(context, one.at, to)),
            FreezingKind::Drain(_) | FreezingKind::LowPoint => None,
        });
        let places = here().filter(|one| !matches!(one.kind, FreezingKind::Level(_)));
        let places: Vec<NodeId> = places.map(|one| one.at).collect();
        let told = told(context, &places, level.collect())?;
        Some(Part::Caution(format!(
            "In {room}, as cold as {}, this freezes: {told}; tanks, hoses and bowls there too. In frost let the water out at the end of the day as well.",
            coldest.show(context.plan.summary.units)
        )))
    };
    rooms.into_iter().filter_map(warning).collect()
}

fn level(context: &Context<'_>, from: NodeId, to: NodeId) -> String {
    let network = &context.plan.network;
    format!(
        "the level pipe from {} to {}",
        network.place(from),
        network.place(to)
    )
}

/// Drains by their tags, drops by their numbers, all else by its place; nothing where
/// there is none.
fn told(context: &Context<'_>, places: &[NodeId], level: Vec<String>) -> Option<String> {
    let network = &context.plan.network;
    let (mut drains, mut drops, mut others) = (Vec::new(), BTreeSet::new(), Vec::new());
    for at in places {
        match network.node(*at).origin.owner {
            Owner::Drain(drain) => {
                drains.extend(context.tags.drain_at(network.drains[drain].at));
            }
            Owner::Outlet(outlet) => {
                drops.insert(context.tags.outlet(&network.drops[outlet].name));
            }
            Owner::Leg(_) | Owner::Supply(_) => others.push(network.place(*at)),
        }
    }
    let drops: Vec<usize> = drops.into_iter().collect();
    others.extend(level);
    let more = others.len().saturating_sub(MOST_PLACES);
    others.truncate(MOST_PLACES);
    if more > 0 {
        others.push(format!(
            "{more} places more, which the water sheet of `dripleg crew` names"
        ));
    }
    let drains = drains.into_iter().map(str::to_owned);
    let drops = match drops.len() {
        0 => None,
        1 => Some(format!("the drop of {}", numbers(&drops))),
        _ => Some(format!("the drops of {}", numbers(&drops))),
    };
    let all: Vec<String> = drains.chain(drops).chain(others).collect();
    (!all.is_empty()).then(|| all.join("; "))
}
