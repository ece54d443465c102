//! `quote`: from a job, prices and rates to the customer's paper.

use super::priced::PricedJob;
use super::{deliver_paper, format_of, needs_file, paper, tell_open, unpriced};
use crate::args::{BookFormat, Priced};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use std::collections::BTreeSet;

pub(super) fn run(args: &Priced, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = format_of(args.form.format, args.form.out.as_deref(), BookFormat::Text)?;
    needs_file(format, args.form.out.as_deref(), "quote")?;
    let job = PricedJob::read(args, io)?;
    if job.rates.is_owner() {
        return Err(Failure::Untold(
            Exit::Stopped,
            "these rates are for your own work (they have no `wage`, or say `owner = true`), and \
             own work is not offered to a customer: `estimate` and `shop` say what it costs"
                .to_owned(),
        ));
    }
    let date = args.form.date.unwrap_or_else(io.today);
    let quote = job.inputs(date).quote().map_err(unpriced)?;

    let inputs = [&args.job, &args.rates]
        .into_iter()
        .chain(job.list_files())
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            BookFormat::Text => output::terminal::quote(&quote, width, out)?,
            BookFormat::Csv => output::csv::quote(&quote, out)?,
            BookFormat::Json => output::json::quote(&quote, out)?,
            BookFormat::Xlsx => {
                output::xlsx::quote(&quote, paper(args.form.paper), out)?;
            }
            BookFormat::Pdf => return output::pdf::quote(&quote, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    if quote.total.is_some() {
        return Ok(Exit::Done);
    }
    tell_open(&quote.missing, &quote.unrated, io)
}
