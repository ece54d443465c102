//! `cut`: which piece is cut from which stick.

use super::counted::{Asked, Counted};
use super::figures::currency_of;
use super::{deliver_paper, paper, paper_format, stopped};
use crate::args::{Buying, Cut, PaperFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, fingerprint, output, report};
use bom::cutting::CutError;
use bom::finding::{Finding, stops};
use bom::quantity::{Length, Units};
use bom::source::Source;
use pricing::cut_sheet::{CutSheet, Heading, cut_list, list};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The saw cut of a list that does not say one.
const USUAL_KERF: Length = Length::from_mm(3);

pub(super) fn run(args: &Cut, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.form.print, PaperFormat::Text, "cut")?;
    let (sheet, files) = match (&args.job, &args.pieces, &args.stock) {
        (Some(job), _, _) => of_job(args, job, io)?,
        (None, Some(pieces), Some(stock)) => (of_list(args, pieces, stock, io)?, Vec::new()),
        _ => {
            return Err(Failure::Untold(
                Exit::Unreadable,
                "give a job file, or --pieces and --stock".to_owned(),
            ));
        }
    };
    let inputs = [&args.job, &args.pieces, &args.stock, &args.offcuts]
        .into_iter()
        .flatten()
        .chain(&files)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            PaperFormat::Text => output::terminal::cut(&sheet, width, out)?,
            PaperFormat::Csv => output::csv::cut(&sheet, out)?,
            PaperFormat::Json => output::json::cut(&sheet, out)?,
            PaperFormat::Pdf => return output::pdf::cut(&sheet, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    Ok(Exit::Done)
}

/// The sheet, and the files of the price lists.
fn of_job(args: &Cut, job: &Path, io: &mut Io<'_>) -> Result<(CutSheet, Vec<PathBuf>), Failure> {
    let asked = Asked {
        job,
        catalog: &args.catalog,
        rates: None,
        buying: &Buying::default(),
        currency: args.currency,
        own: &args.own,
    };
    let counted = Counted::read(&asked, io)?;
    let offcuts = match &args.offcuts {
        Some(path) => {
            let source = files::read(path)?;
            let systems = counted.library.systems().iter();
            let systems: Vec<&str> = systems
                .filter(|system| system.carries_main)
                .map(|system| system.name.as_str())
                .collect();
            let offcuts = list::offcuts(&source, counted.plan.summary.units, &systems);
            told(offcuts, &source, io)?
        }
        None => BTreeMap::new(),
    };
    let date = args.form.date.unwrap_or_else(io.today);
    Ok((
        counted.cut_sheet(args.kerf, offcuts, date)?,
        counted.figures.files,
    ))
}

fn of_list(args: &Cut, pieces: &Path, stock: &Path, io: &mut Io<'_>) -> Result<CutSheet, Failure> {
    let (pieces, stock) = (files::read(pieces)?, files::read(stock)?);
    let currency = currency_of(args.currency, &[])?;
    let wanted = told(list::pieces(&pieces, Units::Feet), &pieces, io);
    let sticks = told(list::stock(&stock, Units::Feet, currency), &stock, io);
    let heading = Heading {
        title: pieces.name().to_owned(),
        revision: String::new(),
        fingerprint: fingerprint::of(&[&pieces], &[&stock]),
        date: args.form.date.unwrap_or_else(io.today),
        units: Units::Metric,
    };
    let kerf = args.kerf.unwrap_or(USUAL_KERF);
    cut_list(heading, kerf, &wanted?, &sticks?, currency)
        .map_err(|error| cannot(&error.to_string(), error))
}

/// What was read, once its findings are told and none stops the command.
fn told<T>(
    (value, findings): (T, Vec<Finding>),
    source: &Source,
    io: &mut Io<'_>,
) -> Result<T, Failure> {
    report::print(&findings, source, io.err)?;
    if stops(&findings) {
        return Err(stopped(&findings, "nothing was cut"));
    }
    Ok(value)
}

pub(super) fn cannot(message: &str, error: CutError) -> Failure {
    let exit = match error {
        CutError::PieceTooLong { .. } | CutError::OutOfStock { .. } => Exit::Stopped,
        CutError::NotALength(_) | CutError::TooLarge => Exit::Unreadable,
    };
    Failure::Untold(exit, message.to_owned())
}
