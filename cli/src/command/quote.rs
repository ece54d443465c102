//! `quote`: from a job, prices and rates to the customer's paper.

use super::priced::PricedJob;
use super::{beside, deliver_paper, paper, paper_format, tell_open, tell_stale, unpriced};
use crate::args::{self, BookFormat, ShowLevel};
use crate::exit::{Exit, Failure};
use crate::output::pdf::leaves;
use crate::{Io, output};
use jiff::civil::Date;
use pricing::estimate::Estimate;
use pricing::quote::{Level, Quote};
use std::collections::BTreeSet;

pub(super) fn run(args: &args::Quote, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let (level, option) = (args.level, &args.option);
    let args = &args.priced;
    let format = paper_format(&args.form.print, BookFormat::Text, "quote")?;
    let job = PricedJob::read(args, io)?;
    let date = args.form.date.unwrap_or_else(io.today);
    let estimate = job.inputs(date).estimate().map_err(unpriced)?;
    tell_stale(&estimate, date, io)?;
    let quote = quote_of(&job, estimate, level, option, date, io)?;
    let inputs = std::iter::once(&args.job)
        .chain(&job.files)
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
            BookFormat::Pdf => {
                let (drawn, paper) = (job.scene().sheets(is_drawn), paper(args.form.paper));
                return output::pdf::quote(&quote, &leaves(&drawn, paper)?, paper, out);
            }
        }
        Ok(BTreeSet::new())
    })?;
    tell_lacking(&quote, io)
}

/// The quote of a job, with all that is offered beside it.
pub(super) fn quote_of(
    job: &PricedJob,
    estimate: Estimate,
    level: ShowLevel,
    option: &[(String, String)],
    date: Date,
    io: &mut Io<'_>,
) -> Result<Quote, Failure> {
    if job.rates.is_owner() {
        return Err(Failure::Untold(
            Exit::Stopped,
            "these rates are for your own work (they have no `wage`, or say `owner = true`), and \
             own work is not offered to a customer: `estimate` and `shop` say what it costs"
                .to_owned(),
        ));
    }
    job.is_measured(io)?;
    let options = beside::asked(job, option)?;
    let mut quote = job.inputs(date).quote_of(estimate).map_err(unpriced)?;
    quote.level = match level {
        ShowLevel::Sum => Level::Sum,
        ShowLevel::Sections => Level::Sections,
        ShowLevel::Lines => Level::Lines,
    };
    if quote.total.is_some() {
        quote.added = beside::added(job, &quote, date)?;
    }
    quote.alternates = beside::alternates(job, &quote, date)?;
    quote.options = beside::options(job, &options, &quote, date)?;
    Ok(quote)
}

/// How a command ends that offers this quote, once it is told what the quote lacks.
pub(super) fn tell_lacking(quote: &Quote, io: &mut Io<'_>) -> Result<Exit, Failure> {
    if quote.total.is_some() {
        return tell_beside(quote, io);
    }
    tell_open(&quote.missing, &quote.unrated, io)
}

/// Whether a quote shows this kind of drawing: the plan, on which the numbered outlets
/// of its table stand.
pub(super) fn is_drawn(word: &str) -> bool {
    word == "plan"
}

/// Tells what of the offers beside the job has no price. One more drop is an answer to a
/// question that nobody may ask, and stops nothing.
fn tell_beside(quote: &Quote, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let drops = quote.added.iter().flat_map(|added| &added.drops);
    for drop in drops {
        if let Err(reason) = &drop.price {
            writeln!(io.err, "one more {} drop has no price: {reason}", drop.kind)?;
        }
    }
    let alternates = quote.alternates.iter();
    let alternates = alternates.map(|one| ("alternate", &one.name, &one.price));
    let options = quote.options.iter().flat_map(|options| &options.options);
    let options = options.map(|one| ("option", &one.name, &one.total));
    let mut exit = Exit::Done;
    for (what, name, price) in alternates.chain(options) {
        if let Err(reason) = price {
            writeln!(io.err, "{what} {name} has no price: {reason}")?;
            exit = Exit::Stopped;
        }
    }
    Ok(exit)
}
