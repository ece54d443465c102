//! Blocks of a drawing that is mostly text, laid on as many sheets as it takes.

mod paper;

pub(super) use paper::Paper;

use super::shape::{Area, At, Fill, Shape, Stroke};
use super::table::{Column, fitted, table};
use super::text::{Text, TextSize, width, wrap};
use super::{Entry, Field, Layer, Mark};

/// What stays together, drawn from the origin to the right and down.
#[derive(Debug, Clone, Default)]
pub(super) struct Block {
    /// What is drawn.
    pub(super) marks: Vec<Mark>,
    /// What its signs mean: the legend at the foot of its sheet.
    pub(super) signs: Vec<Entry>,
    /// How far it reaches to the right.
    pub(super) across: f64,
    /// How far it reaches down.
    pub(super) down: f64,
}

impl Block {
    /// Lines of text.
    pub(super) fn text(words: &str, size: TextSize, bold: bool, across: f64) -> Self {
        let mut shapes = Vec::new();
        let mut down = 0.0;
        for line in in_lines(words, size, bold, across) {
            let mut text = Text::new(At::new(0.0, down + 0.8 * size.mm()), size, line);
            text.bold = bold;
            shapes.push(Shape::Text(text));
            down += size.leading();
        }
        Self {
            marks: vec![Mark::new(Layer::Note, shapes)],
            signs: Vec::new(),
            across,
            down,
        }
    }

    /// A note in small letters.
    pub(super) fn note(words: &str, across: f64) -> Self {
        Self::text(words, TextSize::Small, false, across)
    }

    /// A heading.
    pub(super) fn heading(words: &str, across: f64) -> Self {
        Self::text(words, TextSize::Plain, true, across)
    }

    /// The other one below this one.
    pub(super) fn above(mut self, other: Self, gap: f64) -> Self {
        let down = self.down + gap;
        self.marks.extend(moved(other.marks, 0.0, down));
        self.signs = joined(self.signs, other.signs);
        self.down = down + other.down;
        self.across = self.across.max(other.across);
        self
    }

    /// The same within a heavy frame.
    pub(super) fn framed(self, across: f64) -> Self {
        const INSIDE: f64 = 2.0;
        let down = self.down + 2.0 * INSIDE;
        let area = Area::of(At::new(0.4, 0.4), At::new(across - 0.4, down - 0.4));
        let frame = Shape::rectangle(Stroke::HEAVY, Fill::Open, area);
        let mut marks = vec![Mark::new(Layer::Note, vec![frame])];
        marks.extend(moved(self.marks, INSIDE, INSIDE));
        Self {
            marks,
            signs: self.signs,
            across,
            down,
        }
    }

    /// Sentences in a heavy frame below a heading, on as many blocks as they take.
    pub(super) fn warnings(heading: &str, said: &[String], across: f64, down: f64) -> Vec<Self> {
        let mut blocks = Vec::new();
        let inside = across - 5.0;
        let mut open: Option<Self> = None;
        for sentence in said {
            let words = format!("! {sentence}");
            let next = Self::note(&words, inside);
            open = Some(match open.take() {
                Some(block) if block.down + next.down + 8.0 <= down => block.above(next, 0.8),
                full => {
                    blocks.extend(full.map(|block| block.framed(across)));
                    Self::heading(heading, inside).above(next, 1.2)
                }
            });
        }
        blocks.extend(open.map(|block| block.framed(across)));
        blocks
    }

    /// A table below its heading and a note, on as many sheets of this field as it takes.
    pub(super) fn headed(
        heading: &str,
        note: &str,
        columns: &[Column],
        rows: &[Vec<String>],
        field: Field,
    ) -> Vec<Self> {
        const GAP: f64 = 3.0;
        let across = field.width;
        let head = Self::heading(heading, across).above(Self::note(note, across), 0.8);
        let room = (field.height - head.down - GAP).max(20.0);
        let mut tables = Self::tables(columns, rows, across, room).into_iter();
        let first = match tables.next() {
            Some(table) => head.above(table, GAP),
            None => head,
        };
        std::iter::once(first).chain(tables).collect()
    }

