use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::LegEnd;

pub(super) static RULE: Rule = Rule {
    name: "automatic-drain-without-valve",
    severity: Severity::Note,
    finds: "An automatic drain that nothing shuts off.",
    why: "Automatic drains stick: without a valve before it, cleaning one means emptying the main.",
    cure: "screw a small ball valve between the drip leg and the drain; it is not counted, so add it to your order, or take drain = \"valve\"",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let devices = context.library.devices();
    let automatic = context.job.drops.iter().filter(|kind| match kind.drain {
        LegEnd::Drain(used) => devices[used.device].name == "automatic-drain",
        LegEnd::Cap => false,
    });
    automatic
        .filter_map(|kind| {
            let name = &kind.name.value;
            let used = context.outlets().filter(|(_, own)| own.name.value == *name);
            let count = used.count();
            (count > 0).then(|| Found {
                span: kind.name.span,
                message: match count {
                    1 => format!("one automatic drain of the kind `{name}` has no valve before it"),
                    count => format!(
                        "{count} automatic drains of the kind `{name}` have no valve before them"
                    ),
                },
            })
        })
        .collect()
}
