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
#[derive(Debug, Clone)]
pub(super) enum Note {
    Head(&'static str),
    Fact(String, String),
    Item(String),
}

/// One line of type of a note.
struct Line {
    /// Whether it stands over the next one.
    head: bool,
    /// Whether a dash stands before it.
    dash: bool,
    indent: f32,
    /// In bold, before the rest.
    label: String,
    text: String,
}

/// Two columns of notes beside each other, on one sheet where a sheet holds them.
pub(super) fn columns(sheets: &mut Sheets, first: &[Note], second: &[Note]) {
    let [(left, width), (middle, _)] = places(sheets);
    let [first, second] = [first, second].map(|notes| set(sheets.fonts, notes, width));
    let height = tall(&first).max(tall(&second));
    if height > sheets.whole() {
        flow(sheets, &first.into_iter().chain(second).collect::<Vec<_>>());
        return;
    }
    sheets.need(height);
    beside(sheets, &[(left, &first), (middle, &second)]);
}

/// Notes that fill one column and go on in the other.
pub(super) fn balanced(sheets: &mut Sheets, notes: &[Note]) {
    let width = places(sheets)[0].1;
    let lines = set(sheets.fonts, notes, width);
    flow(sheets, &lines);
}

fn flow(sheets: &mut Sheets, lines: &[Line]) {
    let mut rest = lines;
    while !rest.is_empty() {
        let half = rest.len().div_ceil(2);
        sheets.need(tall(&rest[..half]).min(sheets.whole()));
        let [(left, _), (middle, _)] = places(sheets);
        let room = sheets.room();
        let held = (1..=half).take_while(|count| tall(&rest[..*count]) <= room);
        // A line at the least, so that it ends.
        let most = held.last().unwrap_or(1);
        // A heading goes with what it stands over.
        let above = rest[..most].iter().rev().take_while(|line| line.head);
        let first = most - above.count().min(most - 1);
        let second = (rest.len() - first).min(most);
        let (here, next) = rest.split_at(first + second);
        let (one, other) = here.split_at(first);
        beside(sheets, &[(left, one), (middle, other)]);
        rest = next;
    }
}

fn beside(sheets: &mut Sheets, columns: &[(f32, &[Line])]) {
    let top = sheets.down();
    let mut end = top;
    for (x, lines) in columns {
        sheets.go_to(top);
        for line in *lines {
            draw(sheets, line, *x);
        }
        end = end.max(sheets.down());
    }
    sheets.go_to(end);
}

/// Where both columns begin, and how wide they are.
fn places(sheets: &Sheets) -> [(f32, f32); 2] {
    let (left, right) = (sheets.left(), sheets.right());
    let width = (right - left - GUTTER) / 2.0;
    [(left, width), (left + width + GUTTER, width)]
}

fn tall(lines: &[Line]) -> f32 {
    lines.iter().map(|_| NOTE.leading).sum()
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

/// Notes in lines of type.
fn set(fonts: &Fonts, notes: &[Note], width: f32) -> Vec<Line> {
    notes
        .iter()
        .flat_map(|note| {
            let (label, indent, lines) = match note {
                Note::Head(text) => ("", 0.0, fonts.wrap(NOTE_HEAD, text, width)),
                Note::Fact(label, text) => {
                    // The label is drawn in bold, which is wider.
                    let wider = fonts.width(NOTE_HEAD, label) - fonts.width(NOTE, label);
                    let text = format!("{label}: {text}");
                    let lines = fonts.wrap_within(NOTE, &text, width - wider, MOST);
                    (label.as_str(), 0.0, lines)
                }
                Note::Item(text) => ("", INDENT, fonts.wrap(NOTE, text, width - INDENT)),
            };
            let head = matches!(note, Note::Head(_));
            let lines = lines.into_iter().enumerate();
            lines.map(move |(at, line)| {
                let behind = line.strip_prefix(label).filter(|_| at == 0 && !head);
                Line {
                    head,
                    dash: at == 0 && indent > 0.0,
                    indent,
                    label: behind.map_or_else(String::new, |_| label.to_owned()),
                    text: behind.map_or_else(|| line.clone(), str::to_owned),
                }
            })
        })
        .collect()
}

fn draw(sheets: &mut Sheets, line: &Line, x: f32) {
    if line.dash {
        sheets.text(NOTE, x, "–");
    }
    let x = x + line.indent;
    sheets.text(NOTE_HEAD, x, &line.label);
    let behind = x + sheets.fonts.width(NOTE_HEAD, &line.label);
    let style = if line.head { NOTE_HEAD } else { NOTE };
    sheets.text(style, behind, &line.text);
    sheets.advance(NOTE.leading);
}
