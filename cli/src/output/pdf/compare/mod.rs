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

/// The column of labels, left of the table, the bars and the wages.
const LABELS: f32 = 126.0;
/// Holes of an option; the rest stands on its quote.
const HOLES: usize = 6;

fn pages(comparison: &Comparison, paper: Paper, fonts: &Fonts) -> (Vec<PdfPage>, BTreeSet<char>) {
    let mut sheets = Sheets::new(fonts, paper);
    sheets.advance(-14.0);
    name(&mut sheets, comparison);
    holes(&mut sheets, comparison);
    grid::draw(&mut sheets, comparison);
    bars::draw(&mut sheets, comparison);
    break_even(&mut sheets, comparison);
    sheets.gap(9.0);
    notes::columns(&mut sheets, &weighs(comparison), &cautions(comparison));
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
        let mut holes = words::compare_holes(option);
        if let Some(more) = holes.len().checked_sub(HOLES).filter(|more| *more > 0) {
            holes.truncate(HOLES);
            holes.push(format!("and {more} more, which its own quote lists"));
        }
        let width = sheets.right() - left - 10.0;
        for hole in holes {
            for line in sheets.fonts.wrap(SMALL, &hole, width) {
                sheets.need(SMALL.leading);
                sheets.text(SMALL, left, &line);
                sheets.advance(SMALL.leading);
            }
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
    let left = sheets.left();
    sheets.text(STRONG, left, words::BREAK_EVEN);
    for line in &lines {
        sheets.paragraph(BODY, left + LABELS, line);
    }
}

fn weighs(comparison: &Comparison) -> Vec<Note> {
    let options = comparison.options.iter();
    let mut notes: Vec<Note> = options
        .filter_map(|option| {
            let movers = words::movers(option.figures.as_ref().ok()?);
            (!movers.is_empty()).then(|| Note::Fact(option.system.clone(), movers.join("; ")))
        })
        .collect();
    if !notes.is_empty() {
        notes.insert(0, Note::Head(words::MOVERS));
    }
    notes.push(Note::Head("Taken as given"));
    notes.extend(comparison.assumptions.iter().cloned().map(Note::Item));
    notes.extend(run_on("Notices", &comparison.notices));
    notes
}

fn cautions(comparison: &Comparison) -> Vec<Note> {
    // Those of a system are no whole sentences.
    let own = comparison.options.iter().filter_map(|option| {
        let cautions = words::own_cautions(option).join("; ");
        (!cautions.is_empty()).then(|| Note::Fact(option.system.clone(), cautions))
    });
    run_on("Cautions", &comparison.cautions)
        .into_iter()
        .chain(own)
        .collect()
}

#[cfg(test)]
mod tests;
