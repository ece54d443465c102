use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "no-shut-off",
    severity: Severity::Warning,
    finds: "An outlet that no valve shuts off.",
    why: "A coupler that leaks or blows cannot be changed without emptying the shop's air.",
    cure: "put a valve first on each side of a drop",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let devices = context.library.devices();
    let sides = context.job.drops.iter().flat_map(|kind| &kind.sides);
    sides
        .filter_map(|side| {
            let first = side.first()?;
            let valve = side
                .iter()
                .any(|used| devices[used.value.device].name == "valve");
            (!valve).then(|| Found {
                span: first.span,
                message: "no valve shuts this side off".to_owned(),
            })
        })
        .collect()
}
