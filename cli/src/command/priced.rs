//! What a quote and an estimate are made of: the job, the price lists and the
//! rates, read with all their problems at once.

use super::{costed, layout, library, plan, prices, read_all, settled};
use crate::args::Priced;
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::Plan;
use bom::job::Job;
use bom::library::Library;
use bom::source::Source;
use bom::takeoff::Takeoff;
use jiff::civil::Date;
use pricing::catalog::Catalog;
use pricing::offer::Inputs;
use pricing::rates::Rates;

/// A counted job with its prices.
pub(super) struct PricedJob {
    pub(super) library: Library,
    pub(super) rates: Rates,
    source: Source,
    catalog: Catalog,
    fingerprint: String,
    pub(super) count: Count,
}

/// A job's plan, counted in what the price lists have.
pub(super) struct Count {
    pub(super) plan: Plan,
    takeoff: Takeoff,
}

impl PricedJob {
    /// Reads the files and counts the job.
    pub(super) fn read(args: &Priced, io: &mut Io<'_>) -> Result<Self, Failure> {
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
        let catalog = currency.map(|currency| prices(&catalogs, library.parts(), currency, io));
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
        let layout = layout(&job, &own, &library, &takeoff);
        Ok(Self {
            fingerprint: fingerprint::of(&layout, &figures),
            library,
            rates,
            source: job,
            catalog,
            count: Count { plan, takeoff },
        })
    }

    /// What the papers are made of.
    pub(super) fn inputs(&self, date: Date) -> Inputs<'_> {
        self.inputs_of(&self.count, date)
    }

    /// The same of the job counted otherwise.
    pub(super) fn inputs_of<'a>(&'a self, count: &'a Count, date: Date) -> Inputs<'a> {
        Inputs {
            summary: &count.plan.summary,
            takeoff: &count.takeoff,
            catalog: &self.catalog,
            rates: &self.rates,
            date,
            fingerprint: self.fingerprint.as_str(),
        }
    }

    /// The job with all that is offered besides.
    pub(super) fn whole(&self) -> Option<Job> {
        bom::job::read(&self.source, &self.library).0
    }

    /// Counts the job otherwise, or says why it cannot be built so.
    pub(super) fn otherwise(&self, job: Job) -> Result<Result<Count, String>, Failure> {
        let prices = Some((&self.catalog, Some(&self.rates)));
        let (plan, findings) = costed(&self.library, prices, |costs| {
            bom::plan_job(job, &self.library, costs)
        });
        let Some(plan) = plan else {
            return Ok(Err(super::compare::reason(&findings)));
        };
        let takeoff = settled(&plan, &self.library, &self.catalog, self.rates.currency)?;
        Ok(Ok(Count { plan, takeoff }))
    }
}
