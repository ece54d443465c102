//! The quote on paper: first what the customer reads in two minutes, then the
//! lines, then what was taken as given, then the signatures.

mod beside;
mod closing;
mod front;
mod prices;

use super::Paper;
use super::blocks;
use super::file::{self, About};
use super::fonts::Fonts;
use super::page::{Running, Sheets};
use super::words::{joined, marks};
use crate::output::words::{self, INCOMPLETE};
use pricing::quote::Quote;
use printpdf::PdfPage;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Writes the quote as PDF and gives back the characters that the fonts lack,
/// which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn quote(quote: &Quote, paper: Paper, out: &mut dyn Write) -> io::Result<BTreeSet<char>> {
    let fonts = Fonts::load()?;
    let (pages, lacking) = pages(quote, paper, &fonts);
    let about = About {
        title: &title(quote),
        author: &quote.company.name,
        date: quote.date,
    };
    file::write(pages, fonts.into_map(), &about, out)?;
    Ok(lacking)
}

/// The pages, and the characters that the fonts lack.
fn pages(quote: &Quote, paper: Paper, fonts: &Fonts) -> (Vec<PdfPage>, BTreeSet<char>) {
    let mut sheets = Sheets::new(fonts, paper);
    blocks::parties(&mut sheets, &quote.company, &quote.customer);
    front::name(&mut sheets, quote);
    front::missing(&mut sheets, quote);
    front::scope(&mut sheets, quote);
    prices::summary(&mut sheets, quote);
    front::outlets(&mut sheets, quote);
    prices::lines(&mut sheets, quote);
    prices::payment(&mut sheets, quote);
    beside::options(&mut sheets, quote);
    beside::alternates(&mut sheets, quote);
    beside::added(&mut sheets, quote);
    blocks::list(&mut sheets, "Terms", &words::quote::terms(quote));
    blocks::list(&mut sheets, "Assumptions", &quote.assumptions);
    blocks::list(&mut sheets, "Exclusions", &quote.exclusions);
    blocks::list(&mut sheets, "Cautions", &quote.cautions);
    blocks::list(&mut sheets, "Notices", &quote.notices);
    closing::acceptance(&mut sheets, quote);
    sheets.finish(&Running {
        title: title(quote),
        marks: marks(fonts, &quote.revision, &quote.fingerprint, quote.date),
        foot: quote.company.name.clone(),
        warning: quote.total.is_none().then_some(INCOMPLETE),
    })
}

fn title(quote: &Quote) -> String {
    joined(&["Quote", quote.title.trim()], ": ")
}

#[cfg(test)]
mod tests;
