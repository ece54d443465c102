//! What the change does to the air, and what good practice finds anew.

use bom::Plan;
use bom::air::answer::answer;
use bom::library::Library;
use bom::quantity::Pressure;
use std::collections::BTreeMap;

/// The tool that is worst off.
#[derive(Debug, Clone, PartialEq)]
pub struct Worst {
    /// The outlet that it hangs on.
    pub outlet: String,
    /// The tool.
    pub tool: String,
    /// What it gets at its inlet, with old pipe; none where no air comes.
    pub gets: Option<Pressure>,
}

/// The tool that is worst off; none where the job says of no tool what it needs.
pub(super) fn worst(plan: &Plan, library: &Library) -> Option<Worst> {
    if plan
        .job
        .outlets
        .iter()
        .all(|outlet| outlet.tools.is_empty())
    {
        return None;
    }
    let air = answer(&plan.job, &plan.network, library);
    let worst = air.worst?;
    let tool = air.demand.tools.get(worst)?;
    Some(Worst {
        outlet: plan.job.outlets.get(tool.outlet)?.name.value.clone(),
        tool: tool.name.clone(),
        gets: air.tools.get(worst)?.aged.gets,
    })
}

/// What good practice finds in the new layout and did not find in the old one.
/// One that differs in its figures alone is the same: legs have other numbers in
/// another file, and there are more outlets in a larger shop.
pub(super) fn new_findings(old: &Plan, new: &Plan) -> Vec<String> {
    let mut known: BTreeMap<(&str, String), usize> = BTreeMap::new();
    let open = |plan: &Plan| -> Vec<(&'static str, String)> {
        let open = plan.practice.iter();
        let open = open.filter(|finding| finding.accepted.is_none());
        open.map(|finding| (finding.rule, finding.message.clone()))
            .collect()
    };
    for (rule, message) in open(old) {
        *known.entry((rule, unnumbered(&message))).or_default() += 1;
    }
    let mut found = open(new);
    found.retain(
        |(rule, message)| match known.get_mut(&(*rule, unnumbered(message))) {
            Some(left) if *left > 0 => {
                *left -= 1;
                false
            }
            Some(_) | None => true,
        },
    );
    let mut messages: Vec<String> = found.into_iter().map(|(_, message)| message).collect();
    messages.sort();
    messages
}

/// A message without its figures.
fn unnumbered(message: &str) -> String {
    let figure = |word: &&str| !word.starts_with(|first: char| first.is_ascii_digit());
    let words: Vec<&str> = message.split(' ').filter(figure).collect();
    words.join(" ")
}
