//! Sheets that are filled from above: a drawing with its list, notes, tables that go on
//! on further sheets, and the legend at the foot of the first.

use super::legend::{Entry, legend};
use super::list::List;
use super::shape::{At, Shape, Stroke};
use super::symbol::symbol;
use super::text::{Text, TextSize, wrap};
use super::{Field, Layer, Mark, Sheet};
use std::collections::BTreeMap;

/// Said at the end of every legend.
const MANNER: &str = "Signs in the manner of ISO 14617, ISO 1219 and ISO 6412.";
/// Between two things of a sheet.
pub(super) const GAP: f64 = 3.0;

/// What a sheet is called; see [`Sheet`].
#[derive(Debug, Clone, Default)]
pub struct Named {
    /// Its name in files and links.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What it shows.
    pub about: String,
}

/// A sheet under way, and those that are full.
#[derive(Debug)]
pub struct Pages {
    field: Field,
    named: Named,
    marks: Vec<Mark>,
    down: f64,
    legend: BTreeMap<&'static str, Entry>,
    full: Vec<Sheet>,
}

impl Pages {
    /// An empty sheet.
    #[must_use]
    pub const fn new(field: Field, named: Named) -> Self {
        Self {
            field,
            named,
            marks: Vec::new(),
            down: 0.0,
            legend: BTreeMap::new(),
            full: Vec::new(),
        }
    }

    /// How far down the sheet is used.
    #[must_use]
    pub const fn down(&self) -> f64 {
        self.down
    }

    /// What is left above the legend.
    #[must_use]
    pub fn left(&self) -> f64 {
        let legend = if self.legend.is_empty() {
            0.0
        } else {
            self.legend(At::default()).1 + 3.2 + self.manner()
        };
        self.field.height - self.down - legend
    }

    /// Adds to the legend what it does not have yet, by names that put it in order.
    pub fn explain(&mut self, entries: &[(&'static str, Entry)]) {
        for (name, entry) in entries {
            self.legend.entry(name).or_insert_with(|| entry.clone());
        }
    }

    /// Begins the next sheet if there is not so much room left on this one for what
    /// needs these signs; says whether it did.
    pub fn make_room(&mut self, height: f64, entries: &[(&'static str, Entry)]) -> bool {
        let known = self.legend.clone();
        self.explain(entries);
        let turns = height > self.left() && !self.marks.is_empty();
        if turns {
            self.legend = known;
            self.turn();
            self.explain(entries);
        }
        turns
    }

    /// A heading.
    pub fn title(&mut self, words: &str) {
        if self.down > 0.0 {
            self.down += GAP;
        }
        let size = TextSize::Plain;
        let at = At::new(0.5, self.down + size.mm());
        let text = Text::new(at, size, words).bold();
        self.put(
            vec![Mark::new(Layer::Note, vec![Shape::Text(text)])],
            at.y + 2.0,
        );
    }

    /// Marks that reach this far down.
    pub fn put(&mut self, marks: Vec<Mark>, down: f64) {
        self.marks.extend(marks);
        self.down = down;
    }

    /// Lines of text below each other, across the sheet.
    pub fn text(&mut self, words: &str, bold: bool) {
        let size = TextSize::Small;
        let mut shapes = Vec::new();
        let lines = wrap(words, size, false, self.field.width - 2.0);
        self.make_room(lines.iter().map(|_| size.leading()).sum::<f64>() + 1.0, &[]);
        for line in lines {
            self.down += size.leading();
            let mut text = Text::new(At::new(0.5, self.down), size, line);
            text.bold = bold;
            shapes.push(Shape::Text(text));
        }
        self.down += 1.0;
        self.marks.push(Mark::new(Layer::Note, shapes));
    }

    /// A table, on as many sheets as it takes.
    pub fn list(&mut self, title: &str, mut list: List) {
        let head = TextSize::Small.leading() + 2.0 + GAP;
        while !list.rows.is_empty() {
            let room = self.left() - head;
            if list.part_fits(room) == 0 {
                if self.marks.is_empty() {
                    list.break_first(room);
                } else {
                    self.turn();
                    continue;
                }
            }
            let part = list.part(room);
            self.down += GAP;
            self.text(title, true);
            self.down += 0.6;
            let at = At::new(0.5, self.down);
            let height = part.height();
            self.put(part.draw(at), at.y + height);
        }
    }

    /// Ends this sheet.
    fn turn(&mut self) {
        let number = self.full.len() + 1;
        // A sheet that only goes on with a table ends with it.
        let height = match self.legend.is_empty() {
            true => (self.down + 2.0).min(self.field.height),
            false => self.field.height,
        };
        let mut marks = std::mem::take(&mut self.marks);
        marks.extend(self.foot());
        let Named { id, title, about } = self.named.clone();
        let (id, title) = match number {
            1 => (id, title),
            _ => (
                format!("{id}-{number}"),
                format!("{title}, continued {number}"),
            ),
        };
        let sheet = Sheet {
            id,
            title,
            about,
            width: self.field.width,
            height,
            marks,
        };
        self.full.push(sheet.layered());
        self.down = 0.0;
        self.legend.clear();
    }

    /// The finished sheets.
    #[must_use]
    pub fn finish(mut self) -> Vec<Sheet> {
        if !self.marks.is_empty() {
            self.turn();
        }
        self.full
    }

    fn legend(&self, at: At) -> (Mark, f64) {
        let entries: Vec<Entry> = self.legend.values().cloned().collect();
        legend(&entries, at, self.field.width)
    }

    /// The room for the line that says whose manner the signs are.
    fn manner(&self) -> f64 {
        let known = self.legend.keys().any(|name| symbol(name).is_some());
        if known {
            TextSize::Small.leading()
        } else {
            0.0
        }
    }

    /// The legend, at the foot of the sheet.
    fn foot(&self) -> Vec<Mark> {
        if self.legend.is_empty() {
            return Vec::new();
        }
        let size = TextSize::Small;
        let (_, down) = self.legend(At::default());
        let bottom = self.field.height - 1.0;
        let top = bottom - self.manner() - down;
        let (mark, _) = self.legend(At::new(0.0, top));
        let rule = [0.0, self.field.width].map(|x| At::new(x, top - 1.5));
        let rule = Shape::line(Stroke::NARROW, rule.to_vec());
        let mut marks = vec![Mark::new(Layer::Note, vec![rule]), mark];
        if self.manner() > 0.0 {
            let manner = Text::new(At::new(0.5, bottom), size, MANNER);
            marks.push(Mark::new(Layer::Note, vec![Shape::Text(manner)]));
        }
        marks
    }
}
