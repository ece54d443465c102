use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "lubricator-at-head",
    severity: Severity::Warning,
    finds: "A lubricator between the tank and the main.",
    why: "Oil mist settles on the pipe within about 50 ft, and the main carries oil to every outlet for good, paint among them.",
    cure: "put a lubricator at its tool, within about 50 ft (15 m), and never on a line that may feed a spray gun",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let places = context.connected("lubricator");
    places
        .into_iter()
        .map(|span| Found {
            span,
            message: "a lubricator at the head of the main oils every line for good".to_owned(),
        })
        .collect()
}
