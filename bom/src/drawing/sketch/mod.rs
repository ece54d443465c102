//! The main from above in a few lines, north up: not to scale where height is
//! concerned, since upright pipe is drawn slanting.

mod fall;
mod label;
mod sheets;
mod view;

pub(super) use label::{Line, Spot};

use super::page::Block;
use super::shape::{Area, At, Dash, Fill, Shape, Stroke, Weight};
use super::text::{Anchor, Text, TextSize};
use super::{Board, Entry, Layer, Mark, Tags, symbol, tags};
use crate::Plan;
use crate::network::{LinkId, Network, NodeId};
use view::View;

/// Kept free for labels at the sides of the pipe, and above and below it.
const MARGIN: (f64, f64) = (21.0, 13.0);
/// From where the pipe begins to the middle of its tank: room for a valve.
const TANK: f64 = 11.0;

/// A sketch that is being drawn.
pub(super) struct Sketch<'a> {
    pub(super) network: &'a Network,
    pub(super) tags: Tags,
    pub(super) marks: Vec<Mark>,
    /// What found no place on it, in words.
    pub(super) left_out: Vec<String>,
    board: Board,
    view: View,
    entries: Vec<Entry>,
    tanks: Vec<(NodeId, At)>,
    down: f64,
}

impl<'a> Sketch<'a> {
    /// The main, its tanks and the north arrow, from the origin so far across and down.
    pub(super) fn new(plan: &'a Plan, across: f64, down: f64) -> Self {
        let network = &plan.network;
        let mut sketch = Self {
            network,
            tags: tags(plan),
            marks: Vec::new(),
            left_out: Vec::new(),
            board: Board::new(Area::of(At::default(), At::new(across, down))),
            view: View::of(network, Self::within(across, down)),
            entries: Vec::new(),
            tanks: Vec::new(),
            down,
        };
        sketch.north(across);
        sketch.main();
        sketch.tanks();
        sketch
    }

    /// Where a place is drawn.
    pub(super) fn at(&self, node: NodeId) -> At {
        self.view.at(self.network, node)
    }

    /// Says in the legend what a sign means, once.
    pub(super) fn means(&mut self, words: &str, sign: Vec<Shape>) {
        if self.entries.iter().all(|entry| entry.words != words) {
            let words = words.to_owned();
            self.entries.push(Entry { sign, words });
        }
    }

    /// Draws something that stands where it stands.
    pub(super) fn draw(&mut self, mark: Mark) {
        self.board.block(&mark.shapes);
        self.marks.push(mark);
    }

    /// Whether nothing stands in an area.
    pub(super) fn is_free(&self, area: &Area) -> bool {
        self.board.is_free(area)
    }

    /// A sign of the list at a place, its right along a direction; the legend says
    /// what it is.
    pub(super) fn sign(&mut self, name: &str, at: At, along: (f64, f64)) -> Vec<Shape> {
        let Some(sign) = symbol(name) else {
            return Vec::new();
        };
        self.means(
            &sign.words,
            sign.drawn(At::default(), (1.0, 0.0), (0.0, 1.0)),
        );
        // Its upper side stays up.
        let across = match along.0 < 0.0 {
            true => (along.1, -along.0),
            false => (-along.1, along.0),
        };
        sign.drawn(at, along, across)
    }

    /// Square to the pipe at a place and away from the middle of the sketch.
    pub(super) fn outwards(&self, node: NodeId) -> (f64, f64) {
        let here = self.at(node);
        let mut ends: Vec<_> = self
            .network
            .ends(node)
            .filter(|end| self.network.link(end.link).is_main())
            .collect();
        ends.sort_by_key(|end| (!end.direction.is_level(), end.link));
        let along = ends.into_iter().find_map(|end| {
            let far = self.at(end.far);
            let length = here.distance(far);
            (length > 1e-6).then(|| ((far.x - here.x) / length, (far.y - here.y) / length))
        });
        let (x, y) = along.unwrap_or((1.0, 0.0));
        let middle = self.view.middle();
        let square = (-y, x);
        match square.0 * (here.x - middle.x) + square.1 * (here.y - middle.y) < -1e-6 {
            true => (-square.0, -square.1),
            false => square,
        }
    }

