//! `shop`: what to buy, for the owner who stands in the store.

use super::counted::{Asked, Counted};
use super::{deliver_paper, paper, paper_format, tell_missing};
use crate::args::{BookFormat, Shop, ShopBy};
use crate::exit::{Exit, Failure};
use crate::{Io, output};
use pricing::shop::{By, ShoppingList};
use std::collections::BTreeSet;

pub(super) fn run(args: &Shop, io: &mut Io<'_>) -> Result<Exit, Failure> {
    let format = paper_format(&args.form.print, BookFormat::Text, "shop")?;
    let asked = Asked {
        job: &args.job,
        catalog: &args.catalog,
        rates: args.rates.as_deref(),
        buying: &args.buying,
        currency: args.currency,
        own: &args.own,
    };
    let job = Counted::read(&asked, io)?;
    let by = match args.by {
        ShopBy::Aisle => By::Aisle,
        ShopBy::Supplier => By::Supplier,
    };
    let list = job.list(by, args.form.date.unwrap_or_else(io.today))?;

    let inputs = std::iter::once(&args.job)
        .chain(&job.figures.files)
        .chain(args.own.files());
    let width = io.width;
    deliver_paper(&args.form, inputs, io, |out| {
        match format {
            BookFormat::Text => output::terminal::shop(&list, width, out)?,
            BookFormat::Csv => output::csv::shop(&list, out)?,
            BookFormat::Json => output::json::shop(&list, out)?,
            BookFormat::Xlsx => {
                output::xlsx::shop(&list, paper(args.form.paper), out)?;
            }
            BookFormat::Pdf => return output::pdf::shop(&list, paper(args.form.paper), out),
        }
        Ok(BTreeSet::new())
    })?;
    tell_open(&list, io)
}

/// Tells which prices keep a list from its total, and ends so.
pub(super) fn tell_open(list: &ShoppingList, io: &mut Io<'_>) -> Result<Exit, Failure> {
    if list.missing.is_empty() {
        return Ok(Exit::Done);
    }
    writeln!(io.err, "a price is missing: the total is open")?;
    tell_missing(&list.missing, io)?;
    Ok(Exit::Stopped)
}
