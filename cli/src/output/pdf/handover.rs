//! The sheets of a handover on paper: the card has a page of its own, the others follow each
//! other where a page holds them.

use super::Paper;
use super::blanks::filled;
use super::blocks;
use super::fonts::{BODY, LARGE, SMALL, STRONG};
use super::imprint::Imprint;
use super::page::Sheets;
use super::table::{Align, Row, Table};
use bom::handover::{Part, Sheet};
use jiff::civil::Date;
use std::collections::BTreeSet;
use std::io::{self, Write};

/// The side of a box.
const BOX: f32 = 9.0;
/// From the left margin to the words of a point.
const WORDS: f32 = 16.0;
/// Between two sheets on one page.
const BETWEEN: f32 = 30.0;
/// Between two points, or two paragraphs.
const GAP: f32 = 4.0;

/// What a handover on paper is made of.
#[derive(Debug)]
pub struct HandoverPaper<'a> {
    /// The job.
    pub title: &'a str,
    /// Its revision; empty if it has none.
    pub revision: &'a str,
    /// The mark of its layout.
    pub fingerprint: &'a str,
    /// The day on the paper.
    pub date: Date,
    /// The sheets.
    pub sheets: &'a [Sheet],
}

/// Writes the sheets as PDF and gives back the characters that the fonts lack, which are
/// printed as `?`.
///
/// # Errors
/// Those of `out`.
pub fn handover(
    of: &HandoverPaper<'_>,
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<BTreeSet<char>> {
    let imprint = Imprint {
        kind: "Handover",
        title: of.title,
        revision: of.revision,
        fingerprint: of.fingerprint,
        date: of.date,
        author: "",
        foot: "",
        warning: None,
    };
    imprint.write(paper, out, |sheets| {
        let mut after_card = false;
        for sheet in of.sheets {
            let whole = |sheets: &mut Sheets| {
                blocks::name(sheets, sheet.title, of.title);
                sheets.advance(GAP);
                draw(sheets, sheet);
            };
            let fresh = |sheets: &mut Sheets| {
                sheets.need(sheets.whole());
            };
            if sheet.card {
                fresh(sheets);
                sheets.largest(whole);
            } else if after_card {
                fresh(sheets);
                whole(sheets);
            } else {
                // Short ones share a page: the crew carries fewer.
                sheets.either(
                    |sheets| {
                        sheets.gap(BETWEEN);
                        whole(sheets);
                    },
                    |sheets| {
                        fresh(sheets);
                        whole(sheets);
                    },
                );
            }
            after_card = sheet.card;
        }
    })
}

/// The last section stays on one page: nobody signs a page with nothing on it.
fn draw(sheets: &mut Sheets, sheet: &Sheet) {
    let parts = &sheet.parts;
    let is_heading = |part: &Part| matches!(part, Part::Heading(_));
    let last = parts.iter().rposition(is_heading).unwrap_or(0);
    let (before, last) = parts.split_at(last);
    section(sheets, before);
    sheets.together(|sheets| {
        if sheets.at_top() {
            let left = sheets.left();
            sheets.paragraph(LARGE, left, &format!("{}, continued", sheet.title));
        }
        section(sheets, last);
    });
}

fn section(sheets: &mut Sheets, parts: &[Part]) {
    let mut parts = parts.iter().peekable();
    while let Some(part) = parts.next() {
        match (part, parts.peek().copied()) {
            // A heading stays with what follows.
            (Part::Heading(words), Some(Part::Table { columns, rows })) if !rows.is_empty() => {
                parts.next();
                let columns = aligned(columns);
                blocks::table(sheets, words, &table(&columns, rows));
            }
            (Part::Heading(words), _) => blocks::heading(sheets, words),
            // So do words that lead to what is written under them, and no line to sign on
            // stands alone on a page.
            (_, Some(rows @ Part::Blanks(_))) if leads(part) || parts.len() == 1 => {
                parts.next();
                sheets.together(|sheets| {
                    body(sheets, part);
                    body(sheets, rows);
                });
            }
            (part, _) => body(sheets, part),
        }
    }
}

fn leads(part: &Part) -> bool {
    matches!(part, Part::Note(words) if words.ends_with(':'))
}

fn body(sheets: &mut Sheets, part: &Part) {
    let left = sheets.left();
    match part {
        Part::Heading(words) => blocks::heading(sheets, words),
        Part::Note(words) => {
            sheets.gap(GAP);
            sheets.paragraph(BODY, left, words);
        }
        Part::Caution(words) => {
            sheets.gap(GAP);
            sheets.paragraph(STRONG, left, words);
        }
        Part::Points(points) => {
            for point in points {
                sheets.gap(GAP);
                sheets.need(2.0 * BODY.leading);
                sheets.text(BODY, left + 4.0, "\u{2013}");
                sheets.paragraph(BODY, left + WORDS, point);
            }
        }
        Part::Boxes(points) => {
            for point in points {
                sheets.gap(GAP);
                sheets.need(2.0 * BODY.leading);
                sheets.advance(1.5);
                sheets.tick_box(left, BOX);
                sheets.advance(-1.5);
                sheets.paragraph(BODY, left + WORDS, point);
            }
        }
        Part::Table { rows, .. } if rows.is_empty() => sheets.paragraph(BODY, left, "none"),
        Part::Table { columns, rows } => {
            sheets.gap(GAP);
            let columns = aligned(columns);
            table(&columns, rows).draw(sheets, left, sheets.right());
        }
        Part::Blanks(rows) => {
            sheets.together(|sheets| {
                for row in rows {
                    let row = row.iter();
                    let row: Vec<(&str, &str)> = row
                        .map(|blank| (blank.label.as_str(), blank.value.as_str()))
                        .collect();
                    filled(sheets, &row);
                }
            });
        }
        Part::Log(heads) => log(sheets, heads),
    }
}

/// Rows to write on down to the foot; nothing where there is no room for some.
fn log(sheets: &mut Sheets, heads: &[String]) {
    const ROW: f32 = 19.0;
    const LEAST: f32 = 3.0;
    const MOST: u8 = 12;
    let top = 2.0 * GAP + SMALL.leading;
    if sheets.room() < top + LEAST * ROW {
        return;
    }
    sheets.advance(2.0 * GAP);
    let (left, right) = (sheets.left(), sheets.right());
    // The last head has the most to say.
    let shares = heads.iter().map(|_| 1.0).sum::<f32>() + 1.0;
    let mut x = left;
    for head in heads {
        sheets.text(SMALL, x, head);
        x += (right - left) / shares;
    }
    sheets.advance(SMALL.leading);
    for _ in 0..MOST {
        if sheets.room() < ROW {
            break;
        }
        sheets.rule(left, right);
        sheets.advance(ROW);
    }
    sheets.rule(left, right);
}

fn aligned(columns: &[(String, bool)]) -> Vec<(&str, Align)> {
    let aligned = columns.iter().map(|(head, figures)| {
        let align = if *figures { Align::Right } else { Align::Left };
        (head.as_str(), align)
    });
    aligned.collect()
}

fn table<'a>(columns: &'a [(&'a str, Align)], rows: &[Vec<String>]) -> Table<'a> {
    Table {
        columns,
        rows: rows.iter().cloned().map(Row::Line).collect(),
        ruled: true,
    }
}
