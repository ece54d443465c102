//! The drawing of one thing while it grows: shapes by layer, the signs that it uses, and
//! the places to which the numbers of its list point.

use super::super::shape::{Area, At, Fill, Shape, Stroke};
use super::super::symbol::symbol;
use super::super::text::{Anchor, Text, TextSize};
use super::super::{Layer, Mark};
use super::built::Placed;
use crate::network::NodeId;
use crate::quantity::Length;
use std::collections::{BTreeMap, BTreeSet};

/// A row of the list of parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Item {
    /// A line of the take-off.
    Part(usize),
    /// The same, counted with the main.
    OnMain(usize),
    /// A piece that is cut: its line among the pipe, and its length.
    Piece(usize, Length),
    /// The down pipe: its line among the pipe.
    Down(usize),
}

/// A place to which a number points.
#[derive(Debug, Clone, Copy)]
pub(super) struct Callout {
    pub(super) item: Item,
    pub(super) at: At,
    /// Where the number would best stand.
    pub(super) towards: Way,
    /// How far off it stands in a row of them; none where any place will do.
    pub(super) off: Option<f64>,
    /// How far off its leader begins.
    pub(super) from: f64,
}

/// A direction on paper, of length 1.
pub(super) type Way = (f64, f64);

pub(super) const UP: Way = (0.0, -1.0);
pub(super) const DOWN: Way = (0.0, 1.0);
pub(super) const LEFT: Way = (-1.0, 0.0);
pub(super) const RIGHT: Way = (1.0, 0.0);

/// From the middle of a fitting to its ends.
const FITTING: f64 = 2.4;
/// Half of a stroke across the pipe.
const TICK: f64 = 1.4;

/// A drawing under way.
#[derive(Debug, Default)]
pub(super) struct Ink {
    pub(super) shapes: Vec<(Layer, Shape)>,
    pub(super) signs: BTreeSet<&'static str>,
    pub(super) callouts: Vec<Callout>,
    /// The parts that have their numbers.
    pub(super) said: Vec<Placed>,
    /// How far the main reaches to both sides of its place, where it is cut through.
    pub(super) section: f64,
    /// Where the places of the network are drawn.
    pub(super) places: BTreeMap<NodeId, At>,
}

impl Ink {
    pub(super) fn add(&mut self, layer: Layer, shape: Shape) {
        self.shapes.push((layer, shape));
    }

    /// Pipe from place to place.
    pub(super) fn pipe(&mut self, points: Vec<At>) {
        self.add(Layer::Pipe, Shape::line(Stroke::WIDE, points));
    }

    /// A sign on pipe that runs `along`; the room that it takes. What stands above
    /// level pipe does so whichever way it runs.
    pub(super) fn sign(&mut self, name: &str, at: At, along: Way) -> Area {
        let mut area = Area::of(at, at);
        if let Some((name, sign)) = symbol_named(name) {
            self.signs.insert(name);
            let across = if along.1.abs() > 0.5 {
                (-along.1, 0.0)
            } else {
                (0.0, 1.0)
            };
            for shape in sign.drawn(at, along, across) {
                area = shape.area().map_or(area, |its| area.with(&its));
                self.add(Layer::Part, shape);
            }
        }
        area
    }

    /// A fitting: a short stroke across each of its ends.
    pub(super) fn fitting(&mut self, at: At, ends: &[Way]) {
        self.signs.insert("fitting");
        for end in ends {
            let middle = at.by(end.0 * FITTING, end.1 * FITTING);
            self.tick(middle, *end);
        }
    }

    /// A stroke across pipe that runs `along`.
    pub(super) fn tick(&mut self, at: At, along: Way) {
        let across = (-along.1 * TICK, along.0 * TICK);
        let ends = vec![at.by(-across.0, -across.1), at.by(across.0, across.1)];
        self.add(Layer::Part, Shape::line(Stroke::WIDE, ends));
    }

    /// Upright pipe of which a part is left out.
    pub(super) fn broken(&mut self, from: At, to: At) {
        self.signs.insert("break");
        let middle = from.towards(to, 0.5);
        self.pipe(vec![from, middle.by(0.0, -1.0)]);
        self.pipe(vec![middle.by(0.0, 1.0), to]);
        for shape in broken(middle) {
            self.add(Layer::Pipe, shape);
        }
    }

    /// Where a place of the network is drawn.
    pub(super) fn place_of(&self, node: NodeId) -> At {
        self.places.get(&node).copied().unwrap_or_default()
    }

