use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::quantity::Length;

pub(super) static RULE: Rule = Rule {
    name: "lubricator-far-from-tool",
    severity: Severity::Warning,
    finds: "A lubricator with more than 50 ft of hose between it and its tool.",
    why: "Oil mist settles on the wall of the hose: what is too far away runs dry while the hose fills with oil.",
    cure: "hang the lubricator near the tool, on the hose itself if need be, or take a shorter hose",
    source: "common practice, no source, and views differ: oil fog is said to carry 10 to 25 ft, to 50 ft, and micro-fog farther",
    check,
};

const FARTHEST: Length = Length::from_feet(50);

fn check(context: Context<'_>) -> Vec<Found> {
    let oiled = context
        .tools()
        .filter(|hung| context.has(hung.side, "lubricator"));
    oiled
        .filter_map(|hung| {
            let hose = hung.tool.hose.filter(|hose| hose.value.length > FARTHEST)?;
            Some(Found {
                span: hose.span,
                message: format!(
                    "{} of hose lie between the lubricator and {}",
                    hose.value.length.show(context.network.units),
                    hung.tool.words()
                ),
            })
        })
        .collect()
}
