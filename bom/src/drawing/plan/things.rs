//! What an owner points at: outlets, valves, drains, tanks and upright pipe, each
//! with its sign and then, once all signs stand, its label.

use super::super::shape::{At, Shape, Stroke};
use super::super::symbol::symbol;
use super::super::text::TextSize;
use super::super::{Label, Layer, Mark};
use super::draft::Draft;
use super::pipes::stroke;
use super::view::{moved, way};
use crate::job::{Direction, State, TakeOff};
use crate::network::{Drop, NodeId, Point};

/// From the main's middle to the middle of an outlet's sign.
const STUB: f64 = 3.4;

/// How far what is to come is drawn from the main.
const LATER: f64 = 5.0;

/// A sign that waits for its label.
#[derive(Debug)]
pub(super) struct Thing {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) sign: Vec<Shape>,
    pub(super) labels: Labels,
}

#[derive(Debug)]
pub(super) enum Labels {
    /// A number in a ring, with a name.
    Ringed {
        at: At,
        towards: (f64, f64),
        number: usize,
        name: String,
    },
    /// Text beside it.
    Plain(Label),
}

/// Bold text beside a sign.
pub(super) fn bold(at: At, gap: f64, towards: (f64, f64), words: String) -> Label {
    Label {
        size: TextSize::Plain,
        bold: true,
        gap,
        towards,
        ..Label::new(at, words)
    }
}

