//! `report`: the whole job on one page to read in a browser.

use super::check::with_practice;
use super::counted::{Asked, Counted};
use super::{deliver, format_of, shop};
use crate::Io;
use crate::args::{PageFormat, Report};
use crate::exit::{Exit, Failure};
use crate::output::html;
use bom::air::answer::{Air, answer};
use bom::drawing::Sheet;
use bom::finding::Finding;
use jiff::civil::Date;
use pricing::cut_sheet::CutSheet;
use pricing::rates::Rates;
use pricing::shop::{By, ShoppingList};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Report, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let PageFormat::Html = format_of(args.format, args.out.as_deref(), PageFormat::Html)?;
    let asked = Asked {
        currency: args.currency,
        ..Asked::of(&args.job, &args.prices, &args.buying, &args.own)
    };
    let job = Counted::read(&asked, io)?;
    let date = args.date.unwrap_or_else(io.today);
    let drawings = job.scene().sheets(|_| true);
    let contents = Contents::of(&job, date)?;

    let inputs = std::iter::once(&args.job)
        .chain(&job.figures.files)
        .chain(args.own.files());
    let inputs: Vec<&Path> = inputs.map(PathBuf::as_path).collect();
    deliver(args.out.as_deref(), &inputs, io, |out| {
        html::report(&contents.page(&job, &drawings), out)
    })?;
    if !contents.priced {
        return Ok(Exit::Done);
    }
    shop::tell_open(&contents.list, io)
}

/// What the page shows beside the plan and its drawings.
pub(super) struct Contents {
    findings: Vec<Finding>,
    air: Air,
    pub(super) list: ShoppingList,
    priced: bool,
    cut: CutSheet,
}

impl Contents {
    pub(super) fn of(job: &Counted, date: Date) -> Result<Self, Failure> {
        let plan = &job.plan;
        let mut findings = job.findings.clone();
        with_practice(&mut findings, plan);
        // What a contractor buys for is for neither the crew nor the customer.
        let own_work = job.figures.rates.as_ref().is_none_or(Rates::is_owner);
        Ok(Self {
            findings,
            air: answer(&plan.job, &plan.network, &job.library),
            list: job.list(By::Aisle, date)?,
            priced: job.figures.priced && own_work,
            cut: job.cut_sheet(None, BTreeMap::new(), date)?,
        })
    }

    /// The page with these drawings.
    pub(super) fn page<'a>(&'a self, job: &'a Counted, drawings: &'a [Sheet]) -> html::Report<'a> {
        html::Report {
            plan: &job.plan,
            source: &job.source,
            findings: &self.findings,
            air: &self.air,
            takeoff: &job.plan.takeoff,
            shop: &self.list,
            priced: self.priced,
            cut: &self.cut,
            drawings,
        }
    }
}
