//! What stands around the lines: missing prices, what to know, what else to
//! think of.

use super::{ITEM, NOTE, NOTE_HEAD};
use crate::output::pdf::fonts::{Fonts, LARGE, STRONG};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::shop::ShoppingList;

/// Between the two columns of notes.
const GUTTER: f32 = 18.0;
/// From a note's edge to its text.
const INDENT: f32 = 8.0;
/// Lines of type in a note; only an absurd text has more.
const MOST: usize = 12;

/// One piece of a column of notes.
enum Note {
    Head(&'static str),
    Fact(&'static str, String),
    Item(String),
}

/// The loud hole: every part that has no price.
pub(super) fn missing(sheets: &mut Sheets, shop: &ShoppingList) {
    if shop.missing.is_empty() {
        return;
    }
    sheets.gap(6.0);
    let left = sheets.left() + 10.0;
    sheets.open_frame();
    sheets.banner(LARGE, words::OPEN);
    sheets.advance(4.0);
    for part in &shop.missing {
        let words = format!("{} {} {}", part.quantity, part.words, part.key.size);
        sheets.paragraph(STRONG, left, words.trim());
        sheets.paragraph(ITEM, left, &part.reason);
    }
    sheets.advance(4.0);
    sheets.close_frame();
    sheets.gap(8.0);
}

/// The notes in two columns under the list.
pub(super) fn draw(sheets: &mut Sheets, shop: &ShoppingList) {
    let (left, right) = (sheets.left(), sheets.right());
    let middle = f32::midpoint(left, right);
    let columns = [
        (before(shop), left, middle - GUTTER / 2.0),
        (also(shop), middle + GUTTER / 2.0, right),
    ];
    let heights = columns
        .iter()
        .map(|(notes, from, to)| tall(sheets.fonts, notes, to - from));
    let height = heights.fold(0.0, f32::max);
    sheets.gap(5.0);
    sheets.need(height.min(sheets.whole()));
    let top = sheets.down();
    let mut end = top;
    for (notes, from, to) in &columns {
        sheets.go_to(top);
        for note in notes {
            self::note(sheets, note, *from, *to);
        }
        end = end.max(sheets.down());
    }
    sheets.go_to(end);
}

fn before(shop: &ShoppingList) -> Vec<Note> {
    let facts = shop.heads_up.iter();
    std::iter::once(Note::Head("Before you drive"))
        .chain(facts.map(|fact| Note::Fact(fact.label, fact.text.clone())))
        .chain(run_on("Cautions", &shop.cautions))
        .chain(run_on("Assumptions", &shop.assumptions))
        .collect()
}

fn also(shop: &ShoppingList) -> Vec<Note> {
    let head = (!shop.also.is_empty()).then_some(Note::Head(words::ALSO));
    head.into_iter()
        .chain(shop.also.iter().cloned().map(Note::Item))
        .chain(run_on("Notices", &shop.notices))
        .collect()
}

/// Short texts behind each other, to save room.
fn run_on(label: &'static str, texts: &[String]) -> Option<Note> {
    (!texts.is_empty()).then(|| Note::Fact(label, texts.join(" ")))
}

/// A note in lines of type, and how far they stand in.
fn wrapped(fonts: &Fonts, note: &Note, width: f32) -> (Vec<String>, f32) {
    match note {
        Note::Head(text) => (fonts.wrap(NOTE_HEAD, text, width), 0.0),
        Note::Fact(label, text) => {
            // The label is drawn in bold, which is wider.
            let wider = fonts.width(NOTE_HEAD, label) - fonts.width(NOTE, label);
            (
                fonts.wrap_within(NOTE, &format!("{label}: {text}"), width - wider, MOST),
                0.0,
            )
        }
        Note::Item(text) => (fonts.wrap(NOTE, text, width - INDENT), INDENT),
    }
}

fn tall(fonts: &Fonts, notes: &[Note], width: f32) -> f32 {
    let lines = notes.iter().map(|note| wrapped(fonts, note, width).0);
    let heights = lines.map(|lines| lines.iter().map(|_| NOTE.leading).sum::<f32>());
    heights.sum()
}

fn note(sheets: &mut Sheets, note: &Note, from: f32, to: f32) {
    let (lines, indent) = wrapped(sheets.fonts, note, to - from);
    if let Note::Item(_) = note {
        sheets.text(NOTE, from, "–");
    }
    let style = if matches!(note, Note::Head(_)) {
        NOTE_HEAD
    } else {
        NOTE
    };
    for (at, line) in lines.iter().enumerate() {
        let mut x = from + indent;
        let mut rest = line.as_str();
        if let (0, Note::Fact(label, _)) = (at, note)
            && let Some(behind) = line.strip_prefix(*label)
        {
            sheets.text(NOTE_HEAD, x, label);
            x += sheets.fonts.width(NOTE_HEAD, label);
            rest = behind;
        }
        sheets.text(style, x, rest);
        sheets.advance(style.leading);
    }
}
