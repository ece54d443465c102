//! Pipe systems side by side on paper: the table, a bar for each, the wages at
//! which they meet, and what was taken as given.

mod bars;
mod grid;

use super::Paper;
use super::file::{self, About};
use super::fonts::{BODY, Fonts, LARGE, SMALL, STRONG, TITLE};
use super::notes::{self, Note, run_on};
use super::page::{Running, Sheets};
use super::words::{joined, marks};
use crate::output::words;
use pricing::compare::{CompareOption, Comparison};
use printpdf::PdfPage;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// Writes the comparison as PDF and gives back the characters that the fonts
/// lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn compare(
    comparison: &Comparison,
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<BTreeSet<char>> {
    let fonts = Fonts::load()?;
    let (pages, lacking) = pages(comparison, paper, &fonts);
    let about = About {
        title: &title(comparison),
        author: "",
        date: comparison.date,
    };
    file::write(pages, fonts.into_map(), &about, out)?;
    Ok(lacking)
}

fn pages(comparison: &Comparison, paper: Paper, fonts: &Fonts) -> (Vec<PdfPage>, BTreeSet<char>) {
    let mut sheets = Sheets::new(fonts, paper);
    sheets.advance(-14.0);
    name(&mut sheets, comparison);
    holes(&mut sheets, comparison);
    grid::draw(&mut sheets, comparison);
    bars::draw(&mut sheets, comparison);
    break_even(&mut sheets, comparison);
    sheets.gap(9.0);
    notes::columns(&mut sheets, &given(comparison), &weighs(comparison));
    let open = comparison
        .options
        .iter()
        .any(|option| option.total().is_none());
    sheets.finish(&Running {
        title: title(comparison),
        marks: marks(
            fonts,
            &comparison.revision,
            &comparison.fingerprint,
            comparison.date,
        ),
        foot: String::new(),
        warning: open.then_some(words::NOT_COMPARED),
    })
}

fn title(comparison: &Comparison) -> String {
    joined(&["Comparison", comparison.title.trim()], ": ")
}

fn name(sheets: &mut Sheets, comparison: &Comparison) {
    let left = sheets.left();
    sheets.text(TITLE, left, "Comparison");
    // The smaller title stands on the same line of type.
    sheets.advance(6.2);
    let x = left + sheets.fonts.width(TITLE, "Comparison") + 14.0;
    sheets.paragraph(LARGE, x, &comparison.title);
    sheets.advance(5.0);
    sheets.paragraph(SMALL, left, &comparison.scope);
    sheets.advance(6.0);
}

/// The loud hole: every option without a total, and why.
fn holes(sheets: &mut Sheets, comparison: &Comparison) {
    let open = comparison.options.iter();
    let open: Vec<&CompareOption> = open.filter(|option| option.total().is_none()).collect();
    if open.is_empty() {
        return;
    }
    let left = sheets.left() + 10.0;
    sheets.open_frame();
    sheets.banner(LARGE, words::NOT_COMPARED);
    sheets.advance(3.0);
    for option in open {
        sheets.paragraph(STRONG, left, &option.title);
        for hole in words::compare_holes(option) {
            sheets.paragraph(SMALL, left, &hole);
        }
        sheets.advance(2.0);
    }
    sheets.advance(3.0);
    sheets.close_frame();
    sheets.gap(8.0);
}

fn break_even(sheets: &mut Sheets, comparison: &Comparison) {
    let lines = words::break_even(comparison);
    if lines.is_empty() {
        return;
    }
    sheets.gap(8.0);
    sheets.need(3.0 * BODY.leading);
    let (left, inner) = (sheets.left(), sheets.inner());
    sheets.text(STRONG, left, words::BREAK_EVEN);
    for line in &lines {
        sheets.paragraph(BODY, inner, line);
    }
}

fn given(comparison: &Comparison) -> Vec<Note> {
    let head = Note::Head("Taken as given");
    let items = comparison.assumptions.iter().cloned().map(Note::Item);
    std::iter::once(head).chain(items).collect()
}

fn weighs(comparison: &Comparison) -> Vec<Note> {
    let options = comparison.options.iter();
    let mut movers: Vec<Note> = options
        .filter_map(|option| {
            let movers = words::movers(option.figures.as_ref().ok()?);
            run_on(&option.system, &[movers.join("; ")]).filter(|_| !movers.is_empty())
        })
        .collect();
    if !movers.is_empty() {
        movers.insert(0, Note::Head(words::MOVERS));
    }
    movers.extend(run_on("Cautions", &comparison.cautions));
    movers.extend(run_on("Notices", &comparison.notices));
    movers
}

#[cfg(test)]
mod tests;