    /// Draws all main again in another line: `style` says which, if any.
    pub(super) fn main_in(&mut self, style: &dyn Fn(LinkId) -> Option<Stroke>) -> Vec<Shape> {
        let mut paths: Vec<(Stroke, Vec<At>)> = Vec::new();
        let mut last = None;
        for (id, from, to, link) in self.network.links() {
            let Some(stroke) = style(id).filter(|_| link.is_main()) else {
                last = None;
                continue;
            };
            match paths.last_mut() {
                Some((same, path)) if last == Some(from) && *same == stroke => {
                    path.push(self.at(to))
                }
                _ => paths.push((stroke, vec![self.at(from), self.at(to)])),
            }
            last = Some(to);
        }
        paths
            .into_iter()
            .map(|(stroke, path)| Shape::line(stroke, path))
            .collect()
    }

    fn main(&mut self) {
        let shapes = self.main_in(&|_| Some(Stroke::WIDE));
        self.draw(Mark::new(Layer::Pipe, shapes));
        let mut links = self.network.links();
        if links.any(|(.., link)| link.is_main() && !link.direction.is_level()) {
            let sign = vec![At::new(-1.5, 2.2), At::new(1.1, -2.2)];
            self.means(
                "upright pipe, drawn slanting",
                vec![Shape::line(Stroke::WIDE, sign)],
            );
        }
    }

    /// Every tank beside where its pipe begins, with the line that connects it.
    fn tanks(&mut self) {
        for port in self.network.ports().collect::<Vec<_>>() {
            let here = self.at(port);
            let outwards = match here.x > self.view.middle().x {
                true => (1.0, 0.0),
                false => (-1.0, 0.0),
            };
            let ways = [outwards, (0.0, 1.0), (0.0, -1.0), (-outwards.0, 0.0)];
            let room = |way: &(f64, f64)| {
                let middle = here.by(way.0 * TANK, way.1 * TANK);
                let near = here.by(way.0, way.1);
                Area::of(middle.by(-4.5, -3.0), middle.by(4.5, 3.0)).with(&Area::of(near, near))
            };
            let free = ways.iter().find(|way| self.is_free(&room(way)));
            let way = free.copied().unwrap_or(outwards);
            let middle = here.by(way.0 * TANK, way.1 * TANK);
            let mut shapes = vec![Shape::line(Stroke::WIDE, vec![here, middle])];
            shapes.extend(self.sign("tank", middle, (1.0, 0.0)));
            self.draw(Mark::new(Layer::Part, shapes));
            self.tanks.push((port, middle));
        }
    }

    /// Where the tank of a port is drawn.
    pub(super) fn tank(&self, port: NodeId) -> At {
        let tank = self.tanks.iter().find(|(one, _)| *one == port);
        tank.map_or_else(|| self.at(port), |(_, at)| *at)
    }

    fn north(&mut self, across: f64) {
        let (x, top) = (across - 4.0, 1.0);
        let arrow = vec![
            At::new(x, top),
            At::new(x - 1.6, top + 5.0),
            At::new(x + 1.6, top + 5.0),
        ];
        let shaft = vec![At::new(x, top + 5.0), At::new(x, top + 9.0)];
        let letter = Text::new(At::new(x, top + 12.6), TextSize::Plain, "N").bold();
        let shapes = vec![
            Shape::outline(Stroke::NARROW, Fill::Ink, arrow),
            Shape::line(Stroke::new(Weight::Narrow, Dash::Whole), shaft),
            Shape::Text(letter.anchored(Anchor::Middle)),
        ];
        self.draw(Mark::named(Layer::Note, "north", "North is up", shapes));
    }

    /// The sketch, and what found no place on it in words.
    pub(super) fn finished(mut self, across: f64) -> Vec<Block> {
        let shapes = self.marks.iter().flat_map(|mark| &mark.shapes);
        let bottoms = shapes.filter_map(Shape::area).map(|area| area.bottom);
        let down = bottoms.fold(0.0, f64::max).min(self.down);
        let mut blocks = vec![Block {
            marks: std::mem::take(&mut self.marks),
            signs: self.entries,
            across,
            down,
        }];
        if !self.left_out.is_empty() {
            let without = format!("No room on the sketch for: {}.", self.left_out.join("; "));
            blocks.push(Block::note(&without, across));
        }
        blocks
    }
}
