//! The cut sheet on paper: every stick drawn to scale with its pieces.

use super::Paper;
use super::blocks;
use super::fonts::{BODY, SMALL, STRONG};
use super::imprint::Imprint;
use super::page::Sheets;
use super::table::{Align, Row, Table};
use crate::output::words;
use bom::quantity::Length;
use pricing::cut_sheet::{CutSection, CutSheet, CutStick};
use std::collections::BTreeSet;
use std::io::{self, Write};

/// How tall a stick is drawn.
const BAR: f32 = 15.0;

/// Writes the cut sheet as PDF and gives back the characters that the fonts
/// lack, which are printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn cut(sheet: &CutSheet, paper: Paper, out: &mut dyn Write) -> io::Result<BTreeSet<char>> {
    let heading = &sheet.heading;
    let imprint = Imprint {
        kind: "Cut sheet",
        title: &heading.title,
        revision: &heading.revision,
        fingerprint: &heading.fingerprint,
        date: heading.date,
        author: "",
        foot: "",
        warning: None,
    };
    imprint.write(paper, out, |sheets| {
        imprint.name(sheets);
        body(sheets, sheet);
    })
}

/// The sticks and the straights, under a name.
pub(super) fn body(sheets: &mut Sheets, sheet: &CutSheet) {
    sheets.advance(8.0);
    let left = sheets.left();
    sheets.paragraph(SMALL, left, &how(sheet));
    for section in &sheet.sections {
        draw(sheets, sheet, section);
    }
    straights(sheets, sheet);
}

/// How the drawings are to be read.
fn how(sheet: &CutSheet) -> String {
    if sheet.sections.is_empty() {
        return words::NOTHING_CUT.to_owned();
    }
    let labels = match sheet.straights.is_empty() {
        true => "",
        false => words::LABELS,
    };
    let kerf = words::cut_kerf(sheet);
    let how = format!("{kerf} What is left is hatched. {labels}");
    how.trim_end().to_owned()
}

fn draw(sheets: &mut Sheets, sheet: &CutSheet, section: &CutSection) {
    let units = sheet.heading.units;
    let (left, right) = (sheets.left(), sheets.right());
    sheets.gap(14.0);
    sheets.need(STRONG.leading + 60.0);
    let size = words::cut_size(sheet, &section.system, &section.size);
    sheets.bookmark(0, if size.is_empty() { "Sticks" } else { &size });
    sheets.paragraph(STRONG, left, &words::cut_summary(sheet, section));
    sheets.advance(4.0);
    let longest = section.sticks.iter().map(|stick| stick.stock).max();
    for (index, stick) in section.sticks.iter().enumerate() {
        let caption = words::cut_caption(index + 1, stick, units);
        let height = sheets.fonts.height(BODY, &caption, right - left);
        if sheets.need(height + BAR + 14.0) && !section.size.is_empty() {
            sheets.paragraph(STRONG, left, &format!("{size} (continued)"));
            sheets.advance(4.0);
        }
        sheets.paragraph(BODY, left, &caption);
        sheets.advance(3.0);
        bar(sheets, stick, longest.unwrap_or(stick.stock));
        sheets.advance(BAR + 9.0);
    }
}

/// Where every piece goes.
fn straights(sheets: &mut Sheets, sheet: &CutSheet) {
    if sheet.straights.is_empty() {
        return;
    }
    let align = [
        Align::Right,
        Align::Left,
        Align::Left,
        Align::Left,
        Align::Left,
    ];
    let columns: Vec<(&str, Align)> = words::STRAIGHT_HEADS.into_iter().zip(align).collect();
    let rows = sheet
        .straights
        .iter()
        .map(|straight| Row::Line(words::straight_row(sheet, straight)))
        .collect();
    let table = Table {
        columns: &columns,
        rows,
        ruled: false,
    };
    blocks::table(sheets, "Straights", &table);
}

fn bar(sheets: &mut Sheets, stick: &CutStick, longest: Length) {
    let (left, right) = (sheets.left(), sheets.right());
    let at = |length: Length| left + share(length, longest) * (right - left);
    let end = at(stick.stock);
    let mut begun = Length::ZERO;
    let top = sheets.down();
    for piece in &stick.pieces {
        let (from, to) = (at(begun), at(begun + piece.length).min(end));
        sheets.upright(from, BAR);
        let width = sheets.fonts.width(SMALL, &piece.label);
        if width + 3.0 < to - from {
            sheets.advance((BAR - SMALL.leading) / 2.0);
            sheets.text(SMALL, f32::midpoint(from, to) - width / 2.0, &piece.label);
            sheets.go_to(top);
        }
        begun += piece.length;
    }
    let cut = at(begun).min(end);
    sheets.upright(cut, BAR);
    sheets.hatch(cut, end, BAR);
    sheets.upright(end, BAR);
    sheets.rule(left, end);
    sheets.advance(BAR);
    sheets.rule(left, end);
    sheets.go_to(top);
}

#[expect(clippy::cast_possible_truncation, reason = "a place on paper")]
fn share(length: Length, whole: Length) -> f32 {
    (length.mm() / whole.mm().max(1.0)) as f32
}
