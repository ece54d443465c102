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
    let supply = &context.job.supply;
    let devices = context.library.devices();
    let mut connect = supply.connect.iter();
    if !connect.any(|used| devices[used.value.device].has_length) {
        return Vec::new();
    }
    let from_supply = context.job.legs.iter().filter(|leg| {
        leg.from
            .as_ref()
            .is_some_and(|from| from.value == supply.name.value)
    });
    from_supply
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
