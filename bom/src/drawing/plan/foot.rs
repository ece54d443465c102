//! What stands below a plan: north, scale, signs, notes, and the list of what is on it.

use super::super::shape::{Area, At, Shape};
use super::super::symbol::symbol;
use super::super::tags::Tags;
use super::super::text::{Text, TextSize, width as text_width};
use super::super::{Entry, Layer, Mark, Scene, legend};
use super::layout::Paper;
use super::level::Level;
use super::scale::{Scale, bar};

/// Height of the row with north and scale.
const STRIP: f64 = 11.0;
/// From here on north and scale stand in one row.
const WIDE: f64 = 120.0;
/// The least width of a foot beside a plan.
const COLUMN: f64 = 64.0;

/// What stands below the plans of a level.
#[derive(Debug)]
pub(super) struct Foot {
    entries: Vec<Entry>,
    notes: Vec<String>,
}

impl Foot {
    pub(super) fn of(scene: &Scene<'_>, level: &Level, tags: &Tags, notes: Vec<String>) -> Self {
        Self {
            entries: super::entries::entries(scene, level, tags),
            notes,
        }
    }

    /// Where it may stand on a sheet: below the plan, or beside it; only north and
    /// scale if `bare`.
    pub(super) fn places(&self, width: f64, height: f64, bare: bool) -> Vec<Paper> {
        let paper = |foot: At, across, right, bottom| Paper {
            width,
            height,
            foot: (foot, across),
            bare,
            room: Area::of(At::default(), At::new(right, bottom)),
        };
        if bare {
            let below = At::new(0.0, height - strip(width));
            return vec![paper(below, width, width, below.y)];
        }
        let below = At::new(0.0, height - self.height(width));
        let words = self.entries.iter();
        let words = words.map(|entry| text_width(&entry.words, TextSize::Small, false));
        let column = words.fold(COLUMN, |most, one| most.max(one + 18.0));
        let beside = At::new(width - column, height - self.height(column));
        let mut places = vec![paper(below, width, width, below.y)];
        if beside.y >= 0.0 && beside.x > column {
            places.push(paper(beside, column, beside.x - 4.0, height));
        }
        places
    }

    /// How high it is.
    fn height(&self, across: f64) -> f64 {
        let lines = wrapped(&self.notes, across).len();
        let notes: f64 = (0..lines).map(|_| TextSize::Small.leading()).sum();
        strip(across) + legend(&self.entries, At::default(), across).1 + 2.0 + notes
    }

    /// Draws it below a place.
    pub(super) fn drawn(
        &self,
        scene: &Scene<'_>,
        scale: &Scale,
        (at, across): (At, f64),
    ) -> Vec<Mark> {
        let mut marks = vec![scaled(scene, scale, (at, across))];
        marks.extend(self.signs(at.by(0.0, strip(across)), across).0);
        marks
    }

    /// Its signs and notes below a place, and how far down they reach.
    pub(super) fn signs(&self, at: At, across: f64) -> (Vec<Mark>, f64) {
        let (mark, down) = legend(&self.entries, at, across);
        let mut notes = Vec::new();
        let mut top = down + 2.0;
        for line in wrapped(&self.notes, across) {
            let baseline = at.by(0.0, top + 0.76 * TextSize::Small.mm());
            notes.push(Shape::Text(Text::new(baseline, TextSize::Small, line)));
            top += TextSize::Small.leading();
        }
        (vec![mark, Mark::new(Layer::Note, notes)], top)
    }
}

/// North and the scale below a place.
pub(super) fn scaled(scene: &Scene<'_>, scale: &Scale, (at, across): (At, f64)) -> Mark {
    let mut row = Vec::new();
    if let Some(north) = symbol("north") {
        row.extend(north.drawn(at.by(4.0, 5.4), (1.0, 0.0), (0.0, 1.0)));
    }
    let letter = Text::new(at.by(7.0, 6.6), TextSize::Plain, "N").bold();
    row.push(Shape::Text(letter));
    let (shapes, long) = bar(
        scale,
        scene.plan.network.units,
        at.by(16.0, 1.6),
        across - 22.0,
    );
    row.extend(shapes);
    let words = format!("Scale {}", scale.words);
    let place = if across < WIDE {
        at.by(0.0, STRIP + 3.4)
    } else {
        at.by(16.0 + long + 8.0, 4.8)
    };
    row.push(Shape::Text(Text::new(place, TextSize::Plain, words).bold()));
    Mark::new(Layer::Note, row)
}

/// The height of the row with north and scale; two rows where it is narrow.
fn strip(across: f64) -> f64 {
    if across < WIDE { STRIP + 6.0 } else { STRIP }
}

/// Text in lines that are no longer than `across`; the words of each note together,
/// a word that is longer itself in pieces.
pub(super) fn wrapped(notes: &[String], across: f64) -> Vec<String> {
    let fits = |line: &str| text_width(line, TextSize::Small, false) <= across;
    let mut lines: Vec<String> = Vec::new();
    for note in notes {
        let mut line = String::new();
        for word in note.split_whitespace() {
            if !line.is_empty() && fits(&format!("{line} {word}")) {
                line = format!("{line} {word}");
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for letter in word.chars() {
                if !line.is_empty() && !fits(&format!("{line}{letter}")) {
                    lines.push(std::mem::take(&mut line));
                }
                line.push(letter);
            }
        }
        lines.push(line);
    }
    lines
}
