//! A sheet while it is drawn.

use super::super::board::{AIR, Board, Label, STEPS, ways};
use super::super::shape::{Area, At, Fill, Shape, Stroke};
use super::super::tags::Tags;
use super::super::text::{Text, TextSize, width};
use super::super::{Layer, Mark, Scene};
use super::level::Level;
use super::view::View;

/// What is drawn so far, and whether something found no room.
#[derive(Debug)]
pub(super) struct Draft<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) level: &'a Level,
    pub(super) tags: &'a Tags,
    pub(super) view: View,
    /// Whether outlets have their names beside their numbers.
    pub(super) names: bool,
    pub(super) board: Board,
    pub(super) marks: Vec<Mark>,
    /// What is not labelled for want of room.
    pub(super) lacking: usize,
    /// How many numbers stand off their outlets.
    pub(super) off: usize,
}

/// The radius of the ring round a number.
const RING: f64 = 2.5;

impl<'a> Draft<'a> {
    pub(super) fn new(
        scene: &'a Scene<'a>,
        level: &'a Level,
        tags: &'a Tags,
        view: View,
        names: bool,
    ) -> Self {
        Self {
            scene,
            level,
            tags,
            view,
            names,
            board: Board::new(view.board),
            marks: Vec::new(),
            lacking: 0,
            off: 0,
        }
    }

    /// Draws something that labels keep off.
    pub(super) fn put(&mut self, mark: Mark) {
        self.board.block(&mark.shapes);
        self.marks.push(mark);
    }

    /// Places a label that has to be there; what is drawn for it.
    pub(super) fn must(&mut self, label: &Label) -> Vec<Shape> {
        self.board.place(label).unwrap_or_else(|| {
            self.lacking += 1;
            Vec::new()
        })
    }

    /// Places a label if there is room right beside what it names.
    pub(super) fn may(&mut self, label: &Label) -> Option<Vec<Shape>> {
        let mut board = self.board.clone();
        let shapes = board.place(label)?;
        if shapes.iter().any(|shape| !matches!(shape, Shape::Text(_))) {
            return None;
        }
        self.board = board;
        Some(shapes)
    }

    /// A number in a ring beside a sign of a `radius`, with a name beside the ring.
    pub(super) fn numbered(
        &mut self,
        at: At,
        radius: f64,
        towards: (f64, f64),
        number: usize,
        name: &str,
    ) -> Vec<Shape> {
        let digits = number.to_string();
        let ring = RING.max(width(&digits, TextSize::Small, true) / 2.0 + 0.8);
        for strict in [true, false] {
            for step in STEPS {
                for way in ways(towards) {
                    let reach = radius + 0.7 + step + ring;
                    let middle = at.by(way.0 * reach, way.1 * reach);
                    let half = ring + 0.2;
                    let around = Area::of(middle.by(-half, -half), middle.by(half, half));
                    if !self.board.is_free(&around) {
                        continue;
                    }
                    let far = at.distance(middle);
                    let leader = (
                        at.towards(middle, (radius + 0.2) / far),
                        middle.towards(at, ring / far),
                    );
                    let long = far - radius - ring;
                    if long > 1.2 && !self.board.is_clear(leader.0, leader.1, strict) {
                        continue;
                    }
                    let named = self.names && !name.is_empty();
                    let text = self.beside(middle, ring, way, name).filter(|_| named);
                    if named && text.is_none() {
                        continue;
                    }
                    let mut shapes = Vec::new();
                    if long > 1.2 {
                        self.off += 1;
                        shapes.push(Shape::line(Stroke::NARROW, vec![leader.0, leader.1]));
                    }
                    shapes.push(Shape::circle(Stroke::NARROW, Fill::Open, middle, ring));
                    let digits = Text::centred(middle, TextSize::Small, digits).bold();
                    shapes.push(Shape::Text(digits));
                    shapes.extend(text.map(Shape::Text));
                    self.board.block(&shapes);
                    self.board.block_area(around);
                    return shapes;
                }
            }
        }
        self.lacking += 1;
        Vec::new()
    }

    /// A name beside a ring where it finds room: away from what it names first.
    fn beside(&self, middle: At, ring: f64, way: (f64, f64), name: &str) -> Option<Text> {
        let size = TextSize::Plain;
        let long = width(name, size, true);
        let right = At::new(middle.x + ring + 0.8, middle.y + 0.365 * size.mm());
        let left = At::new(middle.x - ring - 0.8 - long, right.y);
        let below = At::new(
            middle.x - long / 2.0,
            middle.y + ring + 0.7 + 0.76 * size.mm(),
        );
        let above = At::new(below.x, middle.y - ring - 0.6 - 0.22 * size.mm());
        let sides = if way.0 < -0.1 {
            [left, right]
        } else {
            [right, left]
        };
        let ends = if way.1 < -0.1 {
            [above, below]
        } else {
            [below, above]
        };
        let mut places = sides
            .into_iter()
            .chain(ends)
            .map(|at| Text::new(at, size, name).bold());
        places.find(|text| self.board.is_free(&text.area().grown(AIR)))
    }

    /// The free place for a box that is nearest to the middle of an area.
    pub(super) fn spot(&self, within: &Area, (across, down): (f64, f64)) -> Option<Area> {
        let middle = within.middle();
        let mut places: Vec<At> = Vec::new();
        for row in -10..=10_i8 {
            for column in -10..=10_i8 {
                let share = |number: i8| f64::from(number) / 20.0;
                let x = middle.x + share(column) * (within.width() - across);
                let y = middle.y + share(row) * (within.height() - down);
                places.push(At::new(x, y));
            }
        }
        places.sort_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)));
        let areas = places.into_iter().map(|at| {
            let half = (across / 2.0, down / 2.0);
            Area::of(at.by(-half.0, -half.1), at.by(half.0, half.1))
        });
        let free = areas.filter(|area| within.holds(area));
        let free: Vec<Area> = free
            .filter(|area| self.board.is_free(&area.grown(AIR)))
            .collect();
        // Far from other names, if that can be.
        let mut airy = free.iter();
        airy.find(|area| self.board.is_free(&area.grown(4.0)))
            .or(free.first())
            .copied()
    }

    /// Text on lines below each other in an area, each in its middle.
    pub(super) fn titled(&mut self, area: &Area, lines: &[(TextSize, bool, String)]) {
        let mut top = area.top;
        let mut shapes = Vec::new();
        for (size, bold, words) in lines {
            let at = At::new(area.middle().x, top + size.mm() / 2.0);
            let mut text = Text::centred(at, *size, &**words);
            text.bold = *bold;
            shapes.push(Shape::Text(text));
            top += size.leading();
        }
        self.put(Mark::new(Layer::Label, shapes));
    }
}
