//! Words and signs that stand where there is room for them.

use super::Sketch;
use crate::drawing::shape::{Area, At, Fill, Shape, Stroke};
use crate::drawing::text::{Anchor, Text, TextSize, width};
use crate::drawing::{Label, Layer, Mark};
use crate::network::NodeId;

/// A line of a label: its words, size, and whether it is bold.
pub(in crate::drawing) type Line = (String, TextSize, bool);

/// Where a label goes.
#[derive(Clone, Copy)]
pub(in crate::drawing) struct Spot {
    /// What it names.
    pub(in crate::drawing) at: At,
    /// How far it keeps from there.
    pub(in crate::drawing) gap: f64,
    /// Where it would best be.
    pub(in crate::drawing) towards: (f64, f64),
}

impl Sketch<'_> {
    /// Writes lines where there is room for them, with a leader from afar.
    pub(in crate::drawing) fn label(
        &mut self,
        spot: Spot,
        lines: &[Line],
        name: (&str, &str),
    ) -> bool {
        let wide = |(words, size, bold): &Line| width(words, *size, *bold);
        let across = lines.iter().map(wide).fold(0.0, f64::max);
        let down: f64 = lines.iter().map(|line| line.1.leading()).sum();
        let place = Label {
            gap: spot.gap,
            towards: spot.towards,
            ..Label::new(spot.at, "")
        };
        let Some((area, leader)) = self.board.find(&place, (across, down)) else {
            let words: Vec<&str> = lines.iter().map(|line| &*line.0).collect();
            self.left_out.push(words.join(" "));
            return false;
        };
        let mut shapes = Vec::new();
        if let Some((from, to)) = leader {
            shapes.push(Shape::line(Stroke::NARROW, vec![from, to]));
        }
        let flush_right = area.middle().x < spot.at.x - across / 4.0;
        let (x, anchor) = match flush_right {
            true => (area.right, Anchor::End),
            false => (area.left, Anchor::Start),
        };
        let mut top = area.top;
        for (words, size, bold) in lines {
            let mut text = Text::new(At::new(x, top + 0.86 * size.mm()), *size, &**words);
            text.bold = *bold;
            shapes.push(Shape::Text(text.anchored(anchor)));
            top += size.leading();
        }
        self.board.block(&shapes);
        self.board.block_area(area);
        let (id, title) = name;
        self.marks
            .push(Mark::named(Layer::Label, id, title, shapes));
        true
    }

    /// A number in a ring where there is room for it.
    pub(in crate::drawing) fn ring(
        &mut self,
        spot: Spot,
        number: &str,
        name: (&str, &str),
    ) -> bool {
        let mut label = Label::new(spot.at, number);
        label.ringed = true;
        label.gap = spot.gap;
        label.towards = spot.towards;
        match self.board.place(&label) {
            Some(shapes) => {
                self.marks
                    .push(Mark::named(Layer::Label, name.0, name.1, shapes));
                true
            }
            None => {
                self.left_out.push(number.to_owned());
                false
            }
        }
    }

    /// Draws a sign that takes some room near a place where nothing stands yet.
    pub(in crate::drawing) fn near(&mut self, spot: Spot, room: (f64, f64), sign: &[Shape]) -> At {
        let place = Label {
            gap: spot.gap,
            towards: spot.towards,
            ..Label::new(spot.at, "")
        };
        let found = self.board.find(&place, room);
        let (middle, leader) =
            found.map_or((spot.at, None), |(area, leader)| (area.middle(), leader));
        let mut shapes: Vec<Shape> = sign
            .iter()
            .map(|shape| shape.moved(middle.x, middle.y))
            .collect();
        if let Some((from, to)) = leader {
            shapes.push(Shape::line(Stroke::NARROW, vec![from, to]));
        }
        self.draw(Mark::new(Layer::Part, shapes));
        middle
    }

    /// Every outlet's take-off.
    pub(in crate::drawing) fn take_offs(&mut self) {
        for (take_off, ..) in self.numbered() {
            // No label where another's leader begins.
            let here = self.at(take_off);
            self.board.block_area(Area::of(here, here).grown(0.35));
            let shapes = self.sign("outlet", self.at(take_off), (1.0, 0.0));
            self.draw(Mark::new(Layer::Part, shapes));
        }
    }

    /// The number of every outlet.
    pub(in crate::drawing) fn numbers(&mut self) {
        for (take_off, number, name) in self.numbered() {
            let spot = Spot {
                at: self.at(take_off),
                gap: 1.8,
                towards: self.outwards(take_off),
            };
            let (id, title) = (
                format!("outlet-{number}"),
                format!("Outlet {number}, {name}"),
            );
            self.ring(spot, &number.to_string(), (&id, &title));
        }
        let ring = Shape::circle(Stroke::NARROW, Fill::Open, At::default(), 2.4);
        let number = Text::centred(At::default(), TextSize::Small, "1");
        if !self.tags.outlets.is_empty() {
            self.means("number of the outlet", vec![ring, Shape::Text(number)]);
        }
    }

    /// Every outlet's place on the main, its number and its name.
    fn numbered(&self) -> Vec<(NodeId, usize, String)> {
        let outlets = self.tags.outlets.iter();
        let numbered = outlets.filter_map(|(foot, number, name)| {
            let drop = self
                .network
                .drops
                .iter()
                .find(|drop| drop.foot_at == *foot)?;
            Some((drop.take_off_at, *number, name.clone()))
        });
        numbered.collect()
    }
}