    /// A table on as many blocks as it takes, its head on each.
    pub(super) fn tables(
        columns: &[Column],
        rows: &[Vec<String>],
        across: f64,
        down: f64,
    ) -> Vec<Self> {
        let mut blocks = Vec::new();
        let mut open: Vec<Vec<String>> = Vec::new();
        let close = |rows: &[Vec<String>]| {
            let (mark, across, down) = table(columns, rows, At::default());
            Self {
                marks: vec![mark],
                signs: Vec::new(),
                across,
                down,
            }
        };
        for lines in fitted(columns, rows, across) {
            let reaches = close(&[&open[..], &lines[..]].concat()).down;
            if reaches > down && !open.is_empty() {
                blocks.push(close(&open));
                open.clear();
            }
            open.extend(lines);
        }
        if !open.is_empty() {
            blocks.push(close(&open));
        }
        blocks
    }
}

/// Signs without those that are there already.
fn joined(mut signs: Vec<Entry>, more: Vec<Entry>) -> Vec<Entry> {
    for entry in more {
        if signs.iter().all(|one| one.words != entry.words) {
            signs.push(entry);
        }
    }
    signs
}

/// Marks to the right and down of where they are.
pub(super) fn moved(marks: Vec<Mark>, x: f64, y: f64) -> Vec<Mark> {
    let marks = marks.into_iter().map(|mut mark| {
        for shape in &mut mark.shapes {
            *shape = shape.moved(x, y);
        }
        mark
    });
    marks.collect()
}

/// Words in lines no longer than `across`; a word that is longer is broken.
pub(super) fn in_lines(words: &str, size: TextSize, bold: bool, across: f64) -> Vec<String> {
    let mut lines = Vec::new();
    for line in wrap(words, size, bold, across) {
        let mut rest = String::new();
        for letter in line.chars() {
            rest.push(letter);
            if width(&rest, size, bold) > across && rest.chars().count() > 1 {
                rest.pop();
                lines.push(std::mem::replace(&mut rest, letter.to_string()));
            }
        }
        lines.push(rest);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{Block, Paper, in_lines};
    use crate::drawing::{Column, TextSize, collisions, width};

    #[test]
    fn lines_keep_every_letter_and_their_length() {
        let words = "a main that falls to averyveryverylongnameofaplace and on";
        let lines = in_lines(words, TextSize::Small, false, 20.0);
        assert_eq!(lines.concat().replace(' ', ""), words.replace(' ', ""));
        for line in lines {
            assert!(width(&line, TextSize::Small, false) <= 20.0, "{line}");
        }
    }

    #[test]
    fn a_long_table_goes_on_with_its_head_and_loses_no_row() {
        let columns = [Column::figures("no."), Column::words("place")];
        let rows: Vec<Vec<String>> = (1..=80)
            .map(|number| {
                vec![
                    number.to_string(),
                    format!("a place with a long name {number}"),
                ]
            })
            .collect();
        let paper = Paper {
            id: "t",
            title: "T",
            about: "",
            width: 40.0,
            height: 100.0,
        };
        let sheets = paper.laid(Block::tables(&columns, &rows, 40.0, 100.0));
        let ids: Vec<&str> = sheets.iter().map(|sheet| &*sheet.id).collect();
        assert!(ids.starts_with(&["t", "t-2"]), "{ids:?}");
        for sheet in &sheets {
            assert_eq!(collisions(sheet), []);
            let mut texts = sheet.texts();
            assert!(texts.any(|text| text.words == "place"));
        }
        let mut numbers: Vec<usize> = sheets
            .iter()
            .flat_map(|sheet| sheet.texts())
            .filter_map(|text| text.words.parse().ok())
            .collect();
        // Some stand at the end of a name as well, on a line of their own.
        numbers.sort_unstable();
        numbers.dedup();
        assert_eq!(numbers, (1..=80).collect::<Vec<_>>());
    }
}
