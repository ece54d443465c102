//! `estimate`: the contractor's own side of a quote, which no customer sees.

use super::priced::PricedJob;
use super::{deliver_paper, paper, paper_format, tell_open, tell_stale, unpriced};
use crate::args::{BookFormat, Priced};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use pricing::estimate::EstimateSheet;
use std::collections::BTreeSet;

pub(super) fn run(args: &Priced, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.form.print, BookFormat::Text, "estimate")?;
    let job = PricedJob::read(args, io)?;
    let date = args.form.date.unwrap_or_else(io.today);
    let sheet = job.inputs(date).sheet().map_err(unpriced)?;

    let inputs = std::iter::once(&args.job)
        .chain(&job.files)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            BookFormat::Text => output::terminal::estimate(&sheet, width, out)?,
            BookFormat::Csv => output::csv::estimate(&sheet, out)?,
            BookFormat::Json => output::json::estimate(&sheet, out)?,
            BookFormat::Xlsx => {
                output::xlsx::estimate(&sheet, paper(args.form.paper), out)?;
            }
            BookFormat::Pdf => {
                return output::pdf::estimate(&sheet, paper(args.form.paper), out);
            }
        }
        Ok(BTreeSet::new())
    })?;
    tell_stale(&sheet.estimate, date, io)?;
    tell_lacking(&sheet, io)
}

/// How a command ends that writes this sheet, once it is told what the sheet lacks.
pub(super) fn tell_lacking(sheet: &EstimateSheet, io: &mut Io<'_>) -> Result<Exit, Failure> {
    if sheet.total.is_some() {
        return Ok(Exit::Done);
    }
    tell_open(&sheet.estimate.missing, &sheet.unrated, io)
}
