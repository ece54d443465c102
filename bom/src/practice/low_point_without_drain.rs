use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::water::EndKind;

pub(super) static RULE: Rule = Rule {
    name: "low-point-without-drain",
    severity: Severity::Warning,
    finds: "A low point from which nothing drains.",
    why: "All water of the pipe above it gathers there, until the air tears it off and throws it at the tools.",
    cure: "stand a drain there, or let the pipe fall on to one",
    source: "common practice, no source; NAVFAC MO-209 ch. 5 (e): drip legs at all low points",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let pockets = context
        .water
        .ends
        .iter()
        .filter(|end| end.kind == EndKind::Pocket);
    pockets
        .map(|end| Found {
            span: context.network.node(end.at).span,
            message: format!(
                "the water of {} of pipe stands here, {} above the floor",
                end.pipe.show(context.network.units),
                end.height.show(context.network.units)
            ),
        })
        .collect()
}
