use super::hung::Hung;
use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::quantity::Pressure;

pub(super) static RULE: Rule = Rule {
    name: "blow-off",
    severity: Severity::Warning,
    finds: "A blow gun that can get 30 psi or more.",
    why: "A blocked tip on skin drives air into the blood; chips fly into eyes. Cleaning air must be below 30 psi, with chip guards and goggles.",
    cure: "set a regulator to less than 30 psi (2 bar), or take a gun whose tip bleeds below that when it is blocked and accept this finding with that as the reason",
    source: "29 CFR 1910.242(b)",
    check,
};

// "Less than 30 p.s.i.": 30 itself is too much.
const LIMIT: Pressure = Pressure::from_psi(30.0);
const WORDS: [&str; 4] = ["blow gun", "blowgun", "blow off", "dust gun"];

/// Whether a tool says in its name or note that it blows.
pub(super) fn is_blow_gun(hung: Hung<'_>) -> bool {
    let words = [&hung.tool.name, &hung.tool.note];
    words.into_iter().flatten().any(|words| {
        let words = words.value.to_lowercase().replace('-', " ");
        WORDS.iter().any(|word| words.contains(word))
    })
}

fn check(context: Context<'_>) -> Vec<Found> {
    let units = context.network.units;
    context
        .tools()
        .filter(|hung| is_blow_gun(*hung))
        .filter_map(|hung| {
            let gets = match context.at_tool(hung) {
                Some(gets) if gets < LIMIT => return None,
                Some(gets) => gets.show(units),
                None => "all the pressure that its side gives".to_owned(),
            };
            Some(Found {
                span: hung.tool.span,
                message: format!(
                    "{} can get {gets}, and cleaning air must be below {}",
                    hung.tool.words(),
                    LIMIT.show(units)
                ),
            })
        })
        .collect()
}
