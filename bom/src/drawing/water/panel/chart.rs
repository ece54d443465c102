//! The pipe from the side, with its signs and heights.

use super::limits::{Limit, limits};
use super::{LEFT, Panel};
use crate::drawing::shape::{Area, At, Shape, Stroke, Weight};
use crate::drawing::text::{Anchor, Text, TextSize};
use crate::drawing::{Board, Label, Layer, Mark};
use crate::network::NodeKind;
use crate::water::{EndKind, Place};

impl Panel<'_> {
    /// Axis, floor, limits, pipe and signs; labels where there is room.
    pub(super) fn chart(&mut self) {
        let board_area = Area::of(
            At::new(LEFT + 0.5, 5.0),
            At::new(self.right + 6.0, self.floor() - 0.6),
        );
        let mut board = Board::new(board_area);
        let mut shapes = self.axis();
        self.marks
            .push(Mark::new(Layer::Dimension, std::mem::take(&mut shapes)));
        let limits = limits(self.side, self.run);
        for limit in &limits {
            let y = self.y(limit.height);
            let ends = vec![At::new(self.x(limit.from), y), At::new(self.x(limit.to), y)];
            shapes.push(Shape::line(Stroke::new(Weight::Narrow, limit.dash), ends));
        }
        board.block(&shapes);
        self.marks
            .push(Mark::new(Layer::Room, std::mem::take(&mut shapes)));
        let path: Vec<At> = self.run.places.iter().map(|place| self.at(place)).collect();
        for pair in path.windows(2) {
            if (pair[0].x - pair[1].x).abs() < 1e-6 {
                for above in self.bands.breaks() {
                    let y = self.floor() - above;
                    if y > pair[0].y.min(pair[1].y) && y < pair[0].y.max(pair[1].y) {
                        shapes.extend(cut(At::new(pair[0].x, y)));
                    }
                }
            }
        }
        let pipe = vec![Shape::line(Stroke::WIDE, path)];
        board.block(&pipe);
        self.marks.push(Mark::new(Layer::Pipe, pipe));
        shapes.extend(self.parts());
        board.block(&shapes);
        for place in self.run.places {
            let at = self.at(place);
            board.block_line(at, At::new(at.x, self.floor() + 1.0));
        }
        self.marks.push(Mark::new(Layer::Part, shapes));
        let texts = self.texts(&limits);
        for (_, _, at, _) in &texts {
            // No label where another's leader begins.
            board.block_area(Area::of(*at, *at).grown(0.35));
        }
        for (words, bold, at, towards) in texts {
            let label = Label {
                bold,
                towards,
                gap: 1.6,
                ..Label::new(at, words)
            };
            let shapes = board.place(&label).unwrap_or_default();
            self.marks.push(Mark::new(Layer::Label, shapes));
        }
    }

    /// What is written into the chart: pockets, limits, hangers' numbers.
    fn texts(&self, limits: &[Limit]) -> Vec<(String, bool, At, (f64, f64))> {
        let mut texts = Vec::new();
        for end in &self.side.scene.plan.water.ends {
            let here = self.run.places.iter().find(|place| place.at == end.at);
            if let (EndKind::Pocket, Some(place)) = (&end.kind, here) {
                texts.push((
                    "POCKET: no drain".to_owned(),
                    true,
                    self.at(place),
                    (0.4, 1.0),
                ));
            }
        }
        for (number, along, height) in &self.run.hangers {
            let at = At::new(self.x(*along), self.y(*height) - 2.2);
            texts.push((number.to_string(), false, at, (0.0, -1.0)));
        }
        for limit in limits {
            let x = f64::midpoint(self.x(limit.from), self.x(limit.to));
            texts.push((
                limit.words.clone(),
                false,
                At::new(x, self.y(limit.height)),
                (0.3, -1.0),
            ));
        }
        texts
    }

    /// The heights at the left, the floor, and the marks of what is left out.
    fn axis(&self) -> Vec<Shape> {
        let x = LEFT - 3.0;
        let floor = self.floor();
        let units = self.side.scene.plan.summary.units;
        let mut shapes = vec![
            Shape::line(
                Stroke::NARROW,
                vec![At::new(x, self.top - 2.0), At::new(x, floor)],
            ),
            Shape::line(
                Stroke::HEAVY,
                vec![At::new(x, floor), At::new(self.right + 2.0, floor)],
            ),
        ];
        for above in self.bands.breaks() {
            shapes.extend(cut(At::new(x, floor - above)));
        }
        let mut last: Option<f64> = None;
        for (low, high) in &self.bands.bands {
            for height in [*low, *high] {
                let y = floor - self.bands.above(height);
                if last.is_some_and(|last| last - y < 3.4) {
                    continue;
                }
                last = Some(y);
                shapes.push(Shape::line(
                    Stroke::NARROW,
                    vec![At::new(x - 1.2, y), At::new(x, y)],
                ));
                let exact = |place: &&Place| (place.height.mm() - height).abs() < 1e-6;
                let limits = limits(self.side, self.run);
                let limit = limits
                    .iter()
                    .find(|one| (one.height.mm() - height).abs() < 1e-6);
                let place = self.run.places.iter().find(exact).map(|place| place.height);
                let words = match place.or(limit.map(|limit| limit.height)) {
                    Some(height) => height.show(units),
                    None => "floor".to_owned(),
                };
                let at = At::new(x - 1.8, y + 0.365 * TextSize::Small.mm());
                shapes.push(Shape::Text(
                    Text::new(at, TextSize::Small, words).anchored(Anchor::End),
                ));
            }
        }
        shapes
    }

    /// Signs on the pipe.
    fn parts(&mut self) -> Vec<Shape> {
        let network = &self.side.scene.plan.network;
        let mut shapes = Vec::new();
        for place in self.run.places {
            let at = self.at(place);
            if network
                .drops
                .iter()
                .any(|drop| drop.take_off_at == place.at)
            {
                shapes.extend(self.sign("outlet", at, (0.8, 0.0), (0.0, 0.8)));
            }
            if self.side.tags.drain_at(place.at).is_some() {
                shapes.push(Shape::line(Stroke::WIDE, vec![at, at.by(0.0, 1.2)]));
                shapes.extend(self.sign("drain-valve", at.by(0.0, 2.7), (0.0, 0.75), (-0.75, 0.0)));
            }
            if matches!(network.node(place.at).kind, NodeKind::Device { .. })
                && network.is_line_valve(place.at)
            {
                shapes.extend(self.sign("valve", at, (0.8, 0.0), (0.0, 0.8)));
            }
        }
        for (_, along, height) in &self.run.hangers {
            let at = At::new(self.x(*along), self.y(*height));
            shapes.extend(self.sign("hanger", at, (0.7, 0.0), (0.0, 0.7)));
        }
        shapes
    }
}

/// Two strokes where something is left out.
fn cut(at: At) -> Vec<Shape> {
    let stroke = |off: f64| {
        let ends = vec![at.by(-1.2, off + 0.5), at.by(1.2, off - 0.5)];
        Shape::line(Stroke::NARROW, ends)
    };
    vec![stroke(-0.5), stroke(0.5)]
}
