use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Guess;

pub(super) static RULE: Rule = Rule {
    name: "length-not-measured",
    severity: Severity::Warning,
    finds: "A length written \"?\".",
    why: "The list and the price go on with a length that nobody has measured; a quote is not written until it is, or until it is accepted here.",
    cure: "measure it; or accept it with the reason, and the customer reads in the quote what it was taken as",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    found(context, Guess::NotMeasured, "is not measured")
}

/// Every length that is known so.
pub(super) fn found(context: Context<'_>, how: Guess, is: &str) -> Vec<Found> {
    let all = context.job.unmeasured.iter();
    all.filter(|one| one.how == how)
        .map(|one| Found {
            span: one.span,
            message: format!(
                "{} {is}; it is taken as {}: {}",
                one.what,
                one.taken.show(context.job.units),
                one.from
            ),
        })
        .collect()
}
