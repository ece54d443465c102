use super::length_not_measured::found;
use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Guess;

pub(super) static RULE: Rule = Rule {
    name: "length-paced",
    severity: Severity::Note,
    finds: "A length written with \"~\": paced, not measured.",
    why: "A paced length is often out by a foot in twenty: pieces cut to it do not fit.",
    cure: "measure it before pipe is cut",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    found(context, Guess::Paced, "is paced")
}
