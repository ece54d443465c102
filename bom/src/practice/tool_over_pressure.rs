use super::blow_off::is_blow_gun;
use super::hung::above;
use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "tool-over-pressure",
    severity: Severity::Warning,
    finds: "A tool that gets more pressure than it works best at.",
    why: "Most air tools are made for 90 to 110 psi: above that they wear out, use more air and can burst.",
    cure: "hang it on a side with a regulator that is set to what the tool works best at",
    source: "common practice, no source; public tool pages give 90 psi at the tool",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let units = context.network.units;
    context
        .tools()
        // Where it works best is above what is safe for it, of which `blow-off`
        // has a word.
        .filter(|hung| !is_blow_gun(*hung))
        .filter_map(|hung| {
            let best = hung.best(context.library)?;
            let gets = context
                .at_tool(hung)
                .filter(|gets| above(*gets, best.pressure))?;
            Some(Found {
                span: best.span,
                message: format!(
                    "{} works best at {}{} and can get {}",
                    hung.tool.words(),
                    best.pressure.show(units),
                    best.typical,
                    gets.show(units)
                ),
            })
        })
        .collect()
}
