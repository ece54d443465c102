use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "lubricator-before-paint",
    severity: Severity::Error,
    finds: "A lubricator on the way to an outlet for paint.",
    why: "One trace of oil ruins a finish, and pipe and hose that have once carried oil mist never come clean.",
    cure: "take the lubricator out of the line to the paint: give paint a drop of its own, with its own filter and regulator",
    source: "common practice, no source",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let at_head = !context.connected("lubricator").is_empty();
    context
        .paint()
        .filter_map(|(outlet, sides)| {
            let on_side = sides.iter().any(|side| context.has(side, "lubricator"));
            let place = match (at_head, on_side) {
                (_, true) => "its own side",
                (true, false) => "the head of the main",
                (false, false) => return None,
            };
            Some(Found {
                span: outlet.quality?.span,
                message: format!(
                    "`{}` is for paint, and a lubricator stands on {place}",
                    outlet.name.value
                ),
            })
        })
        .collect()
}
