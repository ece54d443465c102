//! `change`: the change order between two revisions of a job.

use super::counted::Counted;
use super::figures::{Figures, Named};
use super::priced::PricedJob;
use super::{both, deliver_paper, library, paper, paper_format, tell_missing};
use crate::args::{Change, PaperFormat};
use crate::exit::{Exit, Failure};
use crate::{Io, files, output};
use bom::library::Library;
use jiff::civil::Date;
use pricing::change::{self, ChangeError, Revision};
use std::collections::BTreeSet;

pub(super) fn run(args: &Change, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.form.print, PaperFormat::Text, "change")?;
    let (library, own) = library(&args.own, io)?;
    let sources = both(files::read(&args.old), files::read(&args.new), io)?;
    let (figures, old_figures) = figures(args, &library, io);
    let old = Counted::of(&sources.0, old_figures, &library, &own, io);
    let new = Counted::of(&sources.1, figures, &library, &own, io);
    let (old, new) = both(old, new, io)?;
    let (old, new) = (PricedJob::of(old)?, PricedJob::of(new)?);
    if old.rates.is_owner() || new.rates.is_owner() {
        return Err(Failure::Untold(
            Exit::Stopped,
            "these rates are for your own work (they have no `wage`, or say `owner = true`), and \
             own work is not offered to a customer: `estimate` says what each revision costs"
                .to_owned(),
        ));
    }
    let date = args.form.date.unwrap_or_else(io.today);
    let (was, is) = (revision(&old, date), revision(&new, date));
    let change = change::change(&was, &is, &library, &args.reason);
    let change = change.map_err(failed)?;

    let inputs = [&args.old, &args.new]
        .into_iter()
        .chain(&new.files)
        .chain(&old.files)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            PaperFormat::Text => output::terminal::change(&change, width, out)?,
            PaperFormat::Csv => output::csv::change(&change, out)?,
            PaperFormat::Json => output::json::change(&change, out)?,
            PaperFormat::Pdf => return output::pdf::change(&change, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    for warning in &change.warnings {
        writeln!(io.err, "warning: {warning}")?;
    }
    if change.totals.is_some() {
        return Ok(Exit::Done);
    }
    tell_open(&change, io)
}

/// Price lists and rates of the new revision, and of the old one: the same where
/// nothing else is named.
fn figures(
    args: &Change,
    library: &Library,
    io: &mut Io<'_>,
) -> (Result<Figures, Failure>, Result<Figures, Failure>) {
    let named = Named {
        catalog: &args.by.catalog,
        rates: Some(&args.by.rates),
        buying: &args.by.buying,
        currency: None,
    };
    let new = Figures::read(named, library, io);
    if args.old_catalog.is_empty() && args.old_rates.is_none() {
        let old = match &new {
            Ok(figures) => Ok(figures.clone()),
            Err(_) => Err(Failure::Told(Exit::Done)),
        };
        return (new, old);
    }
    let catalog = match args.old_catalog.is_empty() {
        true => &args.by.catalog,
        false => &args.old_catalog,
    };
    let rates = args.old_rates.as_deref().or(named.rates);
    let old = Figures::read(
        Named {
            catalog,
            rates,
            ..named
        },
        library,
        io,
    );
    (new, old)
}

fn revision(job: &PricedJob, date: Date) -> Revision<'_> {
    Revision {
        inputs: job.inputs(date),
        plan: &job.plan,
    }
}

fn failed(error: ChangeError) -> Failure {
    let exit = match error {
        ChangeError::Money(_) => Exit::Stopped,
        ChangeError::DoesNotAddUp { .. } => Exit::Outside,
    };
    Failure::Untold(exit, error.to_string())
}

/// Tells what keeps the change from its sum, and ends so.
fn tell_open(change: &change::Change, io: &mut Io<'_>) -> Result<Exit, Failure> {
    writeln!(io.err, "the price is incomplete: no difference is stated")?;
    let (missing, unrated) = (&change.missing, &change.unrated);
    for (name, missing, unrated) in [
        ("old", &missing.old, &unrated.old),
        ("new", &missing.new, &unrated.new),
    ] {
        if missing.is_empty() && unrated.is_empty() {
            continue;
        }
        writeln!(io.err, "the {name} revision lacks:")?;
        for work in unrated {
            writeln!(io.err, "  {work}")?;
        }
        if !missing.is_empty() {
            tell_missing(missing, io)?;
        }
    }
    Ok(Exit::Stopped)
}
