//! What a quote and an estimate are made of: the job, the price lists and the
//! rates, read with all their problems at once.

use super::lists::Lists;
use super::suppliers::{bought_from, choice_of_suppliers};
use super::{layout, library, lists, plan, prices, settled};
use crate::args::Priced;
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::Plan;
use bom::source::Source;
use bom::takeoff::Takeoff;
use jiff::civil::Date;
use pricing::catalog::Catalog;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use std::path::PathBuf;

/// A counted job with its prices.
pub(super) struct PricedJob {
    plan: Plan,
    takeoff: Takeoff,
    catalog: Catalog,
    pub(super) rates: Rates,
    fingerprint: String,
    lists: Lists,
}

impl PricedJob {
    /// Reads the files and counts the job.
    pub(super) fn read(args: &Priced, io: &mut Io<'_>) -> Result<Self, Failure> {
        let (library, own) = library(&args.own, io)?;
        let job = files::read(&args.job)?;
        let rates_source = files::read(&args.rates)?;
        let catalogs = lists(&args.catalog, library.parts(), io)?;

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
        let mut figures: Vec<&Source> = catalogs.sources().collect();
        figures.push(&rates_source);
        let choice = choice_of_suppliers(&args.buying);
        figures.extend(&choice);
        let layout = layout(&job, &own, &library, &takeoff);
        Ok(Self {
            fingerprint: fingerprint::of(&layout, &figures),
            plan,
            takeoff,
            catalog,
            rates,
            lists: catalogs,
        })
    }

    /// The files of the price lists.
    pub(super) fn list_files(&self) -> &[PathBuf] {
        &self.lists.files
    }

    /// What the papers are made of.
    pub(super) const fn inputs(&self, date: Date) -> Inputs<'_> {
        Inputs {
            summary: &self.plan.summary,
            takeoff: &self.takeoff,
            catalog: &self.catalog,
            rates: &self.rates,
            date,
            fingerprint: self.fingerprint.as_str(),
        }
    }
}
