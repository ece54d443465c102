//! The quote on paper: first what the customer reads in two minutes, then the
//! lines, then what was taken as given, then the signatures.

mod beside;
mod closing;
mod front;
mod prices;

use super::Paper;
use super::file::{self, About};
use super::fonts::{BODY, Fonts, STRONG};
use super::page::{Running, Sheets};
use super::words::{day, joined, labelled, marks};
use crate::output::words::{self, INCOMPLETE};
use pricing::quote::Quote;
use printpdf::PdfPage;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Between two blocks.
const BLOCK_GAP: f32 = 13.0;

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
    front::parties(&mut sheets, quote);
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
    closing::list(&mut sheets, "Terms", &words::quote::terms(quote));
    closing::list(&mut sheets, "Assumptions", &quote.assumptions);
    closing::list(&mut sheets, "Exclusions", &quote.exclusions);
    closing::list(&mut sheets, "Cautions", &quote.cautions);
    closing::list(&mut sheets, "Notices", &quote.notices);
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

/// Begins a block whose heading stands beside its text.
fn block(sheets: &mut Sheets, label: &str) {
    block_of(sheets, label, 3.0 * BODY.leading);
}

/// The same, for a block that needs `height` on one sheet.
fn block_of(sheets: &mut Sheets, label: &str, height: f32) {
    sheets.gap(BLOCK_GAP);
    sheets.need(height + 6.0);
    let (left, right) = (sheets.left(), sheets.right());
    if !sheets.at_top() {
        sheets.rule(left, right);
        sheets.advance(6.0);
    }
    sheets.text(STRONG, left, label);
}

/// Begins a block whose heading stands above it.
fn heading(sheets: &mut Sheets, label: &str) {
    block_of(sheets, label, 6.0 * BODY.leading);
    sheets.advance(STRONG.leading + 4.0);
}

#[cfg(test)]
mod tests;
