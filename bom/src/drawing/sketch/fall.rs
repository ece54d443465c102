//! Arrows of fall beside the pipe.

use super::Sketch;
use crate::drawing::shape::{Area, At};
use crate::drawing::{Layer, Mark};
use crate::job::Direction;
use crate::network::{LinkId, NodeId};
use std::cmp::Ordering;

/// Straight main that falls one way.
struct Stretch {
    from: NodeId,
    to: NodeId,
    direction: Direction,
    falls: Ordering,
}

/// A stretch that is shorter on paper has no arrow.
const LEAST: f64 = 6.0;
/// On a longer one they stand so far apart.
const APART: f64 = 55.0;
/// Where along its piece of pipe an arrow is tried, as shares of it.
const SHIFTS: [f64; 9] = [0.0, 0.15, -0.15, 0.3, -0.3, 0.08, -0.08, 0.22, -0.22];
/// From the pipe to the arrow's foot; farther where outlets are in its way.
const OFF: [f64; 2] = [1.3, 2.0];

impl Sketch<'_> {
    /// Marks beside all main that falls which way it does.
    pub(in crate::drawing) fn falls(&mut self) {
        for stretch in self.stretches() {
            let (from, to) = match stretch.falls {
                Ordering::Equal => continue,
                Ordering::Less => (stretch.from, stretch.to),
                Ordering::Greater => (stretch.to, stretch.from),
            };
            let (from, to) = (self.at(from), self.at(to));
            let length = from.distance(to);
            if length < LEAST {
                continue;
            }
            let mut pieces = 1.0;
            while length / pieces > APART {
                pieces += 1.0;
            }
            let mut piece = 0.5;
            while piece < pieces {
                self.arrow(from, to, piece / pieces, 1.0 / pieces);
                piece += 1.0;
            }
        }
    }

    /// An arrow near a share of the way, on the side that is free.
    fn arrow(&mut self, from: At, to: At, share: f64, piece: f64) {
        let length = from.distance(to);
        let along = ((to.x - from.x) / length, (to.y - from.y) / length);
        // Above level pipe, to the left of pipe that runs north; then the other side.
        let above = match along.0.abs() > 1e-6 {
            true => (along.1 * along.0.signum(), -along.0.abs()),
            false => (-1.0, 0.0),
        };
        // Its sign stands on its own foot, its upper side up.
        let up = match along.0 < 0.0 {
            true => (-along.1, along.0),
            false => (along.1, -along.0),
        };
        for off in OFF {
            for shift in SHIFTS {
                let at = from.towards(to, share + shift * piece);
                for side in [above, (-above.0, -above.1)] {
                    // Where it looks at the pipe it stands farther off.
                    let towards = side.0 * up.0 + side.1 * up.1;
                    let off = if towards > 0.0 { off } else { off + 1.1 };
                    let foot = at.by(side.0 * off, side.1 * off);
                    let room = Area::of(
                        foot.by(-3.0 * along.0, -3.0 * along.1),
                        foot.by(3.0 * along.0, 3.0 * along.1),
                    );
                    let room = room.with(&Area::of(foot, foot.by(1.1 * up.0, 1.1 * up.1)));
                    if self.is_free(&room.grown(0.4)) {
                        let shapes = self.sign("fall", foot, along);
                        self.draw(Mark::new(Layer::Flow, shapes));
                        return;
                    }
                }
            }
        }
    }

    fn stretches(&self) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        for (id, from, to, link) in self.network.links() {
            if !link.is_main() || !link.direction.is_level() {
                continue;
            }
            let falls = self.falls_of(id);
            match stretches.last_mut() {
                Some(last)
                    if last.to == from
                        && last.direction == link.direction
                        && last.falls == falls =>
                {
                    last.to = to;
                }
                _ => stretches.push(Stretch {
                    from,
                    to,
                    direction: link.direction,
                    falls,
                }),
            }
        }
        stretches
    }

    /// How its end lies to its beginning.
    pub(in crate::drawing) fn falls_of(&self, link: LinkId) -> Ordering {
        let [from, to] = self
            .network
            .ends_of(link)
            .map(|end| self.network.node(end).at.up);
        to.cmp(&from)
    }
}
