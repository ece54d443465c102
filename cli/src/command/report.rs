//! `report`: the whole job on one page to read in a browser.

use super::check::with_practice;
use super::shopping::{Asked, Shopping};
use super::{deliver, format_of, tell_missing};
use crate::args::{PageFormat, Report};
use crate::exit::{Exit, Failure};
use crate::output::html;
use crate::{Io, output};
use bom::air::answer::answer;
use bom::drawing::{Field, Scene};
use pricing::rates::Rates;
use pricing::shop::By;
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Report, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let PageFormat::Html = format_of(args.format, args.out.as_deref(), PageFormat::Html)?;
    let asked = Asked {
        job: &args.job,
        catalog: &args.catalog,
        rates: args.rates.as_deref(),
        buying: &args.buying,
        currency: args.currency,
        own: &args.own,
    };
    let shopping = Shopping::read(&asked, io)?;
    let date = args.date.unwrap_or_else(io.today);
    let (plan, source) = (&shopping.plan, &shopping.source);
    let mut findings = shopping.findings.clone();
    with_practice(&mut findings, plan);
    // What a contractor buys for is for neither the crew nor the customer.
    let own_work = shopping.rates.as_ref().is_none_or(Rates::is_owner);
    let priced = shopping.priced && own_work;
    let list = shopping.list(By::Aisle, date)?;
    let takeoff = &shopping.takeoff;
    let cut = shopping.cut_sheet(date)?;
    let scene = Scene {
        plan,
        library: &shopping.library,
        field: Field::COMMON,
    };
    let drawings = scene.sheets(|_| true);
    let page = html::Report {
        plan,
        source,
        findings: &findings,
        air: &answer(&plan.job, &plan.network, &shopping.library),
        takeoff,
        shop: &list,
        priced,
        cut: &cut,
        drawings: &drawings,
    };

    let inputs = std::iter::once(&args.job)
        .chain(&shopping.lists)
        .chain(&args.rates)
        .chain(args.own.files());
    let inputs: Vec<&Path> = inputs.map(PathBuf::as_path).collect();
    deliver(args.out.as_deref(), &inputs, io, |out| {
        output::html::report(&page, out)
    })?;
    if !priced || list.missing.is_empty() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "a price is missing: the total is open")?;
    tell_missing(&list.missing, io)?;
    Ok(Exit::Stopped)
}
