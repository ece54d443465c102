//! Main that is taken out, and main that comes later, beside the main that is drawn.

use super::super::shape::{At, Shape, Stroke};
use super::super::{Label, Layer, Mark};
use super::draft::Draft;
use super::pipes::stroke;
use crate::Beside;
use crate::job::State;

/// How far it is drawn from main that runs in its place.
const ASIDE: f64 = 2.4;
/// Between two crosses on what is taken out. A line with crosses is common practice, no
/// source.
const CROSSES: f64 = 6.0;
/// Half of a cross.
const CROSS: f64 = 0.8;
/// Lines nearer than this are one.
const ONE_LINE: f64 = 1.2;

impl Draft<'_> {
    /// All of it, each piece with what becomes of it.
    pub(super) fn past_and_later(&mut self) {
        let level = self.level;
        for (number, piece) in level.beside.iter().enumerate() {
            let [from, to] = piece.ends.map(|end| self.view.at(end));
            if from.distance(to) < ONE_LINE {
                continue;
            }
            let side = self.beside_of(piece, from, to);
            let by = match self.is_taken(from, to) {
                true => ASIDE,
                false => 0.0,
            };
            let [from, to] = [from, to].map(|at| at.by(side.0 * by, side.1 * by));
            let Some((from, to)) = self.view.clip(from, to) else {
                continue;
            };
            let words = words(piece);
            let id = format!("beside-{}", number + 1);
            self.put(Mark::named(
                Layer::Pipe,
                &id,
                &words,
                line(piece.state, from, to),
            ));
            if self.is_told(piece) {
                continue;
            }
            let mut label = Label::new(from.towards(to, 0.5), words);
            (label.gap, label.towards) = (1.2, side);
            if let Some(shapes) = self.may(&label) {
                self.marks.push(Mark::new(Layer::Label, shapes));
            }
        }
    }

    /// The side to which it is moved, and its label stands: into the room.
    fn beside_of(&self, piece: &Beside, from: At, to: At) -> (f64, f64) {
        let long = from.distance(to);
        let along = ((to.x - from.x) / long, (to.y - from.y) / long);
        let [start, _] = piece.ends;
        let middle = super::view::moved(start, along, long / 2.0 * self.view.per);
        self.inwards(middle, (-along.1, along.0))
    }

    /// Whether the plug from which it goes on says all of it.
    fn is_told(&self, piece: &Beside) -> bool {
        let mut plugged = self.scene.plan.network.plugged.iter();
        piece.outlets.is_empty() && plugged.any(|one| one.to_come && one.name == piece.leg)
    }

    /// Whether main is drawn in the same place.
    fn is_taken(&self, from: At, to: At) -> bool {
        let network = &self.scene.plan.network;
        let long = from.distance(to);
        let along = ((to.x - from.x) / long, (to.y - from.y) / long);
        let place = |at: At| {
            let (x, y) = (at.x - from.x, at.y - from.y);
            (x * along.0 + y * along.1, (y * along.0 - x * along.1).abs())
        };
        self.level.links.iter().any(|link| {
            let ends = network.ends_of(*link);
            let [a, b] = ends.map(|end| place(self.view.at(network.node(end).at)));
            let shared = a.0.max(b.0).min(long) - a.0.min(b.0).max(0.0);
            a.1.max(b.1) < ONE_LINE && shared > ONE_LINE
        })
    }
}

/// What becomes of it.
fn words(piece: &Beside) -> String {
    match piece.state {
        State::Later if piece.outlets.is_empty() => format!("later: {}", piece.leg),
        State::Later => format!("later: {}", piece.outlets.join(", ")),
        _ => format!("out: {}", piece.leg),
    }
}

/// A line in the manner of its state.
pub(super) fn line(state: State, from: At, to: At) -> Vec<Shape> {
    let mut shapes = vec![Shape::line(stroke(state), vec![from, to])];
    if state == State::Remove {
        let long = from.distance(to);
        let mut far = CROSSES / 2.0;
        while far < long {
            let at = from.towards(to, far / long);
            for up in [CROSS, -CROSS] {
                let ends = vec![at.by(-CROSS, -up), at.by(CROSS, up)];
                shapes.push(Shape::line(Stroke::NARROW, ends));
            }
            far += CROSSES;
        }
    }
    shapes
}
