use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Direction;

pub(super) static RULE: Rule = Rule {
    name: "hose-cannot-fall-back",
    severity: Severity::Warning,
    finds: "Pipe that goes down from the hose at the tank.",
    why: "The hose should fall back to the tank; where the pipe goes down first, what the warm air leaves in the hose runs on into the pipe, and stands at its first low point without a drain.",
    cure: "let the pipe rise from the end of the hose, so that the hose falls back to the tank",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let devices = context.library.devices();
    let with_hose = context.job.supplies.iter().filter(|supply| {
        let mut connect = supply.connect.iter();
        connect.any(|used| devices[used.value.device].has_length)
    });
    with_hose
        .flat_map(|supply| context.job.legs_from(supply))
        .filter_map(|leg| leg.straights.first())
        .filter(|straight| straight.value.direction == Direction::Down)
        .map(|straight| Found {
            span: straight.span,
            message: format!(
                "the pipe goes down {} from the end of the hose: water cannot run back to the tank",
                straight.value.length.show(context.network.units)
            ),
        })
        .collect()
}
