use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "hard-piped-supply",
    severity: Severity::Warning,
    finds: "Pipe that is screwed into the tank.",
    why: "The compressor shakes: rigid pipe cracks at its threads or the tank at its port, and the machine cannot be taken out.",
    cure: "join tank and pipe by an isolating valve and a hose that falls back to the tank",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let devices = context.library.devices();
    let hard_piped = context.job.supplies.iter().filter(|supply| {
        let mut connect = supply.connect.iter();
        !connect.any(|used| devices[used.value.device].has_length)
    });
    hard_piped
        .map(|supply| Found {
            span: supply.name.span,
            message: "no hose stands between the tank and the pipe".to_owned(),
        })
        .collect()
}
