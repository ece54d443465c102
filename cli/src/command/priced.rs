//! What a quote, an estimate and a change order are made of: a counted job and the rates.

use super::counted::{Asked, Counted};
use super::figures::needed;
use super::{costed, settle};
use crate::args::Priced;
use crate::exit::{Exit, Failure};
use crate::{Io, report};
use bom::Plan;
use bom::drawing::Scene;
use bom::finding::{Finding, Severity};
use bom::job::Job;
use bom::library::Library;
use bom::source::Source;
use jiff::civil::Date;
use pricing::catalog::Catalog;
use pricing::offer::Inputs;
use pricing::rates::Rates;
use std::path::PathBuf;

/// The rule that keeps a quote back.
const NOT_MEASURED: &str = "length-not-measured";

/// A counted job with its prices.
pub(super) struct PricedJob {
    pub(super) library: Library,
    pub(super) rates: Rates,
    pub(super) source: Source,
    pub(super) catalog: Catalog,
    pub(super) fingerprint: String,
    /// The files of the price lists and the rates.
    pub(super) files: Vec<PathBuf>,
    /// The plan, its count in what the price lists have.
    pub(super) plan: Plan,
}

impl PricedJob {
    /// Reads the files and counts the job.
    pub(super) fn read(args: &Priced, io: &mut Io<'_>) -> Result<Self, Failure> {
        let asked = Asked {
            job: &args.job,
            catalog: &args.by.catalog,
            rates: Some(&args.by.rates),
            buying: &args.by.buying,
            currency: None,
            own: &args.own,
        };
        Self::of(Counted::read(&asked, io)?)
    }

    /// A counted job, which has rates.
    pub(super) fn of(job: Counted) -> Result<Self, Failure> {
        Ok(Self {
            rates: needed(job.figures.rates)?,
            library: job.library,
            source: job.source,
            catalog: job.figures.catalog,
            fingerprint: job.fingerprint,
            files: job.figures.files,
            plan: job.plan,
        })
    }

    /// The job as it is drawn.
    pub(super) fn scene(&self) -> Scene<'_> {
        super::scene(&self.plan, &self.library)
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