    /// A number of the list at a place.
    pub(super) fn callout(&mut self, item: Item, at: At, towards: Way) {
        let said = |known: &Callout| known.item == item && known.at.distance(at) < 0.1;
        if self.callouts.iter().any(said) {
            return;
        }
        self.callouts.push(Callout {
            item,
            at,
            towards,
            off: None,
            from: 0.0,
        });
    }

    /// A number in a row of numbers, so far off its place.
    pub(super) fn in_row(&mut self, item: Item, at: At, towards: Way, off: f64, from: f64) {
        self.callouts.push(Callout {
            item,
            at,
            towards,
            off: Some(off),
            from,
        });
    }

    /// The length between two heights of the sheet, left of its line.
    pub(super) fn upright(&mut self, x: f64, top: f64, bottom: f64, words: &str) {
        self.dimension(At::new(x, top), At::new(x, bottom), (0.0, 1.0));
        let size = TextSize::Small;
        let middle = At::new(x - 1.2, f64::midpoint(top, bottom));
        let text = Text::new(middle, size, words);
        let text = if text.length() + 3.0 > bottom - top {
            let level = At::new(x - 1.6, f64::midpoint(top, bottom) + 0.365 * size.mm());
            Text::new(level, size, words).anchored(Anchor::End)
        } else {
            text.anchored(Anchor::Middle).turned()
        };
        self.add(Layer::Dimension, Shape::Text(text));
    }

    /// The length between two places beside each other, above its line.
    pub(super) fn level(&mut self, y: f64, left: f64, right: f64, words: &str) {
        self.dimension(At::new(left, y), At::new(right, y), (1.0, 0.0));
        let at = At::new(f64::midpoint(left, right), y - 1.2);
        let text = Text::new(at, TextSize::Small, words).anchored(Anchor::Middle);
        self.add(Layer::Dimension, Shape::Text(text));
    }

    fn dimension(&mut self, from: At, to: At, along: Way) {
        self.thin(vec![from, to]);
        for (at, way) in [(from, (-along.0, -along.1)), (to, along)] {
            let back = at.by(-way.0 * 2.2, -way.1 * 2.2);
            let (x, y) = (-way.1 * 0.5, way.0 * 0.5);
            let head = vec![at, back.by(x, y), back.by(-x, -y)];
            let head = Shape::outline(Stroke::NARROW, Fill::Ink, head);
            self.add(Layer::Dimension, head);
        }
    }

    /// A narrow line.
    pub(super) fn thin(&mut self, points: Vec<At>) {
        self.add(Layer::Dimension, Shape::line(Stroke::NARROW, points));
    }

    /// The floor, with strokes below it.
    pub(super) fn floor(&mut self, y: f64, left: f64, right: f64) {
        let ends = vec![At::new(left, y), At::new(right, y)];
        self.add(Layer::Room, Shape::line(Stroke::HEAVY, ends));
        let mut x = left + 3.0;
        while x < right {
            let ends = vec![At::new(x, y), At::new(x - 2.0, y + 2.0)];
            self.add(Layer::Room, Shape::line(Stroke::NARROW, ends));
            x += 4.0;
        }
    }

    /// What is drawn so far, as marks.
    pub(super) fn marks(&self) -> Vec<Mark> {
        let marks = self.shapes.iter();
        marks
            .map(|(layer, shape)| Mark::new(*layer, vec![shape.clone()]))
            .collect()
    }
}

/// Two slanted strokes: pipe is left out between them.
pub(super) fn broken(middle: At) -> Vec<Shape> {
    let stroke = |y: f64| {
        let ends = vec![middle.by(-2.2, y + 0.8), middle.by(2.2, y - 0.8)];
        Shape::line(Stroke::NARROW, ends)
    };
    vec![stroke(-1.0), stroke(1.0)]
}

/// The signs of which none stands for two words.
fn symbol_named(name: &str) -> Option<(&'static str, &'static super::super::Symbol)> {
    const KNOWN: [&str; 19] = [
        "valve",
        "check",
        "hose",
        "union",
        "filter",
        "regulator",
        "lubricator",
        "dryer",
        "coupler",
        "drain-valve",
        "automatic-drain",
        "coupling",
        "reducer",
        "cap",
        "plug",
        "hanger",
        "bracket",
        "flow",
        "tank",
    ];
    let known = KNOWN.into_iter().find(|known| *known == name)?;
    Some((known, symbol(known)?))
}
