use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "regulator-at-head",
    severity: Severity::Warning,
    finds: "A regulator between the tank and the main.",
    why: "The shop loses the pressure that the tank has stored: long pipe carries the same air at a higher pressure with less loss, and some tools want all of it.",
    cure: "send full line pressure round the shop and regulate at each outlet",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let places = context.connected("regulator");
    places
        .into_iter()
        .map(|span| Found {
            span,
            message: "a regulator at the head of the main holds the whole shop at its setting"
                .to_owned(),
        })
        .collect()
}
