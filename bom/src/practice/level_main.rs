use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::quantity::Length;
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "level-main",
    severity: Severity::Warning,
    finds: "Main that is level.",
    why: "Level pipe sags between its hangers: the water stands there until the air carries it to a tool.",
    cure: "let the main fall to a drain, by 1/8 in per ft or 1 % (10 mm/m; some public works take 3 in per 100 ft, some fall back to the tank: choose one and keep it)",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 and TM 55-1930-209-14P-7 1.3 disagree on direction and size",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let mut legs: BTreeMap<usize, Length> = BTreeMap::new();
    for standing in &context.water.standing {
        if let Some(leg) = context.network.link(standing.first).leg {
            *legs.entry(leg).or_default() += standing.length;
        }
    }
    legs.into_iter()
        .map(|(leg, length)| Found {
            span: context.job.legs[leg].span,
            message: format!(
                "{} of main is level and holds its water",
                length.show(context.network.units)
            ),
        })
        .collect()
}
