//! `shop`: what to buy, for the owner who stands in the store.

use super::{
    deliver, format_of, library, needs_file, paper, plan, prices, read_all, settled, tell_missing,
    tell_unprintable, unpriced,
};
use crate::args::{PaperFormat, Shop, ShopBy};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output};
use bom::Plan;
use bom::job::Threading;
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use pricing::catalog::Catalog;
use pricing::matching;
use pricing::money::Currency;
use pricing::shop::{By, Fact, Inputs, Spares};
use pricing::stand_ins;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Shop, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(
        args.form.format,
        args.form.out.as_deref(),
        PaperFormat::Text,
    )?;
    needs_file(format, args.form.out.as_deref(), "shop")?;
    let library = library()?;
    let job = files::read(&args.job)?;
    let catalogs = read_all(&args.catalog)?;
    let currency = match args.currency.or_else(|| Catalog::currency(&catalogs)) {
        Some(currency) => currency,
        None => Currency::parse("USD").map_err(|error| broken(error.message))?,
    };

    // Both inputs are read before anything stops, so that all problems show at
    // once.
    let plan = plan(&job, &library, io);
    let catalog = prices(&catalogs, library.parts(), currency, io);
    let (plan, catalog) = match (plan, catalog) {
        (Ok(plan), Ok(catalog)) => (plan, catalog),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => return Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            return Err(Failure::Told(exit.max(second.tell(io.err))));
        }
    };

    let takeoff = settled(&plan, &library, &catalog, currency)?;
    let figures: Vec<&Source> = catalogs.iter().collect();
    let mut list = Inputs {
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
        fingerprint: &fingerprint::of(&job, &figures),
    }
    .list()
    .map_err(unpriced)?;
    list.heads_up.extend(against_threading(
        &plan, &library, &takeoff, &catalog, currency,
    )?);

    let inputs: Vec<&Path> = [&args.job]
        .into_iter()
        .chain(&args.catalog)
        .map(PathBuf::as_path)
        .collect();
    let width = io.width;
    let mut unprintable = BTreeSet::new();
    deliver(args.form.out.as_deref(), &inputs, io, |out| match format {
        PaperFormat::Text => output::terminal::shop(&list, width, out),
        PaperFormat::Csv => output::csv::shop(&list, out),
        PaperFormat::Json => output::json::shop(&list, out),
        PaperFormat::Pdf => {
            unprintable = output::pdf::shop(&list, paper(args.form.paper), out)?;
            Ok(())
        }
    })?;
    tell_unprintable(unprintable, io)?;
    if list.missing.is_empty() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "a price is missing: the total is open")?;
    tell_missing(&list.missing, io)?;
    Ok(Exit::Stopped)
}

/// What ready-threaded lengths cost beside pipe cut and threaded to measure.
/// This is the owner's own list: a customer's quote never says it.
fn against_threading(
    plan: &Plan,
    library: &Library,
    bought: &Takeoff,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Option<Fact>, Failure> {
    if plan.network.threading == Threading::Cut {
        return Ok(None);
    }
    let mut network = plan.network.clone();
    network.threading = Threading::Cut;
    let Some(cut) = bom::takeoff::takeoff(&network, library).0 else {
        return Ok(None);
    };
    let cut = stand_ins::settle(&cut, &network, library, catalog, currency).map_err(unpriced)?;
    let system = &library.systems()[network.system];
    let cost = |takeoff: &Takeoff| {
        matching::whole(takeoff, system, network.units, catalog, currency).map_err(unpriced)
    };
    Ok(cost(bought)?.zip(cost(&cut)?).map(|(bought, cut)| Fact {
        label: "Ready lengths",
        text: format!(
            "without spares {code} {} as listed; {code} {} with pipe that is cut and threaded to measure.",
            bought.show(),
            cut.show(),
            code = currency.code()
        ),
    }))
}

fn broken(error: String) -> Failure {
    Failure::Untold(
        Exit::Outside,
        format!("the shipped data is broken: {error}"),
    )
}
