//! `check`: what is wrong with a job.

use super::library;
use crate::args::{Check, TextOrJson};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output, report};
use bom::Plan;
use bom::finding::Finding;
use bom::practice::REMINDERS;

pub(super) fn run(args: &Check, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let (library, _) = library(&args.own, io)?;
    let source = files::read(&args.job)?;
    let (plan, mut findings) = bom::plan(&source, &library);
    if let Some(plan) = &plan {
        with_practice(&mut findings, plan);
    }
    if args.format == TextOrJson::Json {
        let zones = plan.as_ref().map(|plan| &plan.zones);
        output::json::findings(&findings, zones, &source, io.out)?;
        return Ok(Exit::of(&findings));
    }
    report::print_by_place(&findings, &source, io.out)?;
    let Some(plan) = plan else {
        return Err(super::stopped(&findings, "the job cannot be counted"));
    };
    let valves = match plan.summary.valves.len() {
        0 => String::new(),
        valves => format!("{}, ", output::words::count(valves, "line valve")),
    };
    writeln!(
        io.out,
        "{}: {}, {}, {valves}{} of main; all of it can be counted",
        source.name(),
        output::words::count(plan.summary.outlets.len(), "outlet"),
        output::words::count(usize::try_from(plan.takeoff.drains).unwrap_or(0), "drain"),
        plan.summary.main_length.show_total(plan.summary.units),
    )?;
    writeln!(
        io.out,
        "{}: {}",
        source.name(),
        report::in_one_line(&findings)
    )?;
    output::terminal::reminders(&REMINDERS, io.width, io.out)?;
    if args.ratings {
        output::terminal::ratings(&plan.zones, io.width, io.out)?;
    }
    output::terminal::weakest(&plan.zones, io.width, io.out)?;
    Ok(Exit::of(&findings))
}

/// Adds what good practice says of a job that can be built: what stops it comes first.
pub(super) fn with_practice(findings: &mut Vec<Finding>, plan: &Plan) {
    // A cap that water runs to is one thing, of which good practice says more.
    let place = |finding: &Finding| finding.labels.first().map(|label| label.span);
    let said = |cap: &Finding| {
        let mut ends = plan.practice.iter();
        ends.any(|end| end.rule == "main-end-without-drain" && place(end) == place(cap))
    };
    findings.retain(|one| one.rule != "main-ends-in-cap" || !said(one));
    findings.extend(plan.practice.iter().cloned());
    findings.sort_by_key(Finding::place);
}
