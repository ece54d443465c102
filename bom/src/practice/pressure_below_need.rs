use super::hung::above;
use super::{Context, Found, Rule};
use crate::finding::Severity;

pub(super) static RULE: Rule = Rule {
    name: "pressure-below-need",
    severity: Severity::Warning,
    finds: "A tool or a regulator that wants more pressure than there may be.",
    why: "The compressor starts again only at its cut-in: until then the tool runs weak, and no pipe mends that.",
    cure: "raise the cut-in within the machine's rating, set the regulator no higher than that, or take a tool that needs less",
    source: "common practice, no source; pipe, filter and hose take some of it too",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let units = context.network.units;
    let cut_in = context.job.stated_cut_in();
    let mut found = Vec::new();
    for hung in context.tools() {
        let Some(needed) = hung.least(context.library) else {
            continue;
        };
        let set = context.set_for(hung);
        let least = match (cut_in, set) {
            (Some(cut_in), _) if above(needed.pressure, cut_in) => {
                format!("the compressor starts again only at {}", cut_in.show(units))
            }
            (_, Some(set)) if above(needed.pressure, set) => {
                format!("its regulator is set to {}", set.show(units))
            }
            _ => continue,
        };
        found.push(Found {
            span: needed.span,
            message: format!(
                "{} needs {}{}, and {least}",
                hung.tool.words(),
                needed.pressure.show(units),
                needed.typical
            ),
        });
    }
    let on_outlets = context.job.outlets.iter().filter_map(|outlet| outlet.set);
    let sides = context.job.drops.iter().flat_map(|kind| &kind.sides);
    let on_sides = sides
        .flatten()
        .filter_map(|used| used.value.set.map(|set| used.map(|_| set)));
    for set in on_outlets.chain(on_sides) {
        if let Some(cut_in) = cut_in.filter(|cut_in| above(set.value, *cut_in)) {
            found.push(Found {
                span: set.span,
                message: format!(
                    "the regulator is set to {}, and the compressor starts again only at {}",
                    set.value.show(units),
                    cut_in.show(units)
                ),
            });
        }
    }
    found
}
