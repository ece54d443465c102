//! The rules of good practice: what a layout does that costs its owner water,
//! pressure or safety later. One rule per file; none stops a count unless its
//! severity is an error, and then the job may accept it with a reason.

mod filter_at_head;
mod freezing_drain;
mod hard_piped_supply;
mod level_main;
mod low_point_without_drain;
mod lubricator_at_head;
mod no_drip_leg;
mod no_isolating_valve;
mod no_shut_off;
mod regulator_at_head;
mod unlike_metals_bare;
mod water_at_tool;
mod wet_take_off;

use crate::finding::{Finding, Severity};
use crate::job::{DeviceUse, Job};
use crate::library::Library;
use crate::network::Network;
use crate::source::{Span, Spanned};
use crate::water::WaterMap;

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Its name in findings: `level-main`.
    pub name: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What it finds.
    pub finds: &'static str,
    /// Why that matters.
    pub why: &'static str,
    /// What to do about it.
    pub cure: &'static str,
    /// Who says so, and who says otherwise.
    pub source: &'static str,
    check: fn(Context<'_>) -> Vec<Found>,
}

/// What a rule looks at.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The job as written.
    pub job: &'a Job,
    /// Its layout.
    pub network: &'a Network,
    /// The trade data.
    pub library: &'a Library,
    /// Where the water goes.
    pub water: &'a WaterMap,
}

/// One place that breaks a rule: where the user wrote it, what and how much.
struct Found {
    span: Span,
    message: String,
}

/// Every rule, by name.
pub static RULES: [&Rule; 13] = [
    &filter_at_head::RULE,
    &freezing_drain::RULE,
    &hard_piped_supply::RULE,
    &level_main::RULE,
    &low_point_without_drain::RULE,
    &lubricator_at_head::RULE,
    &no_drip_leg::RULE,
    &no_isolating_valve::RULE,
    &no_shut_off::RULE,
    &regulator_at_head::RULE,
    &unlike_metals_bare::RULE,
    &water_at_tool::RULE,
    &wet_take_off::RULE,
];

/// What a clean job is reminded of too.
pub const REMINDERS: [&str; 1] = [
    "Drain the tank every working day, and weekly at the very least: most of the water stays there (common practice, no source).",
];

/// What the layout breaks, in the order of the file; what the job accepts
/// carries its reason.
#[must_use]
pub fn findings(context: Context<'_>) -> Vec<Finding> {
    let mut findings: Vec<Finding> = RULES
        .iter()
        .flat_map(|rule| {
            let found = (rule.check)(context).into_iter();
            found.map(|Found { span, message }| {
                Finding::new(rule.name, rule.severity, span, message, rule.cure)
            })
        })
        .collect();
    for accepted in &context.job.accept {
        let mut taken = findings
            .iter_mut()
            .filter(|finding| finding.rule == accepted.rule.value)
            .peekable();
        if taken.peek().is_none() {
            findings.push(accepts_nothing(&accepted.rule));
            continue;
        }
        for finding in taken {
            finding.accepted = Some(accepted.reason.clone());
        }
    }
    findings.sort_by_key(Finding::place);
    findings
}

fn accepts_nothing(rule: &Spanned<String>) -> Finding {
    Finding::new(
        "accepts-nothing",
        Severity::Note,
        rule.span,
        format!("nothing here breaks `{}`", rule.value),
        "take the line out: it would hide the next mistake",
    )
}

impl Context<'_> {
    /// Devices of the supply's connection with this name, and their places.
    fn connected(self, name: &str) -> Vec<Span> {
        let devices = self.library.devices();
        let of_name = |used: &&Spanned<DeviceUse>| devices[used.value.device].name == name;
        let connect = self.job.supply.connect.iter();
        connect.filter(of_name).map(|used| used.span).collect()
    }
}
