//! Small type in two columns: facts, lists and what was taken as given.

use super::fonts::{Face, Fonts, SMALL, Style};
use super::page::Sheets;

/// Running notes.
pub(super) const NOTE: Style = Style {
    leading: 9.25,
    ..SMALL
};
/// Headings of notes.
pub(super) const NOTE_HEAD: Style = Style {
    face: Face::Bold,
    ..NOTE
};
/// Between the two columns.
const GUTTER: f32 = 18.0;
/// From a note's edge to its text.
const INDENT: f32 = 8.0;
/// Lines of type in a note; only an absurd text has more.
const MOST: usize = 24;

/// One piece of a column of notes.
pub(super) enum Note {
    Head(&'static str),
    Fact(String, String),
    Item(String),
}

/// Two columns of notes beside each other, on one sheet.
pub(super) fn columns(sheets: &mut Sheets, first: &[Note], second: &[Note]) {
    let (left, right) = (sheets.left(), sheets.right());
    let middle = f32::midpoint(left, right);
    let columns = [
        (first, left, middle - GUTTER / 2.0),
        (second, middle + GUTTER / 2.0, right),
    ];
    let heights = columns
        .iter()
        .map(|(notes, from, to)| tall(sheets.fonts, notes, to - from));
    let height = heights.fold(0.0, f32::max);
    sheets.need(height.min(sheets.whole()));
    let top = sheets.down();
    let mut end = top;
    for (notes, from, to) in columns {
        sheets.go_to(top);
        for note in notes {
            self::note(sheets, note, from, to);
        }
        end = end.max(sheets.down());
    }
    sheets.go_to(end);
}

/// Short texts behind each other, to save room, each with its full stop.
pub(super) fn run_on(label: &str, texts: &[String]) -> Option<Note> {
    let stopped = texts.iter().map(|text| match text.ends_with('.') {
        true => text.clone(),
        false => format!("{text}."),
    });
    let text = stopped.collect::<Vec<_>>().join(" ");
    (!text.is_empty()).then(|| Note::Fact(label.to_owned(), text))
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
            && let Some(behind) = line.strip_prefix(label.as_str())
        {
            sheets.text(NOTE_HEAD, x, label);
            x += sheets.fonts.width(NOTE_HEAD, label);
            rest = behind;
        }
        sheets.text(style, x, rest);
        sheets.advance(style.leading);
    }
}
