use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "filter-at-head",
    severity: Severity::Warning,
    finds: "A filter between the tank and the main.",
    why: "The whole shop's air goes through one small filter, warm and wet: it passes vapour that turns to water behind it, and its loss is everyone's.",
    cure: "filter at each outlet that needs it, where the air is cool; send full line pressure round the shop",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let places = context.connected("filter");
    places
        .into_iter()
        .map(|span| Found {
            span,
            message: "a filter at the head of the main sees warm air: water forms behind it"
                .to_owned(),
        })
        .collect()
}
