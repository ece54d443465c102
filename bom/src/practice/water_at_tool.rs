use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::water::EndKind;

pub(super) static RULE: Rule = Rule {
    name: "water-at-tool",
    severity: Severity::Warning,
    finds: "A drop whose water runs into its tool.",
    why: "What condenses in the drop, and all that the main lets down it, goes through the hose into the tool.",
    cure: "end the drop in a drip leg with a drain valve, and take the outlet off the side above it",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let wet = context.water.ends.iter();
    wet.filter(|end| matches!(end.kind, EndKind::Tool(_)))
        .map(|end| Found {
            span: context.network.node(end.at).span,
            message: format!(
                "the water of {} of pipe runs into the tool",
                end.pipe.show(context.network.units)
            ),
        })
        .collect()
}
