//! `compare`: the same layout in several pipe systems, priced side by side.

use super::figures::{Figures, Named, needed};
use super::{
    Prices, both, deliver_paper, library, paper, paper_format, plan_by, settle, stopped,
    tell_missing, unpriced,
};
use crate::args::{Buying, Compare, OwnData, PaperFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output, report};
use bom::Plan;
use bom::air::demand::demand;
use bom::air::ladder::{Ladders, Part, Wear};
use bom::finding::{Finding, Severity, did_you_mean};
use bom::library::Library;
use bom::source::Source;
use jiff::civil::Date;
use pricing::catalog::Catalog;
use pricing::compare::{Candidate, Comparison, Facts, Inputs, Layout};
use pricing::quote::MissingPrice;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// What a comparison is made of.
pub(super) struct Asked<'a> {
    pub(super) job: &'a Path,
    pub(super) systems: &'a [String],
    pub(super) catalog: &'a [PathBuf],
    pub(super) rates: &'a Path,
    pub(super) buying: &'a Buying,
    pub(super) own: &'a OwnData,
    pub(super) date: Date,
}

pub(super) fn run(args: &Compare, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let form = &args.form;
    let format = paper_format(&form.print, PaperFormat::Text, "compare")?;
    let asked = Asked {
        job: &args.job,
        systems: &args.systems,
        catalog: &args.by.catalog,
        rates: &args.by.rates,
        buying: &args.by.buying,
        own: &args.own,
        date: form.date.unwrap_or_else(io.today),
    };
    let (comparison, prices) = comparison(&asked, io)?;

    let inputs = std::iter::once(&args.job)
        .chain(&prices)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(form, inputs, io, |out| {
        match format {
            PaperFormat::Text => output::terminal::compare(&comparison, width, out)?,
            PaperFormat::Csv => output::csv::compare(&comparison, out)?,
            PaperFormat::Json => output::json::compare(&comparison, out)?,
            PaperFormat::Pdf => return output::pdf::compare(&comparison, paper(form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    tell_open(&comparison, io)
}

/// The comparison, and the files of the prices.
pub(super) fn comparison(
    asked: &Asked<'_>,
    io: &mut Io<'_>,
) -> Result<(Comparison, Vec<PathBuf>), Failure> {
    let (library, own) = library(asked.own, io)?;
    let systems = systems(asked.systems, &library)?;
    let job = files::read(asked.job)?;
    let named = Named {
        catalog: asked.catalog,
        rates: Some(asked.rates),
        buying: asked.buying,
        currency: None,
    };
    // All inputs are read before anything stops, so that all problems show at
    // once.
    let figures = Figures::read(named, &library, io);
    let by = figures.as_ref().ok().and_then(Figures::by);
    let plans = plans(&job, &library, &systems, by, io);
    let (mut plans, figures) = both(plans, figures, io)?;
    let layout: Vec<&Source> = std::iter::once(&job).chain(own.all()).collect();
    let (fingerprint, files) = (figures.mark(&layout), figures.files);
    let (catalog, rates) = (figures.catalog, needed(figures.rates)?);
    for plan in plans.iter_mut().flatten() {
        settle(plan, &library, &catalog, rates.currency)?;
    }
    let candidates: Vec<Candidate<'_>> = systems
        .iter()
        .zip(&plans)
        .map(|(system, plan)| candidate(&library, *system, plan.as_ref(), &catalog))
        .collect();
    let comparison = Inputs {
        candidates: &candidates,
        rates: &rates,
        date: asked.date,
        fingerprint: &fingerprint,
    }
    .comparison()
    .map_err(unpriced)?;
    Ok((comparison, files))
}

/// The systems of these names, or what is wrong with the names.
fn systems(names: &[String], library: &Library) -> Result<Vec<usize>, Failure> {
    let mut systems = Vec::new();
    for name in names {
        let system = named(name.trim(), library)
            .map_err(|message| Failure::Untold(Exit::Unreadable, message))?;
        if systems.contains(&system) {
            return Err(Failure::Untold(
                Exit::Unreadable,
                format!("`{}` stands twice in --systems", name.trim()),
            ));
        }
        systems.push(system);
    }
    Ok(systems)
}

pub(super) fn named(name: &str, library: &Library) -> Result<usize, String> {
    let systems = library.systems();
    let found = systems.iter().position(|system| system.name == name);
    let mains = systems.iter().filter(|system| system.carries_main);
    let known: Vec<&str> = mains.map(|system| system.name.as_str()).collect();
    let refused = library.refused_for(name);
    match (found, refused) {
        (Some(system), _) if systems[system].carries_main => Ok(system),
        (Some(_), _) => Err(format!(
            "no main is built of `{name}`; the pipe systems are {}",
            known.join(", ")
        )),
        (None, Some(refused)) => Err(format!(
            "`{name}` is refused for compressed air: {}; {}; the pipe systems are {}",
            refused.happens,
            refused.why,
            known.join(", ")
        )),
        (None, None) => {
            let near = did_you_mean(name, known.iter().copied())
                .map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            Err(format!(
                "there is no pipe system `{name}`: {near}the pipe systems are {}",
                known.join(", ")
            ))
        }
    }
}

/// The job in each system, or why it cannot be built in it. What several of
/// them find is told once; a job that cannot be read, or built in any of them,
/// stops here.
fn plans(
    job: &Source,
    library: &Library,
    systems: &[usize],
    prices: Option<Prices<'_>>,
    io: &mut Io<'_>,
) -> Result<Vec<Result<Plan, String>>, Failure> {
    let mut plans = Vec::new();
    let mut all: Vec<Finding> = Vec::new();
    for system in systems {
        let (plan, findings) = plan_by(job, library, Some(*system), prices);
        plans.push(plan.ok_or_else(|| reason(&findings)));
        for finding in findings {
            if !all.contains(&finding) {
                all.push(finding);
            }
        }
    }
    all.sort_by_key(Finding::place);
    report::print(&all, job, io.err)?;
    let unreadable = all
        .iter()
        .any(|finding| finding.severity == Severity::Unreadable);
    if unreadable || plans.iter().all(Result::is_err) {
        return Err(stopped(&all, "nothing was compared"));
    }
    Ok(plans)
}

pub(super) fn reason(findings: &[Finding]) -> String {
    let stopping = findings
        .iter()
        .filter(|finding| Exit::of([*finding]) > Exit::Done);
    let mut reasons: Vec<&str> = stopping.map(|finding| finding.message.as_str()).collect();
    // Several places may have the same wrong with them.
    reasons.dedup();
    reasons.join("; ")
}

fn candidate<'a>(
    library: &'a Library,
    system: usize,
    plan: Result<&'a Plan, &String>,
    catalog: &'a Catalog,
) -> Candidate<'a> {
    let system = &library.systems()[system];
    let layout = plan.map_err(Clone::clone).map(|plan| Layout {
        summary: &plan.summary,
        takeoff: &plan.takeoff,
        catalog,
        facts: facts(plan, library),
    });
    Candidate {
        system: &system.name,
        title: &system.title,
        layout,
    }
}

fn facts(plan: &Plan, library: &Library) -> Facts {
    let demand = demand(&plan.job, library);
    let to_tools = !demand.tools.is_empty();
    let worst = if to_tools {
        let ladders = Ladders::of(&plan.job, &plan.network, library, &demand, Wear::Aged);
        let most = ladders.most_in(&[Part::Main, Part::Drop]);
        most.map(|most| most.kpa())
    } else {
        plan.stream.as_ref().and_then(|stream| {
            let worst = plan.network.pipe_loss(library, stream);
            worst.map(|(_, lost)| lost)
        })
    };
    Facts {
        growth: plan.network.growth(library).map(|(_, growth)| growth),
        worst_outlet_kpa: worst,
        to_tools,
    }
}

/// Says what keeps an option from its total.
pub(super) fn tell_open(comparison: &Comparison, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let mut missing: Vec<MissingPrice> = Vec::new();
    let mut exit = Exit::Done;
    for option in &comparison.options {
        if option.total().is_some() {
            continue;
        }
        exit = Exit::Stopped;
        writeln!(io.err, "{} has no total and is not compared", option.system)?;
        match &option.figures {
            Err(reason) => writeln!(io.err, "  it cannot be built: {reason}")?,
            Ok(figures) => {
                for work in &figures.unrated {
                    writeln!(io.err, "  {work}")?;
                }
                let new = figures.missing.iter().filter(|hole| {
                    let mut known = missing.iter();
                    !known.any(|known| known.row == hole.row)
                });
                let new: Vec<MissingPrice> = new.cloned().collect();
                missing.extend(new);
            }
        }
    }
    if !missing.is_empty() {
        tell_missing(&missing, io)?;
    }
    Ok(exit)
}
