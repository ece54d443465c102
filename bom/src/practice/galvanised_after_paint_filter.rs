use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::system::Metal;

pub(super) static RULE: Rule = Rule {
    name: "galvanised-after-paint-filter",
    severity: Severity::Warning,
    finds: "Galvanised pipe between the last filter and an outlet for paint.",
    why: "Zinc flakes off inside the pipe and comes out of the gun.",
    cure: "filter at the outlet, behind all galvanised pipe, or run its line in another metal",
    source: "common practice, no source; some shops keep galvanised pipe away from any air",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let network = context.network;
    let zinc = |system: usize| context.library.systems()[system].metal == Metal::GalvanisedSteel;
    let main = network
        .links()
        .any(|(_, _, _, link)| link.is_main() && link.pipe.is_some() && zinc(link.system));
    context
        .paint()
        .filter(|(outlet, sides)| {
            let drops = network.drops.iter();
            let own = drops
                .filter(|drop| drop.name == outlet.name.value)
                .any(|drop| zinc(drop.system));
            (main || own) && !sides.iter().all(|side| context.has(side, "filter"))
        })
        .filter_map(|(outlet, _)| {
            Some(Found {
                span: outlet.quality?.span,
                message: format!(
                    "`{}` is for paint, and no filter stands behind the galvanised pipe",
                    outlet.name.value
                ),
            })
        })
        .collect()
}
