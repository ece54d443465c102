//! A dimension line with its figures, strokes and extension lines.

use super::super::shape::{Area, At, Shape, Stroke};
use super::super::text::{Anchor, Text, TextSize, width};
use super::draft::Draft;

/// From what is measured to where its extension line begins, and past the line.
const GAP: f64 = 1.2;
/// Half a stroke, along each axis.
const TICK: f64 = 0.9;

/// A row of dimensions that stand in line.
pub(super) struct Chain {
    /// The places between which it measures, along the line from the left or the top.
    pub(super) stops: Vec<f64>,
    /// What is measured between two of them.
    pub(super) figures: Vec<String>,
    /// Where what is measured lies across the line, and the line itself.
    pub(super) from: f64,
    pub(super) line: f64,
    pub(super) upright: bool,
}

impl Chain {
    fn at(&self, along: f64, across: f64) -> At {
        if self.upright {
            At::new(across, along)
        } else {
            At::new(along, across)
        }
    }

    /// Its figures, where they all fit.
    fn texts(&self) -> Option<Vec<Text>> {
        let size = TextSize::Small;
        let last = self.figures.len().checked_sub(1)?;
        let mut texts = Vec::new();
        for (number, (pair, figure)) in self.stops.windows(2).zip(&self.figures).enumerate() {
            let long = width(figure, size, false);
            let room = pair[1] - pair[0];
            let middle = f64::midpoint(pair[0], pair[1]);
            // A figure that is too long for its place may stand outside at an end.
            let along = if long + 2.4 <= room {
                middle
            } else if number == last && number > 0 {
                pair[1] + 1.5 + long / 2.0
            } else if number == 0 && last > 0 {
                pair[0] - 1.5 - long / 2.0
            } else {
                return None;
            };
            let mut text = Text::new(self.at(along, self.line - 1.1), size, &**figure);
            text.turned = self.upright;
            texts.push(text.anchored(Anchor::Middle));
        }
        Some(texts)
    }

    /// Its lines: extension lines first, then the line and its strokes.
    fn lines(&self) -> Vec<Shape> {
        let mut shapes = Vec::new();
        let out = (self.line - self.from).signum();
        for stop in &self.stops {
            let ends = [self.from + out * GAP, self.line + out * GAP];
            let points = ends.map(|across| self.at(*stop, across));
            shapes.push(Shape::line(Stroke::NARROW, points.to_vec()));
            let middle = self.at(*stop, self.line);
            let stroke = vec![middle.by(-TICK, TICK), middle.by(TICK, -TICK)];
            shapes.push(Shape::line(Stroke::WIDE, stroke));
        }
        if let (Some(first), Some(last)) = (self.stops.first(), self.stops.last()) {
            let points = vec![self.at(*first, self.line), self.at(*last, self.line)];
            shapes.push(Shape::line(Stroke::NARROW, points));
        }
        shapes
    }
}

impl Draft<'_> {
    /// A chain, if its figures fit and meet nothing, nor its lines any text, nor, unless
    /// it may be `crossing`, its dimension line anything.
    pub(super) fn chained(&self, chain: &Chain, crossing: bool) -> Option<Vec<Shape>> {
        let texts = chain.texts()?;
        let mut shapes = chain.lines();
        let figures: Vec<Area> = texts.iter().map(Text::area).collect();
        let free = figures
            .iter()
            .all(|area| self.board.is_free(&area.grown(0.6)));
        let clear = shapes.iter().flat_map(Shape::segments).all(|(from, to)| {
            let beside = |area: &Area| !area.grown(0.3).is_crossed(from, to);
            self.board.is_clear(from, to, false) && figures.iter().all(beside)
        });
        // Nor may texts stand close to the dimension line.
        let beside = |off: f64| {
            let at = |stop: f64| chain.at(stop, chain.line + off);
            let mut ends = chain.stops.windows(2);
            ends.all(|pair| self.board.is_clear(at(pair[0]), at(pair[1]), false))
        };
        let clear = clear && beside(0.8) && beside(-0.8);
        let line = Area::of(
            chain.at(*chain.stops.first()?, chain.line),
            chain.at(*chain.stops.last()?, chain.line),
        );
        let on_sheet = self.view.board.holds(&line.grown(TICK));
        // A line along another one could not be told from it.
        let ends = (
            At::new(line.left, line.top),
            At::new(line.right, line.bottom),
        );
        let shares = (1..20_u8).map(|step| f64::from(step) / 20.0);
        let met = shares.filter(|share| {
            let at = ends.0.towards(ends.1, *share);
            !self.board.is_free(&Area::of(at, at).grown(1.0))
        });
        let most = if crossing { 5 } else { 0 };
        if !(free && clear && on_sheet && met.count() <= most) {
            return None;
        }
        shapes.extend(texts.into_iter().map(Shape::Text));
        Some(shapes)
    }
}
