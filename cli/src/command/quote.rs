//! `quote`: from a job, prices and rates to the customer's paper.

use super::suppliers::{bought_from, choice_of_suppliers};
use super::{
    deliver_paper, format_of, layout, library, needs_file, paper, plan, prices, read_all, settled,
    tell_missing, unpriced,
};
use crate::args::{PaperFormat, Quote};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output, report};
use bom::source::Source;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use std::collections::BTreeSet;

pub(super) fn run(args: &Quote, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(
        args.form.format,
        args.form.out.as_deref(),
        PaperFormat::Text,
    )?;
    needs_file(format, args.form.out.as_deref(), "quote")?;
    let (library, own) = library(&args.own, io)?;
    let job = files::read(&args.job)?;
    let rates_source = files::read(&args.rates)?;
    let catalogs = read_all(&args.catalog)?;

    // All three inputs are read before anything stops, so that all problems
    // show at once.
    let (rates, found) = Rates::read(&rates_source);
    report::print(&found, &rates_source, io.err)?;
    let rates = rates.ok_or_else(|| super::stopped(&found, "the rates cannot be used"));
    let currency = rates.as_ref().map(|rates| rates.currency).ok();
    let catalog = currency.map(|currency| {
        let catalog = prices(&catalogs, library.parts(), currency, io)?;
        let by = rates.as_ref().ok().map(|rates| (rates, &rates_source));
        bought_from(catalog, &args.buying, by, io)
    });
    let by = catalog.as_ref().and_then(|catalog| catalog.as_ref().ok());
    let plan = plan(&job, &library, by.map(|by| (by, rates.as_ref().ok())), io);
    let (plan, rates) = match (plan, rates) {
        (Ok(plan), Ok(rates)) => (plan, rates),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => return Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            return Err(Failure::Told(exit.max(second.tell(io.err))));
        }
    };
    let catalog = catalog.unwrap_or(Err(Failure::Told(Exit::Unreadable)))?;

    let takeoff = settled(&plan, &library, &catalog, rates.currency)?;
    let mut figures: Vec<&Source> = catalogs.iter().collect();
    figures.push(&rates_source);
    let choice = choice_of_suppliers(&args.buying);
    figures.extend(&choice);
    let layout = layout(&job, &own, &library, &takeoff);
    let fingerprint = fingerprint::of(&layout, &figures);
    let quote = Inputs {
        summary: &plan.summary,
        takeoff: &takeoff,
        catalog: &catalog,
        rates: &rates,
        date: args.form.date.unwrap_or_else(io.today),
        fingerprint: &fingerprint,
    }
    .quote()
    .map_err(unpriced)?;

    let inputs = [&args.job, &args.rates]
        .into_iter()
        .chain(&args.catalog)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            PaperFormat::Text => output::terminal::quote(&quote, width, out)?,
            PaperFormat::Csv => output::csv::quote(&quote, out)?,
            PaperFormat::Json => output::json::quote(&quote, out)?,
            PaperFormat::Pdf => return output::pdf::quote(&quote, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    if quote.total.is_some() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "the price is incomplete: this is not an offer")?;
    if quote.missing.is_empty() {
        for work in &quote.unrated {
            writeln!(io.err, "  {work}")?;
        }
        return Ok(Exit::Stopped);
    }
    tell_missing(&quote.missing, io)?;
    Ok(Exit::Stopped)
}
