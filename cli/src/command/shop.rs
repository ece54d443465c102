//! `shop`: what to buy, for the owner who stands in the store.

use super::suppliers::{bought_from, choice_of_suppliers};
use super::{
    deliver_paper, format_of, layout, library, lists, needs_file, paper, plan, prices, settled,
    stopped, tell_missing, unpriced,
};
use crate::args::{BookFormat, Shop, ShopBy};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output, report};
use bom::source::Source;
use pricing::catalog::Catalog;
use pricing::money::Currency;
use pricing::rates::Rates;
use pricing::shop::{By, Inputs, Spares};
use std::collections::BTreeSet;

pub(super) fn run(args: &Shop, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), BookFormat::Text)?;
    needs_file(format, args.form.out.as_deref(), "shop")?;
    let (library, own) = library(&args.own, io)?;
    let job = files::read(&args.job)?;
    let catalogs = lists(&args.catalog, library.parts(), io)?;
    let rates_source = args.rates.as_deref().map(files::read).transpose()?;

    // All inputs are read before anything stops, so that all problems show at
    // once.
    let rates = match &rates_source {
        None => Ok(None),
        Some(source) => {
            let (rates, found) = Rates::read(source);
            report::print(&found, source, io.err)?;
            let rates = rates.ok_or_else(|| stopped(&found, "the rates cannot be used"));
            rates.map(|rates| Some((rates, source)))
        }
    };
    let by_rates = rates.as_ref().ok().and_then(Option::as_ref);
    let currency = by_rates.map(|(rates, _)| rates.currency);
    let currency = currency
        .or(args.currency)
        .or_else(|| Catalog::currency(&catalogs.sheets));
    let currency = match currency {
        Some(currency) => currency,
        None => Currency::parse("USD").map_err(|error| broken(error.message))?,
    };
    let by_rates = by_rates.map(|(rates, source)| (rates, *source));
    let catalog = prices(&catalogs, library.parts(), currency, io)
        .and_then(|catalog| bought_from(catalog, &args.buying, by_rates, io));
    let by = catalog.as_ref().ok().map(|catalog| (catalog, None));
    let plan = plan(&job, &library, by, io);
    let (plan, catalog, rates) = match (plan, catalog, rates) {
        (Ok(plan), Ok(catalog), Ok(rates)) => (plan, catalog, rates),
        (plan, catalog, rates) => {
            let failures = [plan.err(), catalog.err(), rates.err()];
            let mut failures = failures.into_iter().flatten().peekable();
            let first = failures
                .next()
                .map_or(Exit::Done, |first| first.tell(io.err));
            let exit = failures.fold(first, |exit, next| exit.max(next.tell(io.err)));
            return Err(Failure::Told(exit));
        }
    };
    let terms = rates.map(|(rates, _)| rates.buying).unwrap_or_default();

    let takeoff = settled(&plan, &library, &catalog, currency)?;
    let layout = layout(&job, &own, &library, &takeoff);
    let choice = choice_of_suppliers(&args.buying);
    let figures = catalogs.sources().chain(&rates_source).chain(&choice);
    let figures: Vec<&Source> = figures.collect();
    let list = Inputs {
        network: &plan.network,
        summary: &plan.summary,
        takeoff: &takeoff,
        library: &library,
        spares: &Spares::shipped().map_err(broken)?,
        catalog: &catalog,
        terms: &terms,
        currency,
        by: match args.by {
            ShopBy::Aisle => By::Aisle,
            ShopBy::Supplier => By::Supplier,
        },
        date: args.form.date.unwrap_or_else(io.today),
        fingerprint: &fingerprint::of(&layout, &figures),
    }
    .list()
    .map_err(unpriced)?;

    let inputs = std::iter::once(&args.job)
        .chain(&catalogs.files)
        .chain(&args.rates)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            BookFormat::Text => output::terminal::shop(&list, width, out)?,
            BookFormat::Csv => output::csv::shop(&list, out)?,
            BookFormat::Json => output::json::shop(&list, out)?,
            BookFormat::Xlsx => {
                output::xlsx::shop(&list, paper(args.form.paper), out)?;
            }
            BookFormat::Pdf => return output::pdf::shop(&list, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    if list.missing.is_empty() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "a price is missing: the total is open")?;
    tell_missing(&list.missing, io)?;
    Ok(Exit::Stopped)
}

fn broken(error: String) -> Failure {
    Failure::Untold(
        Exit::Outside,
        format!("the shipped data is broken: {error}"),
    )
}
