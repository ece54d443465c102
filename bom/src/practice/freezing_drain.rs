use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::quantity::Temperature;

pub(super) static RULE: Rule = Rule {
    name: "freezing-drain",
    severity: Severity::Warning,
    finds: "A drain or a low point in a shop that freezes.",
    why: "Ice bursts the drain or plugs it, and the water goes to the tools.",
    cure: "keep the room above freezing, heat the drain, or dry the air below the coldest that it gets",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let freezing = Temperature::from_celsius(0);
    let rooms = context.job.rooms.iter();
    let drains = context.network.drains.len()
        + context
            .network
            .drops
            .iter()
            .filter(|drop| drop.drain.is_some())
            .count();
    let pockets = context.pockets().count();
    let mut holds = Vec::new();
    if drains > 0 {
        holds.push(counted(drains, "drain"));
    }
    if pockets > 0 {
        holds.push(counted(pockets, "low point"));
    }
    rooms
        .filter_map(|room| {
            let coldest = room.coldest.filter(|coldest| *coldest <= freezing)?;
            (!holds.is_empty()).then(|| Found {
                span: room.name.span,
                message: format!(
                    "`{}` gets as cold as {}, and water stands in {}",
                    room.name.value,
                    coldest.show(context.network.units),
                    holds.join(" and ")
                ),
            })
        })
        .collect()
}

fn counted(number: usize, one: &str) -> String {
    match number {
        1 => format!("1 {one}"),
        number => format!("{number} {one}s"),
    }
}
