//! `quote`: from a job, prices and rates to the customer's paper.

use super::{deliver, format_of, library, plan};
use crate::args::{Paper, Quote, QuoteFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output, report};
use bom::finding::{Finding, stops};
use bom::source::Source;
use pricing::catalog::Catalog;
use pricing::money::MoneyError;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use pricing::stand_ins;
use std::collections::BTreeSet;

pub(super) fn run(args: &Quote, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.format, args.out.as_deref(), QuoteFormat::Text)?;
    if format == QuoteFormat::Pdf && args.out.is_none() {
        return Err(Failure::Untold(
            Exit::Unreadable,
            "a PDF needs a file: add --out quote.pdf".to_owned(),
        ));
    }
    let library = library()?;
    let job = files::read(&args.job)?;
    let rates_source = files::read(&args.rates)?;
    let catalogs: Vec<Source> = args
        .catalog
        .iter()
        .map(|path| files::read(path))
        .collect::<Result<_, _>>()?;

    // All three inputs are read before anything stops, so that all problems
    // show at once.
    let plan = plan(&job, &library, io);
    let (rates, found) = Rates::read(&rates_source);
    report::print(&found, &rates_source, io.err)?;
    let rates = rates.ok_or_else(|| super::stopped(&found, "the rates cannot be used"));
    let currency = rates.as_ref().map(|rates| rates.currency).ok();
    let catalog = currency.map(|currency| Catalog::read(&catalogs, library.parts(), currency));
    let (plan, rates) = match (plan, rates) {
        (Ok(plan), Ok(rates)) => (plan, rates),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => return Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            return Err(Failure::Told(exit.max(second.tell(io.err))));
        }
    };
    let Some((catalog, found)) = catalog else {
        return Err(Failure::Told(Exit::Unreadable));
    };
    let mut findings: Vec<Finding> = Vec::new();
    for (index, finding) in found {
        report::print(std::slice::from_ref(&finding), &catalogs[index], io.err)?;
        findings.push(finding);
    }
    if stops(&findings) {
        return Err(super::stopped(&findings, "the price list cannot be used"));
    }

    let unpriced = |error: MoneyError| Failure::Untold(Exit::Stopped, error.to_string());
    let takeoff = stand_ins::settle(
        &plan.takeoff,
        &plan.network,
        &library,
        &catalog,
        rates.currency,
    )
    .map_err(unpriced)?;

    let mut prices: Vec<&Source> = catalogs.iter().collect();
    prices.push(&rates_source);
    let fingerprint = fingerprint::of(&job, &prices);
    let quote = Inputs {
        summary: &plan.summary,
        takeoff: &takeoff,
        system: &library.systems()[plan.network.system],
        catalog: &catalog,
        rates: &rates,
        date: args.date.unwrap_or_else(io.today),
        fingerprint: &fingerprint,
    }
    .quote()
    .map_err(unpriced)?;

    let width = io.width;
    let mut unprintable = BTreeSet::new();
    deliver(args.out.as_deref(), io, |out| match format {
        QuoteFormat::Text => output::terminal::quote(&quote, width, out),
        QuoteFormat::Csv => output::csv::quote(&quote, out),
        QuoteFormat::Json => output::json::quote(&quote, out),
        QuoteFormat::Pdf => {
            let paper = match args.paper {
                Paper::A4 => output::pdf::Paper::A4,
                Paper::Letter => output::pdf::Paper::Letter,
            };
            unprintable = output::pdf::quote(&quote, paper, out)?;
            Ok(())
        }
    })?;
    if !unprintable.is_empty() {
        let list: String = unprintable.into_iter().collect();
        writeln!(
            io.err,
            "the PDF's font lacks these characters, printed as `?`: {list}"
        )?;
    }
    if quote.total.is_some() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "the price is incomplete: this is not an offer")?;
    if quote.missing.is_empty() {
        // Every part has a price, but some work has no hours: the notices say which.
        for notice in &quote.notices {
            writeln!(io.err, "  {notice}")?;
        }
        return Ok(Exit::Stopped);
    }
    writeln!(io.err, "add to a price list:")?;
    for missing in &quote.missing {
        writeln!(io.err, "  {}    ({})", missing.row, missing.reason)?;
    }
    Ok(Exit::Stopped)
}
