//! The quote on paper: first what the customer reads in two minutes, then the drawings,
//! the lines, what was taken as given, and the signatures.

mod beside;
mod closing;
mod front;
mod prices;

use super::imprint::Imprint;
use super::page::Sheets;
use super::{Leaf, Paper, blocks, lists};
use crate::output::words::{self, INCOMPLETE};
use pricing::quote::Quote;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Writes the quote as PDF, with these drawings behind its first page, and gives back the
/// characters that the fonts lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn quote(
    quote: &Quote,
    drawings: &[Leaf],
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<BTreeSet<char>> {
    let imprint = imprint(quote);
    imprint.write(paper, out, |sheets| draw(sheets, quote, drawings))
}

fn imprint(quote: &Quote) -> Imprint<'_> {
    Imprint {
        kind: "Quote",
        title: &quote.title,
        revision: &quote.revision,
        fingerprint: &quote.fingerprint,
        date: quote.date,
        author: &quote.company.name,
        foot: &quote.company.name,
        warning: quote.total.is_none().then_some(INCOMPLETE),
    }
}

fn draw(sheets: &mut Sheets, quote: &Quote, drawings: &[Leaf]) {
    blocks::parties(sheets, &quote.company, &quote.customer);
    imprint(quote).name(sheets);
    front::dates(sheets, quote);
    front::missing(sheets, quote);
    lists::list(sheets, "Scope", &quote.scope);
    // The sums of the sections come again with the lines: they give way to what must
    // stand on the first page.
    let front = |sheets: &mut Sheets, sections| {
        prices::summary(sheets, quote, sections);
        prices::payment(sheets, quote);
        front::next(sheets, quote);
    };
    sheets.either(|sheets| front(sheets, true), |sheets| front(sheets, false));
    for drawing in drawings {
        sheets.leaf(drawing);
    }
    front::outlets(sheets, quote);
    beside::options(sheets, quote);
    beside::alternates(sheets, quote);
    beside::added(sheets, quote);
    prices::lines(sheets, quote);
    let terms = words::quote::terms(quote);
    let said = [
        ("Terms", terms.as_slice()),
        ("Assumptions", &quote.assumptions),
        ("Exclusions", &quote.exclusions),
        ("Cautions", &quote.cautions),
        ("Notices", &quote.notices),
    ];
    lists::closing(sheets, &said, |sheets| closing::acceptance(sheets, quote));
}

#[cfg(test)]
mod tests;
