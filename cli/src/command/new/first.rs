//! The first rough sheet of a job: what is known of it a minute after it was begun.

use crate::command::check::with_practice;
use crate::output::{FirstSheet, words};
use crate::report;
use bom::Plan;
use bom::air::answer::answer;
use bom::finding::Finding;
use bom::interview::Who;
use bom::job::Guess;
use bom::library::Library;
use bom::quantity::Length;
use std::path::Path;

/// What the user has said besides the job.
pub(super) struct Told {
    pub(super) who: Who,
    /// Pipe systems to weigh up, the job's own first.
    pub(super) systems: Vec<String>,
}

pub(super) fn sheet(
    job: &Path,
    plan: &Plan,
    mut findings: Vec<Finding>,
    confirm: Vec<String>,
    told: &Told,
    library: &Library,
) -> FirstSheet {
    let air = answer(&plan.job, &plan.network, library);
    with_practice(&mut findings, plan);
    // What is open is listed anyway.
    findings.retain(|one| !["length-not-measured", "length-paced"].contains(&one.rule));
    // The sizes first, as they were chosen last: most hangs on them.
    let sizes = plan.network.assumptions.iter().rev();
    let ours = sizes
        .chain(&air.assumptions)
        .chain(&plan.takeoff.assumptions);
    let mut assumed: Vec<String> = Vec::new();
    for one in ours.filter(|one| !one.starts_with("To confirm:")) {
        if !assumed.contains(one) {
            assumed.push(one.clone());
        }
    }
    let mut open = confirm;
    open.extend(plan.job.unmeasured.iter().map(|one| {
        let taken = one.taken.show(plan.job.units);
        match one.how {
            Guess::Paced => format!("{}: paced, {taken}", one.what),
            Guess::NotMeasured => format!("{}: {taken} for now ({})", one.what, one.from),
        }
    }));
    FirstSheet {
        title: plan.summary.title.clone(),
        verdict: air.sentences,
        totals: totals(plan),
        assumed,
        confirm: open,
        next: next(job, &findings, told),
    }
}

fn totals(plan: &Plan) -> Vec<String> {
    let (summary, takeoff) = (&plan.summary, &plan.takeoff);
    let units = summary.units;
    let sizes: Vec<String> = summary.main_sizes.iter().map(ToString::to_string).collect();
    let drains = usize::try_from(takeoff.drains).unwrap_or(0);
    let pipe: Length = takeoff.pipe.iter().map(|pipe| pipe.end_to_end).sum();
    let by_size: Vec<String> = takeoff
        .pipe
        .iter()
        .map(|pipe| format!("{} of {}", pipe.end_to_end.show_total(units), pipe.size))
        .collect();
    let parts: u64 = takeoff.lines.iter().map(|line| line.quantity).sum();
    vec![
        format!(
            "{} and {} on {} of main, {}, {}.",
            words::count(summary.outlets.len(), "outlet"),
            words::count(drains, "drain"),
            summary.main_length.show_total(units),
            sizes.join(" and "),
            takeoff.system_title
        ),
        format!(
            "{} of pipe to cut ({}); {} other parts in {}.",
            pipe.show_total(units),
            by_size.join(", "),
            parts,
            words::count(takeoff.lines.len(), "line")
        ),
        words::joints(&takeoff.joints),
    ]
}

/// The next three commands, and what each is for.
fn next(job: &Path, findings: &[Finding], told: &Told) -> Vec<(String, String)> {
    let job = job.display();
    let command = |text: String, what: &str| (text, what.to_owned());
    let check = (
        format!("dripleg check {job}"),
        format!("what good practice says: {}", report::in_one_line(findings)),
    );
    let plan = command(
        format!("dripleg draw {job} --sheet plan --out plan.pdf"),
        "the plan to scale",
    );
    let ask = command(
        format!("dripleg catalog blank {job} --out prices.csv"),
        "every part with an empty price, to fill in",
    );
    match (told.who, &told.systems[..]) {
        (_, [_, _, ..]) => vec![
            check,
            ask,
            command(
                format!(
                    "dripleg compare {job} --systems {} --catalog prices.csv --rates my-rates.toml",
                    told.systems.join(",")
                ),
                "side by side, once there are prices",
            ),
        ],
        (Who::Contractor, _) => vec![check, plan, ask],
        (Who::Home | Who::Business, _) => vec![
            check,
            plan,
            command(
                format!("dripleg parts {job}"),
                "the whole list, and what it takes for granted",
            ),
        ],
    }
}
