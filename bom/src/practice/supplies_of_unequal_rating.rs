use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Supply;
use crate::quantity::Units;

pub(super) static RULE: Rule = Rule {
    name: "supplies-of-unequal-rating",
    severity: Severity::Warning,
    finds: "A compressor on one main with a stronger one, and no check valve before its tank.",
    why: "The stronger one fills the other's tank too: above its cut-out, up to its relief valve, which then blows off the air of both.",
    cure: "set all machines of one main to the same cut-out and relief; or let the stronger one stay below the weaker's relief; or put a check valve behind the valve of the weaker one",
    source: "common practice, no source",
    check,
};

/// What holds the pressure of a supply, in words.
fn highest(supply: &Supply, units: Units) -> Option<String> {
    let relief = supply.relief.map(|relief| ("relief valve opens", relief));
    let stated = relief.or(supply.cut_out.map(|cut_out| ("motor stops", cut_out)));
    stated.map(|(what, at)| format!("{what} at {}", at.show(units)))
}

fn check(context: Context<'_>) -> Vec<Found> {
    let units = context.network.units;
    let supplies = &context.job.supplies;
    let stated = || {
        supplies
            .iter()
            .filter(|supply| highest(supply, units).is_some())
    };
    let strongest = stated().max_by(|a, b| a.highest_kpa().total_cmp(&b.highest_kpa()));
    let Some(strongest) = strongest else {
        return Vec::new();
    };
    let weaker = stated().filter(|supply| supply.highest_kpa() < strongest.highest_kpa());
    weaker
        .filter(|supply| !context.has(&supply.connect, "check"))
        .filter_map(|supply| {
            let (own, most) = (highest(supply, units)?, highest(strongest, units)?);
            Some(Found {
                span: supply.name.span,
                message: format!(
                    "its {own}, but for `{}` the {most}, and nothing keeps that from this tank",
                    strongest.name.value
                ),
            })
        })
        .collect()
}
