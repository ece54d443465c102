use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::water::{FreezingKind, freezing};

pub(super) static RULE: Rule = Rule {
    name: "freezing-drain",
    severity: Severity::Warning,
    finds: "A drain, a low point or level pipe in a room that freezes.",
    why: "Ice bursts the drain or plugs it, and the water goes to the tools.",
    cure: "keep the room above freezing, heat the drain, or dry the air below the coldest that it gets",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let (network, units) = (context.network, context.network.units);
    freezing(context.job, network, context.water)
        .into_iter()
        .map(|place| {
            let what = match &place.kind {
                FreezingKind::Drain(name) => format!("drain {name}"),
                FreezingKind::LowPoint => format!("the low point at {}", network.place(place.at)),
                FreezingKind::Level(to) => format!(
                    "level pipe from {} to {}",
                    network.place(place.at),
                    network.place(*to)
                ),
            };
            Found {
                span: network.node(place.at).span,
                message: format!(
                    "{what} holds the water of {} in `{}`, which gets as cold as {}",
                    place.pipe.show(units),
                    place.room,
                    place.coldest.show(units)
                ),
            }
        })
        .collect()
}
