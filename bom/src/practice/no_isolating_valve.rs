use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::Supply;

pub(super) static RULE: Rule = Rule {
    name: "no-isolating-valve",
    severity: Severity::Warning,
    finds: "No valve at the tank, or one that stands behind the hose.",
    why: "A burst hose empties the tank into the shop, and nobody can work on the pipe without blowing the tank down.",
    cure: "put a full-port valve on the tank itself, before the hose",
    source: "common practice, no source; 29 CFR 1926.302(b)(7) wants a safety device at the source for hose over 1/2 in",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let supplies = context.job.supplies.iter();
    supplies
        .filter_map(|supply| of_supply(context, supply))
        .collect()
}

fn of_supply(context: Context<'_>, supply: &Supply) -> Option<Found> {
    let connect = supply.connect.iter();
    let names: Vec<&str> = connect.map(|used| context.name_of(used)).collect();
    let at = |name| names.iter().position(|one| *one == name);
    let message = match (at("valve"), at("hose")) {
        (None, _) => "no valve shuts the tank off from the pipe",
        (Some(valve), Some(hose)) if hose < valve => {
            "the valve stands behind the hose: a burst hose cannot be shut off"
        }
        _ => return None,
    };
    Some(Found {
        span: supply.name.span,
        message: message.to_owned(),
    })
}
