use super::{Context, Found, Rule};
use crate::quantity::Length;
use crate::source::Span;
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "level-main",
    finds: "Main that is level.",
    why: "Level pipe sags between its hangers: the water stands there until the air carries it to a tool.",
    cure: "let the main fall to a drain, by 1/8 in per ft or 1 % (some public works take 3 in per 100 ft, some fall back to the tank: choose one and keep it)",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 and TM 55-1930-209-14P-7 1.3 disagree on direction and size",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    // Every stretch of a leg is told once, at the leg that it ends on.
    let mut legs: BTreeMap<Span, Length> = BTreeMap::new();
    for standing in &context.water.standing {
        *legs
            .entry(context.network.node(standing.to).span)
            .or_default() += standing.length;
    }
    legs.into_iter()
        .map(|(span, length)| Found {
            span,
            message: format!(
                "{} of main is level and holds its water",
                length.show(context.network.units)
            ),
        })
        .collect()
}
