//! What is written beside things: a number in a ring, a name, lines below.

use crate::drawing::{Anchor, Area, At, Board, Fill, Label, Shape, Stroke, Text, TextSize, width};

/// Between a ring and the words beside it.
const GAP: f64 = 1.0;
/// Up to here a label stands beside its place and needs no leader.
const BESIDE: f64 = 2.0;

/// Something to write.
#[derive(Debug, Clone, Default)]
pub(super) struct Say {
    /// What it is about.
    pub(super) at: At,
    /// Other places of the same thing.
    pub(super) others: Vec<At>,
    /// Whether a leader that crosses lines is better than none.
    pub(super) insists: bool,
    /// Where it would best stand.
    pub(super) towards: (f64, f64),
    /// A number in a ring before it.
    pub(super) ring: Option<String>,
    /// Its first line, in bold.
    pub(super) name: Option<String>,
    /// Its other lines.
    pub(super) lines: Vec<String>,
    /// How far off it may stand.
    pub(super) most: f64,
}

impl Say {
    /// Small lines.
    pub(super) fn small(at: At, towards: (f64, f64), lines: Vec<String>, most: f64) -> Self {
        Self {
            at,
            towards,
            lines,
            most,
            ..Self::default()
        }
    }

    /// Writes it where there is room; none if there is none.
    pub(super) fn placed(&self, board: &mut Board) -> Option<Vec<Shape>> {
        let ring = self.ring.as_ref().map_or(0.0, |ring| ring_across(ring));
        let beside = if ring > 0.0 { ring + GAP } else { 0.0 };
        let name = self
            .name
            .iter()
            .map(|name| width(name, TextSize::Plain, true));
        let lines = self
            .lines
            .iter()
            .map(|line| width(line, TextSize::Small, false));
        let across = beside + name.chain(lines).fold(0.0, f64::max);
        let down = self.down().max(ring);
        let label = Label {
            towards: self.towards,
            ..Label::new(self.at, "")
        };
        let room = (across, down);
        let spots = || std::iter::once(self.at).chain(self.others.iter().copied());
        let near = |at: At, most: f64| {
            board.near(
                &Label {
                    at,
                    ..label.clone()
                },
                room,
                most,
            )
        };
        let (area, leader) = spots()
            .find_map(|at| near(at, BESIDE))
            .or_else(|| spots().find_map(|at| near(at, self.most)))
            .or_else(|| self.insists.then(|| board.find(&label, room)).flatten())?;
        let mut shapes = Vec::new();
        if let Some((from, to)) = leader {
            shapes.push(Shape::line(Stroke::NARROW, vec![from, to]));
        }
        shapes.extend(self.shapes(&area, ring, beside));
        board.block(&shapes);
        board.block_area(area);
        Some(shapes)
    }

    fn down(&self) -> f64 {
        let name = self.name.iter().map(|_| TextSize::Plain.leading());
        let lines = self.lines.iter().map(|_| TextSize::Small.leading());
        let all: f64 = name.chain(lines).sum();
        let last = if self.lines.is_empty() {
            TextSize::Plain
        } else {
            TextSize::Small
        };
        all - (last.leading() - last.mm())
    }

    fn shapes(&self, area: &Area, ring: f64, beside: f64) -> Vec<Shape> {
        let mut shapes = Vec::new();
        if let Some(number) = &self.ring {
            let centre = At::new(area.left + ring / 2.0, area.top + ring / 2.0);
            shapes.push(Shape::circle(
                Stroke::NARROW,
                Fill::Open,
                centre,
                ring / 2.0,
            ));
            let number = Text::centred(centre, TextSize::Small, &**number).bold();
            shapes.push(Shape::Text(number));
        }
        // Flush towards what it names.
        let right = self.ring.is_none() && area.middle().x < self.at.x - area.width() / 4.0;
        let mut top = area.top;
        let mut line = |words: &str, size: TextSize, bold: bool| {
            let at = At::new(area.left + beside, top + 0.76 * size.mm());
            let mut text = Text::new(at, size, words);
            text.bold = bold;
            if right {
                text.at.x = area.right;
                text = text.anchored(Anchor::End);
            }
            shapes.push(Shape::Text(text));
            top += size.leading();
        };
        if let Some(name) = &self.name {
            line(name, TextSize::Plain, true);
        }
        for words in &self.lines {
            line(words, TextSize::Small, false);
        }
        shapes
    }
}

/// How wide the ring round a number is.
fn ring_across(number: &str) -> f64 {
    let size = TextSize::Small;
    let across = width(number, size, true);
    across.hypot(size.mm()).max(size.mm() * 1.5) + 1.0
}
