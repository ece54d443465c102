use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::network::Owner;
use crate::quantity::Length;
use std::collections::BTreeMap;

pub(super) static RULE: Rule = Rule {
    name: "level-main",
    severity: Severity::Warning,
    finds: "Main that is level.",
    why: "Level pipe sags between its hangers: the water stands there until the air carries it to a tool.",
    cure: "let the main fall to a drain, by 1/8 in per ft or 1 % (some public works take 3 in per 100 ft, some fall back to the tank: choose one and keep it)",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 and TM 55-1930-209-14P-7 1.3 disagree on direction and size",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let mut legs: BTreeMap<usize, Length> = BTreeMap::new();
    for standing in &context.water.standing {
        // A stretch belongs to the leg that it is walked on, which a ring's
        // last one ends on only with its first node.
        let ends = [standing.to, standing.from].map(|end| context.network.node(end).origin.owner);
        let leg = ends.into_iter().find_map(|owner| match owner {
            Owner::Leg(leg) => Some(leg),
            _ => None,
        });
        if let Some(leg) = leg {
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
