//! `catalog check`: what is wrong with price lists, and what a job lacks in
//! them.

use crate::args::{CatalogCheck, TextOrJson};
use crate::command::figures::currency_of;
use crate::command::lists::{Lists, lists};
use crate::command::{library, plan, settle, unpriced};
use crate::exit::{Exit, Failure};
use crate::output::CatalogPaper;
use crate::{Io, files, output, report};
use bom::finding::Finding;
use bom::library::Library;
use pricing::catalog::Catalog;
use pricing::catalog::check::{Asked, check, held};
use pricing::matching;
use pricing::money::Currency;
use pricing::quote::MissingPrice;

pub(super) fn run(args: &CatalogCheck, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let (library, _) = library(&args.own, io)?;
    let lists = lists(&args.catalogs, library.parts(), io)?;
    let currency = currency_of(None, &lists.sheets)?;
    let (catalog, mut findings) = Catalog::read_sheets(&lists.sheets, library.parts(), currency);
    let systems: Vec<&str> = library
        .systems()
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    let asked = Asked {
        parts: library.parts(),
        systems: &systems,
        date: args.date.unwrap_or_else(io.today),
        older_than: args.older_than,
    };
    findings.extend(check(&catalog, &lists.sheets, &asked));
    let missing = missing(args, &library, &catalog, currency, io)?;

    let lacking = missing.as_ref().is_some_and(|missing| !missing.is_empty());
    let exit = Exit::of(findings.iter().map(|(_, finding)| finding));
    let exit = if lacking {
        exit.max(Exit::Stopped)
    } else {
        exit
    };
    let paper = CatalogPaper {
        held: &held(&catalog, &lists.sheets),
        findings: &findings,
        missing: missing.as_deref(),
        job: args.job.as_deref(),
        older_than: args.older_than,
        date: asked.date,
    };
    if args.format == TextOrJson::Json {
        let texts: Vec<_> = lists.texts().collect();
        output::json::catalog(&paper, &texts, io.out)?;
        return Ok(exit);
    }
    tell(&lists, &findings, io)?;
    output::terminal::catalog(&paper, io.out)?;
    Ok(exit)
}

/// The findings of one list after the other.
fn tell(lists: &Lists, findings: &[(usize, Finding)], io: &mut Io<'_>) -> Result<(), Failure> {
    for (number, list) in lists.texts().enumerate() {
        let of_this = findings.iter().filter(|(at, _)| *at == number);
        let of_this: Vec<Finding> = of_this.map(|(_, finding)| finding.clone()).collect();
        report::print(&of_this, list, io.out)?;
    }
    Ok(())
}

/// What the job lacks; none if there is no job.
fn missing(
    args: &CatalogCheck,
    library: &Library,
    catalog: &Catalog,
    currency: Currency,
    io: &mut Io<'_>,
) -> Result<Option<Vec<MissingPrice>>, Failure> {
    let Some(job) = &args.job else {
        return Ok(None);
    };
    let mut plan = plan(&files::read(job)?, library, Some((catalog, None)), io)?;
    settle(&mut plan, library, catalog, currency)?;
    matching::missing(&plan.takeoff, plan.summary.units, catalog, currency)
        .map(Some)
        .map_err(unpriced)
}
