//! Which piece is cut from which stick, with a box for every piece.

use super::Report;
use super::pieces::{Column, Row, Section, figures, progress, table, tick, words};
use crate::output::words as said;
use bom::quantity::Length;
use maud::{Markup, html};
use pricing::cut_sheet::{Bound, CutPiece, CutSection, CutSheet, CutStick};

/// How wide a stick is drawn, and how high.
const WIDE: f64 = 1000.0;
const HIGH: f64 = 14.0;

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let sheet = report.cut;
    let straights = sheet.straights.iter();
    let straights: Vec<Row> = straights
        .map(|straight| Row::plain(said::straight_row(sheet, straight)))
        .collect();
    Some(Section {
        id: "cut",
        title: "Pieces to cut",
        body: html! {
            @if sheet.sections.is_empty() {
                p { (said::NOTHING_CUT) }
            } @else {
                p { (said::cut_kerf(sheet)) " " @if !straights.is_empty() { (said::LABELS) } }
                (progress("cut"))
            }
            @for (number, section) in (1..).zip(&sheet.sections) {
                (sticks(number, section, report))
            }
            @if !straights.is_empty() {
                (table("Every straight and what it is built of", &STRAIGHTS, 0, &straights))
            }
        },
    })
}

const STRAIGHTS: [Column<'_>; 5] = [
    figures("No."),
    words("Size"),
    words("From"),
    words("To"),
    words("Pieces in order"),
];

fn sticks(number: usize, section: &CutSection, report: &Report<'_>) -> Markup {
    let sheet = report.cut;
    let longest = section.sticks.iter().map(|stick| stick.stock).max();
    let size = said::cut_size(sheet, &section.system, &section.size);
    html! {
        h3 { "Pipe " (size) }
        p { (summary(section, sheet, report.priced)) }
        ol.sticks {
            @for (at, stick) in (1..).zip(&section.sticks) {
                li {
                    h4 { (name(at, stick, sheet)) }
                    (bar(stick, longest.unwrap_or(stick.stock)))
                    ul.ticks {
                        @for (piece, of) in (1..).zip(&stick.pieces) {
                            li { (tick(&format!("cut-{number}-{at}-{piece}"), &piece_words(of, sheet))) }
                        }
                    }
                }
            }
        }
    }
}

/// What the size takes; what it costs only where prices are for the reader.
fn summary(section: &CutSection, sheet: &CutSheet, priced: bool) -> String {
    match section.bound {
        Bound::Cost(_) if !priced => {
            format!("{} to cut.", said::count(section.sticks.len(), "stick"))
        }
        Bound::Cost(_) | Bound::Sticks(_) => said::cut_summary(sheet, section),
    }
}

fn name(at: usize, stick: &CutStick, sheet: &CutSheet) -> String {
    let units = sheet.heading.units;
    format!(
        "Stick {at}, {}: {} left",
        stick.stock.show(units),
        stick.waste.show(units)
    )
}

/// Its label, its length, and where it goes.
fn piece_words(piece: &CutPiece, sheet: &CutSheet) -> Markup {
    let straight = piece.label.split('.').next().unwrap_or_default();
    let mut straights = sheet.straights.iter();
    let straight = straights.find(|one| one.number.to_string() == straight);
    html! {
        b.count { (piece.label) } " "
        span.what { (piece.length.show(sheet.heading.units)) }
        @if let Some(straight) = straight {
            " " span.used { "from " (straight.from) " to " (straight.to) }
        }
    }
}

/// The stick to scale, beside the longest: its pieces, and what is left hollow.
fn bar(stick: &CutStick, longest: Length) -> Markup {
    let at = |length: Length| WIDE * length.mm() / longest.mm().max(1.0);
    let mut begun = Length::ZERO;
    let pieces: Vec<(f64, f64)> = stick
        .pieces
        .iter()
        .map(|piece| {
            let from = begun;
            begun += piece.length;
            (at(from), at(piece.length))
        })
        .collect();
    let figure = |figure: f64| format!("{figure:.1}");
    html! {
        svg.bar viewBox={ "0 0 " (figure(WIDE)) " " (figure(HIGH)) } preserveAspectRatio="none" aria-hidden="true" {
            rect.left x="0" y="0" width=(figure(at(stick.stock))) height=(figure(HIGH)) {}
            @for (from, wide) in pieces {
                rect.piece x=(figure(from)) y="0" width=(figure(wide)) height=(figure(HIGH)) {}
            }
        }
    }
}
