//! `papers`: every paper of a job in one folder, from one reading of it, so that all of
//! them say the same.

use super::counted::{Asked, Counted};
use super::handover::{paper_of, rule_called};
use super::priced::PricedJob;
use super::{
    compare, crew, deliver, estimate, paper, quote, report, shop, tell_stale, tell_unprintable,
};
use crate::args::Papers;
use crate::exit::{Exit, Failure};
use crate::output::pdf::{self, leaves};
use crate::{Io, files, output};
use bom::drawing::{DRAWINGS, Drawing, Sheet};
use bom::handover::{Asked as Tests, handover};
use std::collections::BTreeSet;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

pub(super) fn run(args: &Papers, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let asked = Asked::of(&args.job, &args.prices, &args.buying, &args.own);
    let rule = args.rule.as_deref().map(rule_called).transpose()?;
    let job = Counted::read(&asked, io)?;
    let date = args.date.unwrap_or_else(io.today);
    let paper = paper(args.paper);
    let inputs = std::iter::once(&args.job)
        .chain(&job.figures.files)
        .chain(args.own.files());
    let inputs: Vec<PathBuf> = inputs.cloned().collect();
    files::folder(&args.out)?;
    let mut folder = Folder {
        path: &args.out,
        inputs: inputs.iter().map(PathBuf::as_path).collect(),
        unprintable: BTreeSet::new(),
    };

    let drawings = Drawings::of(&job);
    let builds = crew::Contents::of(&job, date)?;
    let (crew, all) = (
        drawings.of_kinds(crew::is_drawn),
        drawings.of_kinds(|_| true),
    );
    folder.pdf("crew.pdf", io, |out| builds.pdf(&job, &crew, paper, out))?;
    let tests = handover(
        &job.plan,
        &job.library,
        Tests {
            rule: rule.as_ref(),
            energy_price: args.energy_price,
            fingerprint: &job.fingerprint,
            record: None,
        },
        |_| true,
    );
    folder.pdf("handover.pdf", io, |out| {
        pdf::handover(&paper_of(&job, &tests, date), paper, out)
    })?;
    let page = report::Contents::of(&job, date)?;
    folder.file("report.html", io, |out| {
        output::html::report(&page.page(&job, &all), out)
    })?;
    folder.pdf("shop.pdf", io, |out| pdf::shop(&page.list, paper, out))?;
    let mut exit = shop::tell_open(&page.list, io)?;

    if job.figures.rates.is_some() {
        let job = PricedJob::of(job)?;
        let sheet = job.inputs(date).sheet().map_err(super::unpriced)?;
        folder.pdf("estimate.pdf", io, |out| pdf::estimate(&sheet, paper, out))?;
        tell_stale(&sheet.estimate, date, io)?;
        exit = exit.max(estimate::tell_lacking(&sheet, io)?);
        if !job.rates.is_owner() {
            // What keeps an offer back keeps no other paper back.
            let estimate = sheet.estimate.clone();
            let offered = quote::quote_of(&job, estimate, args.level, &[], date, io);
            exit = exit.max(match offered {
                Err(failure) => failure.tell(io.err),
                Ok(offer) => {
                    let plan = drawings.of_kinds(quote::is_drawn);
                    folder.pdf("quote.pdf", io, |out| {
                        pdf::quote(&offer, &leaves(&plan, paper)?, paper, out)
                    })?;
                    quote::tell_lacking(&offer, io)?
                }
            });
        }
    }
    if let Some(rates) = args
        .prices
        .rates
        .as_ref()
        .filter(|_| !args.compared.systems.is_empty())
    {
        let asked = compare::Asked {
            job: &args.job,
            systems: &args.compared.systems,
            catalog: &args.prices.catalog,
            rates,
            buying: &args.buying,
            own: &args.own,
            date,
        };
        let (comparison, _) = compare::comparison(&asked, io)?;
        folder.pdf("compare.pdf", io, |out| {
            pdf::compare(&comparison, paper, out)
        })?;
        exit = exit.max(compare::tell_open(&comparison, io)?);
    }
    tell_unprintable(folder.unprintable, io)?;
    Ok(exit)
}

/// Every drawing of a job, drawn once, with the kind that it is of.
struct Drawings(Vec<(&'static str, Sheet)>);

impl Drawings {
    fn of(job: &Counted) -> Self {
        let scene = job.scene();
        let of_kind = |drawing: &Drawing| {
            let word = drawing.word;
            let sheets = (drawing.sheets)(&scene).into_iter();
            sheets.map(move |sheet| (word, sheet))
        };
        Self(DRAWINGS.iter().flat_map(of_kind).collect())
    }

    fn of_kinds(&self, wanted: impl Fn(&str) -> bool) -> Vec<Sheet> {
        let kept = self.0.iter().filter(|(word, _)| wanted(word));
        kept.map(|(_, sheet)| sheet.clone()).collect()
    }
}

/// Where papers go.
struct Folder<'a> {
    path: &'a Path,
    inputs: Vec<&'a Path>,
    /// The characters that the fonts of the PDFs lack.
    unprintable: BTreeSet<char>,
}

impl Folder<'_> {
    fn file(
        &self,
        name: &str,
        io: &mut Io<'_>,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Failure> {
        deliver(Some(&self.path.join(name)), &self.inputs, io, content)
    }

    fn pdf(
        &mut self,
        name: &str,
        io: &mut Io<'_>,
        content: impl FnOnce(&mut dyn Write) -> io::Result<BTreeSet<char>>,
    ) -> Result<(), Failure> {
        let mut lacking = BTreeSet::new();
        self.file(name, io, |out| {
            lacking = content(out)?;
            Ok(())
        })?;
        self.unprintable.append(&mut lacking);
        Ok(())
    }
}
