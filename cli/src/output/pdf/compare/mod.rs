//! Pipe systems side by side on paper: the table, a bar for each, the wages at
//! which they meet, and what was taken as given.

mod bars;
mod grid;

use super::Paper;
use super::fonts::{LARGE, SMALL, STRONG};
use super::imprint::Imprint;
use super::notes::{self, Note, run_on};
use super::page::Sheets;
use crate::output::words;
use pricing::compare::{CompareOption, Comparison};
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
    let open = comparison.options.iter();
    let open = open.filter(|option| option.total().is_none()).count() > 0;
    let imprint = Imprint {
        kind: "Comparison",
        title: &comparison.title,
        revision: &comparison.revision,
        fingerprint: &comparison.fingerprint,
        date: comparison.date,
        author: "",
        foot: "",
        warning: open.then_some(words::NOT_COMPARED),
    };
    imprint.write(paper, out, |sheets| {
        sheets.advance(-14.0);
        imprint.name(sheets);
        let left = sheets.left();
        sheets.advance(5.0);
        sheets.paragraph(SMALL, left, &comparison.scope);
        sheets.advance(6.0);
        holes(sheets, comparison);
        grid::draw(sheets, comparison);
        bars::draw(sheets, comparison);
        sheets.gap(9.0);
        notes::balanced(sheets, &self::notes(comparison));
    })
}

/// The column of labels, left of the table, the bars and the wages.
const LABELS: f32 = 126.0;
/// Holes of an option; the rest stands on its quote.
const HOLES: usize = 6;

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

/// What weighs, what was taken as given, and of what to beware.
fn notes(comparison: &Comparison) -> Vec<Note> {
    let mut notes = headed(
        words::BREAK_EVEN,
        words::break_even(comparison).into_iter().map(Note::Item),
    );
    let options = comparison.options.iter();
    let movers = options.filter_map(|option| {
        let movers = words::movers(option.figures.as_ref().ok()?);
        (!movers.is_empty()).then(|| Note::Fact(option.system.clone(), movers.join("; ")))
    });
    notes.extend(headed(words::MOVERS, movers));
    let given = comparison.assumptions.iter().cloned().map(Note::Item);
    notes.extend(headed("Taken as given", given));
    notes.extend(run_on("Notices", &comparison.notices));
    notes.extend(run_on("Cautions", &comparison.cautions));
    // Those of a system are no whole sentences.
    notes.extend(comparison.options.iter().filter_map(|option| {
        let cautions = words::own_cautions(option).join("; ");
        (!cautions.is_empty()).then(|| Note::Fact(option.system.clone(), cautions))
    }));
    notes
}

fn headed(head: &'static str, notes: impl Iterator<Item = Note>) -> Vec<Note> {
    let mut notes: Vec<Note> = notes.collect();
    if !notes.is_empty() {
        notes.insert(0, Note::Head(head));
    }
    notes
}

#[cfg(test)]
mod tests;
