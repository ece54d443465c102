//! `shop`: what to buy, for the owner who stands in the store.

use super::{
    deliver_paper, format_of, layout, library, needs_file, paper, plan, prices, read_all, settled,
    tell_missing, unpriced,
};
use crate::args::{BookFormat, Shop, ShopBy};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output};
use bom::source::Source;
use pricing::catalog::Catalog;
use pricing::money::Currency;
use pricing::shop::{By, Inputs, Spares};
use std::collections::BTreeSet;

pub(super) fn run(args: &Shop, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), BookFormat::Text)?;
    needs_file(format, args.form.out.as_deref(), "shop")?;
    let (library, own) = library(&args.own, io)?;
    let job = files::read(&args.job)?;
    let catalogs = read_all(&args.catalog)?;
    let currency = match args.currency.or_else(|| Catalog::currency(&catalogs)) {
        Some(currency) => currency,
        None => Currency::parse("USD").map_err(|error| broken(error.message))?,
    };

    // Both inputs are read before anything stops, so that all problems show at
    // once.
    let catalog = prices(&catalogs, library.parts(), currency, io);
    let by = catalog.as_ref().ok().map(|catalog| (catalog, None));
    let plan = plan(&job, &library, by, io);
    let (plan, catalog) = match (plan, catalog) {
        (Ok(plan), Ok(catalog)) => (plan, catalog),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => return Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            return Err(Failure::Told(exit.max(second.tell(io.err))));
        }
    };

    let takeoff = settled(&plan, &library, &catalog, currency)?;
    let layout = layout(&job, &own, &library, &takeoff);
    let figures: Vec<&Source> = catalogs.iter().collect();
    let list = Inputs {
        network: &plan.network,
        summary: &plan.summary,
        takeoff: &takeoff,
        library: &library,
        spares: &Spares::shipped().map_err(broken)?,
        catalog: &catalog,
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
        .chain(&args.catalog)
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