impl Draft<'_> {
    /// Every sign, which labels keep off from now on.
    pub(super) fn signs(&mut self) -> (Vec<Thing>, Vec<Thing>) {
        let mut things = self.outlets();
        things.extend(self.drains());
        things.extend(self.valves());
        things.extend(self.plugged());
        things.extend(self.tanks());
        let risers = self.risers();
        for thing in things.iter().chain(&risers) {
            self.board.block(&thing.sign);
        }
        (things, risers)
    }

    /// Draws signs with what they are called.
    pub(super) fn named(&mut self, things: Vec<Thing>) {
        for thing in things {
            let mut shapes = thing.sign;
            shapes.extend(match &thing.labels {
                Labels::Ringed {
                    at,
                    towards,
                    number,
                    name,
                } => self.numbered(*at, 1.1, *towards, *number, name),
                Labels::Plain(label) => self.must(label),
            });
            self.marks
                .push(Mark::named(Layer::Label, &thing.id, &thing.title, shapes));
        }
    }

    fn outlets(&self) -> Vec<Thing> {
        let plan = self.scene.plan;
        let mut things = Vec::new();
        for (foot, number, name) in &self.tags.outlets {
            let drop = plan.network.drops.iter().find(|drop| drop.foot_at == *foot);
            let Some(drop) = drop.filter(|drop| self.level.has(plan, drop.take_off_at)) else {
                continue;
            };
            let main = self.view.at(plan.network.node(drop.take_off_at).at);
            if !self.view.owns(main) {
                continue;
            }
            let side = self.side(drop);
            let (at, towards, mut sign) = match side {
                Some(side) => {
                    let at = main.by(side.0 * STUB, side.1 * STUB);
                    let stub = vec![main, main.towards(at, (STUB - 1.1) / STUB)];
                    (at, side, vec![Shape::line(Stroke::WIDE, stub)])
                }
                None => (main, (0.4, 1.0), Vec::new()),
            };
            sign.extend(drawn("outlet", at, (1.0, 0.0)));
            things.push(Thing {
                id: format!("outlet-{number}"),
                title: format!("Outlet {number}, {name}"),
                sign,
                labels: Labels::Ringed {
                    at,
                    towards,
                    number: *number,
                    name: name.clone(),
                },
            });
        }
        things
    }

    /// To which side of the main a drop stands on the sheet: into the room where the
    /// main runs on its wall, else as it is built; none straight below it.
    fn side(&self, drop: &Drop) -> Option<(f64, f64)> {
        let network = &self.scene.plan.network;
        if drop.take_off == TakeOff::Bottom {
            return None;
        }
        let (from, to) = (
            network.node(drop.take_off_at).at,
            network.node(drop.foot_at).at,
        );
        let (east, north) = ((to.east - from.east).mm(), (to.north - from.north).mm());
        let far = east.hypot(north);
        if far < 1e-6 {
            return None;
        }
        let side = (east / far, -north / far);
        Some(self.inwards(from, side))
    }

    /// A side of a place of the main, or the other one if only that is in a room.
    pub(super) fn inwards(&self, place: Point, side: (f64, f64)) -> (f64, f64) {
        let far = 6.0 * self.view.per;
        let moved = |sign: f64| moved(place, (side.0 * sign, side.1 * sign), far);
        let inside = |at: Point| self.level.rooms.iter().any(|room| room.inside.holds(at));
        if !inside(moved(1.0)) && inside(moved(-1.0)) {
            (-side.0, -side.1)
        } else {
            side
        }
    }

    /// To which side of the main at a place something may hang: square to it, or to
    /// the straight that is meant, into the room.
    pub(super) fn aside(&self, place: NodeId, of: Option<Direction>) -> (f64, f64) {
        let network = &self.scene.plan.network;
        let mut ends = network.ends(place);
        let mut main =
            || ends.find(|end| network.link(end.link).is_main() && end.direction.is_level());
        let along = of
            .or_else(|| main().map(|end| end.direction))
            .map_or((1.0, 0.0), way);
        self.inwards(network.node(place).at, (-along.1, along.0))
    }

    fn drains(&self) -> Vec<Thing> {
        let plan = self.scene.plan;
        let mut things = Vec::new();
        for (place, tag, name) in &self.tags.drains {
            let at = self.view.at(plan.network.node(*place).at);
            if !self.view.owns(at) || !self.level.has(plan, *place) {
                continue;
            }
            let side = self.aside(*place, None);
            let middle = at.by(side.0 * 3.2, side.1 * 3.2);
            let stub = Shape::line(Stroke::WIDE, vec![at, at.by(side.0 * 1.2, side.1 * 1.2)]);
            let mut sign = vec![stub];
            sign.extend(drawn("drain-valve", middle, side));
            things.push(Thing {
                id: format!("drain-{tag}"),
                title: format!("Drain {tag}, {name}"),
                sign,
                labels: Labels::Plain(bold(middle, 4.2, side, self.tagged(tag, name))),
            });
        }
        things
    }

    fn valves(&self) -> Vec<Thing> {
        let network = &self.scene.plan.network;
        let mut things = Vec::new();
        for (place, tag, name) in &self.tags.valves {
            let at = self.view.at(network.node(*place).at);
            if !self.view.owns(at)
                || !network.is_line_valve(*place)
                || !self.level.has(self.scene.plan, *place)
            {
                continue;
            }
            let side = self.aside(*place, None);
            things.push(Thing {
                id: format!("valve-{tag}"),
                title: format!("Valve {tag}, {name}"),
                sign: drawn("valve", at, (-side.1, side.0)),
                labels: Labels::Plain(bold(at, 2.2, side, self.tagged(tag, name))),
            });
        }
        things
    }

    /// Branches that are plugged: what is to come there is called by its name.
    fn plugged(&self) -> Vec<Thing> {
        let plan = self.scene.plan;
        let mut things = Vec::new();
        for (number, plugged) in plan.network.plugged.iter().enumerate() {
            let at = self.view.at(plan.network.node(plugged.at).at);
            if !self.view.owns(at) || !self.level.has(plan, plugged.at) {
                continue;
            }
            let side = self.aside(plugged.at, None);
            let end = at.by(side.0 * LATER, side.1 * LATER);
            let (state, words) = match plugged.to_come {
                true => (State::Later, format!("later: {}", plugged.name)),
                false => (State::New, format!("plug: {} out", plugged.name)),
            };
            things.push(Thing {
                id: format!("plugged-{}", number + 1),
                title: words.clone(),
                sign: vec![Shape::line(stroke(state), vec![at, end])],
                labels: Labels::Plain(Label {
                    gap: 1.0,
                    towards: side,
                    ..Label::new(end, words)
                }),
            });
        }
        things
    }

    fn tagged(&self, tag: &str, name: &str) -> String {
        if self.names {
            format!("{tag} {name}")
        } else {
            tag.to_owned()
        }
    }

    fn risers(&self) -> Vec<Thing> {
        let units = self.scene.plan.network.units;
        let mut things = Vec::new();
        for (number, riser) in self.level.risers.iter().enumerate() {
            let at = self.view.at(riser.at);
            if !self.view.owns(at) {
                continue;
            }
            let words = [riser.low, riser.high].map(|height| height.show(units));
            let title = format!("Upright pipe, from {} to {}", words[0], words[1]);
            let mut label = Label::new(at, format!("up from {}", words[0]));
            label.lines.push(format!("to {}", words[1]));
            label.gap = 2.0;
            label.towards = (0.6, self.inwards(riser.at, (0.0, 1.0)).1);
            things.push(Thing {
                id: format!("riser-{}", number + 1),
                title,
                sign: drawn("riser", at, (1.0, 0.0)),
                labels: Labels::Plain(label),
            });
        }
        things
    }
}

/// A sign whose right is `along`.
pub(super) fn drawn(name: &str, at: At, along: (f64, f64)) -> Vec<Shape> {
    symbol(name).map_or_else(Vec::new, |sign| sign.drawn(at, along, (-along.1, along.0)))
}
