//! What a quote, an estimate and a change order are made of: the job, the price
//! lists and the rates, read with all their problems at once.

use super::suppliers::{bought_from, choice_of_suppliers};
use super::{Own, costed, layout, library, lists, plan, prices, settle};
use crate::args::{Buying, Priced};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, report};
use bom::Plan;
use bom::finding::{Finding, Severity};
use bom::job::Job;
use bom::library::Library;
use bom::source::Source;
use jiff::civil::Date;
use pricing::catalog::Catalog;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use std::path::{Path, PathBuf};

/// The rule that keeps a quote back.
const NOT_MEASURED: &str = "length-not-measured";

/// Price lists and rates.
#[derive(Clone)]
pub(super) struct Figures {
    catalog: Catalog,
    rates: Rates,
    /// What they were read from, for the papers' mark.
    sources: Vec<Source>,
    /// The files of the price lists.
    lists: Vec<PathBuf>,
}

impl Figures {
    pub(super) fn read(
        catalog: &[PathBuf],
        rates: &Path,
        buying: &Buying,
        library: &Library,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
        let rates_source = files::read(rates)?;
        let lists = lists(catalog, library.parts(), io)?;
        let (rates, found) = Rates::read(&rates_source);
        report::print(&found, &rates_source, io.err)?;
        let rates = rates.ok_or_else(|| super::stopped(&found, "the rates cannot be used"))?;
        let catalog = prices(&lists, library.parts(), rates.currency, io)?;
        let catalog = bought_from(catalog, buying, Some((&rates, &rates_source)), io)?;
        let mut sources: Vec<Source> = lists.sources().cloned().collect();
        sources.push(rates_source);
        sources.extend(choice_of_suppliers(buying));
        Ok(Self {
            catalog,
            rates,
            sources,
            lists: lists.files,
        })
    }
}

/// A counted job with its prices.
pub(super) struct PricedJob {
    pub(super) library: Library,
    pub(super) rates: Rates,
    pub(super) source: Source,
    pub(super) catalog: Catalog,
    pub(super) fingerprint: String,
    /// The files of the price lists.
    pub(super) lists: Vec<PathBuf>,
    /// The plan, its count in what the price lists have.
    pub(super) plan: Plan,
}

impl PricedJob {
    /// Reads the files and counts the job.
    pub(super) fn read(args: &Priced, io: &mut Io<'_>) -> Result<Self, Failure> {
        let (library, own) = library(&args.own, io)?;
        let job = files::read(&args.job)?;
        let figures = Figures::read(&args.catalog, &args.rates, &args.buying, &library, io);
        Self::of(&job, figures, &library, &own, io)
    }

    /// Counts a job. It is read even where the figures cannot be used, so that all
    /// problems show at once.
    pub(super) fn of(
        job: &Source,
        figures: Result<Figures, Failure>,
        library: &Library,
        own: &Own,
        io: &mut Io<'_>,
    ) -> Result<Self, Failure> {
        let by = figures.as_ref().ok();
        let by = by.map(|figures| (&figures.catalog, Some(&figures.rates)));
        let plan = plan(job, library, by, io);
        let (mut plan, figures) = both(plan, figures, io)?;
        let Figures {
            catalog,
            rates,
            sources,
            lists,
        } = figures;
        settle(&mut plan, library, &catalog, rates.currency)?;
        let sources: Vec<&Source> = sources.iter().collect();
        let layout = layout(job, own, library, &plan.takeoff);
        Ok(Self {
            fingerprint: fingerprint::of(&layout, &sources),
            library: library.clone(),
            rates,
            source: job.clone(),
            catalog,
            lists,
            plan,
        })
    }

    /// Whether every length is measured, or accepted as it is: a customer is offered
    /// nothing else.
    pub(super) fn is_measured(&self, io: &mut Io<'_>) -> Result<(), Failure> {
        let open: Vec<Finding> = self
            .plan
            .practice
            .iter()
            .filter(|finding| finding.rule == NOT_MEASURED && finding.accepted.is_none())
            .map(|finding| Finding {
                severity: Severity::Error,
                ..finding.clone()
            })
            .collect();
        if open.is_empty() {
            return Ok(());
        }
        report::print(&open, &self.source, io.err)?;
        Err(Failure::Untold(
            Exit::Stopped,
            format!(
                "no quote is written while lengths are not measured: measure them, or write why \
                 they stay open: {NOT_MEASURED} = \"…\" under [accept]; `estimate` and all lists go on"
            ),
        ))
    }

    /// The files of the price lists.
    pub(super) fn list_files(&self) -> &[PathBuf] {
        &self.lists
    }

    /// What the papers are made of.
    pub(super) fn inputs(&self, date: Date) -> Inputs<'_> {
        self.inputs_of(&self.plan, date)
    }

    /// The same of the job counted otherwise.
    pub(super) fn inputs_of<'a>(&'a self, plan: &'a Plan, date: Date) -> Inputs<'a> {
        Inputs {
            summary: &plan.summary,
            takeoff: &plan.takeoff,
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
    pub(super) fn otherwise(&self, job: Job) -> Result<Result<Plan, String>, Failure> {
        let prices = Some((&self.catalog, Some(&self.rates)));
        let (plan, findings) = costed(&self.library, prices, |costs| {
            bom::plan_job(job, &self.library, costs)
        });
        let Some(mut plan) = plan else {
            return Ok(Err(super::compare::reason(&findings)));
        };
        settle(&mut plan, &self.library, &self.catalog, self.rates.currency)?;
        Ok(Ok(plan))
    }
}

/// Two of which both are needed: where both failed, both are told.
pub(super) fn both<A, B>(
    first: Result<A, Failure>,
    second: Result<B, Failure>,
    io: &mut Io<'_>,
) -> Result<(A, B), Failure> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok((first, second)),
        (Err(failure), Ok(_)) | (Ok(_), Err(failure)) => Err(failure),
        (Err(first), Err(second)) => {
            let exit = first.tell(io.err);
            Err(Failure::Told(exit.max(second.tell(io.err))))
        }
    }
}
