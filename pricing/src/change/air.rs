//! What the change does to the air, and what good practice finds anew.

use super::things::paired;
use bom::Plan;
use bom::air::answer::answer;
use bom::library::Library;
use bom::quantity::Pressure;

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
#[must_use]
pub fn worst(plan: &Plan, library: &Library) -> Option<Worst> {
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
/// One that differs in its figures alone is the same: there are more outlets in a
/// larger shop. One that names its place by a leg is held against others of its
/// rule that do: the order of the file decides which leg a place is named by.
pub(super) fn new_findings(old: &Plan, new: &Plan) -> Vec<String> {
    let (mut old, mut new) = (open(old), open(new));
    paired(&mut old, &mut new, |found: &Found| {
        Some((found.rule, unnumbered(found.message)))
    });
    paired(&mut old, &mut new, |found: &Found| {
        found.message.contains("leg ").then_some(found.rule)
    });
    let messages = new.into_iter().map(|found| found.message.to_owned());
    messages.collect()
}

/// A finding that nobody has accepted.
struct Found<'a> {
    rule: &'static str,
    message: &'a str,
}

/// All of a plan, in an order that the file does not decide.
fn open(plan: &Plan) -> Vec<Found<'_>> {
    let open = plan.practice.iter();
    let open = open.filter(|finding| finding.accepted.is_none());
    let mut open: Vec<Found<'_>> = open
        .map(|finding| Found {
            rule: finding.rule,
            message: &finding.message,
        })
        .collect();
    open.sort_by_key(|found| (found.rule, found.message));
    open
}

/// A message without its figures.
fn unnumbered(message: &str) -> String {
    let figure = |word: &&str| !word.starts_with(|first: char| first.is_ascii_digit());
    let words: Vec<&str> = message.split(' ').filter(figure).collect();
    words.join(" ")
}
