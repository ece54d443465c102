//! Walls, pipe, and the signs on it.

use super::super::shape::{Area, At, Dash, Shape, Stroke, Weight};
use super::super::symbol::symbol;
use super::super::{Label, Layer, Mark};
use super::draft::Draft;
use super::view::way;
use super::ways::{falling, flowing, flows};
use crate::job::State;
use crate::network::NodeId;
use std::collections::BTreeMap;

/// How thick walls are drawn, outwards from their inside.
pub(super) const WALL: f64 = 1.6;

/// How pipe is drawn: what stands already is narrow.
pub(super) fn stroke(state: State) -> Stroke {
    match state {
        State::New => Stroke::WIDE,
        State::Existing | State::Remove => Stroke::NARROW,
        State::Later => Stroke::new(Weight::Narrow, Dash::Dashed),
    }
}

/// What of a line between places is shown, as a shape.
fn shown(draft: &Draft<'_>, stroke: Stroke, from: At, to: At) -> Option<Shape> {
    let (from, to) = draft.view.clip(from, to)?;
    Some(Shape::line(stroke, vec![from, to]))
}

impl Draft<'_> {
    /// The rooms, each by the inside and the outside of its walls.
    pub(super) fn walls(&mut self) {
        for room in &self.level.rooms {
            let inside = self.view.area(&room.inside);
            let mut shapes = Vec::new();
            for (area, stroke) in [
                (inside, Stroke::NARROW),
                (inside.grown(WALL), Stroke::HEAVY),
            ] {
                let stroke = if room.known {
                    stroke
                } else {
                    Stroke::new(stroke.weight, super::ASSUMED)
                };
                let corners = corners(&area);
                let whole = corners
                    .iter()
                    .all(|at| self.view.window.grown(1e-6).holds(&Area::of(*at, *at)));
                if whole {
                    let fill = super::super::Fill::Open;
                    shapes.push(Shape::outline(stroke, fill, corners.to_vec()));
                    continue;
                }
                for (number, from) in corners.iter().enumerate() {
                    shapes.extend(shown(self, stroke, *from, corners[(number + 1) % 4]));
                }
            }
            if !shapes.is_empty() {
                let id = format!("room-{}", room.room + 1);
                self.put(Mark::named(
                    Layer::Room,
                    &id,
                    &format!("Room {}", room.name),
                    shapes,
                ));
            }
        }
    }

    /// The main, a mark for each leg, and the signs where it goes through walls.
    pub(super) fn pipe(&mut self) {
        let network = &self.scene.plan.network;
        let mut legs: BTreeMap<usize, Vec<Shape>> = BTreeMap::new();
        for id in &self.level.links {
            let link = network.link(*id);
            let [from, to] = network
                .ends_of(*id)
                .map(|end| self.view.at(network.node(end).at));
            let stroke = stroke(network.link_state(*id));
            if let (Some(leg), Some(shape)) = (link.leg, shown(self, stroke, from, to)) {
                legs.entry(leg).or_default().push(shape);
            }
        }
        for (leg, shapes) in legs {
            let id = format!("leg-{}", leg + 1);
            self.put(Mark::named(
                Layer::Pipe,
                &id,
                &capital(&network.legs[leg].label),
                shapes,
            ));
        }
        for (number, crossing) in self.level.crossings.iter().enumerate() {
            let direction = way(network.link(crossing.link).direction);
            let out = match crossing.wall {
                crate::job::Wall::North => (0.0, -1.0),
                crate::job::Wall::South => (0.0, 1.0),
                crate::job::Wall::East => (1.0, 0.0),
                crate::job::Wall::West => (-1.0, 0.0),
            };
            let at = self
                .view
                .at(crossing.at)
                .by(out.0 * WALL / 2.0, out.1 * WALL / 2.0);
            if let Some(sign) = symbol("through-wall").filter(|_| self.view.owns(at)) {
                let shapes = sign.drawn(at, direction, (-direction.1, direction.0));
                let id = format!("crossing-{}", number + 1);
                self.put(Mark::named(Layer::Part, &id, "Pipe through a wall", shapes));
            }
        }
    }

    /// An arrow on each stretch of main in which air flows one way, near its middle.
    pub(super) fn flow(&mut self) {
        let plan = self.scene.plan;
        let flows = flows(plan);
        let mut number = 0;
        for straight in &self.level.straights {
            for stretch in flowing(plan, &flows, straight) {
                number += 1;
                let Some((from, to)) = self.ends(stretch.from, stretch.to) else {
                    continue;
                };
                let long = from.distance(to);
                let sign = symbol("flow").filter(|_| long >= 3.6);
                if let Some(sign) = sign {
                    let along = ((to.x - from.x) / long, (to.y - from.y) / long);
                    // Off the middle, where sizes stand.
                    let at = from.towards(to, if long > 12.0 { 0.62 } else { 0.5 });
                    let shapes = sign.drawn(at, along, (-along.1, along.0));
                    let id = format!("flow-{number}");
                    self.put(Mark::named(Layer::Flow, &id, "Air flows this way", shapes));
                }
            }
        }
    }

    /// A sign beside each stretch of main that falls one way, its tip down the slope,
    /// with the fall where it differs from the main's.
    pub(super) fn falls(&mut self) {
        let plan = self.scene.plan;
        let mut number = 0;
        for straight in &self.level.straights {
            for stretch in falling(plan, straight) {
                number += 1;
                let ends = self.ends(stretch.first, stretch.last);
                let long_enough = |(from, to): &(At, At)| from.distance(*to) >= 8.0;
                if let Some(ends) = ends.filter(long_enough) {
                    let aside = self.aside(stretch.first, Some(straight.direction));
                    self.fall(number, ends, aside, &super::words::fall(plan, &stretch));
                }
            }
        }
    }

    fn fall(&mut self, number: usize, (from, to): (At, At), aside: (f64, f64), words: &str) {
        let Some(sign) = symbol("fall") else { return };
        let long = from.distance(to);
        let along = ((to.x - from.x) / long, (to.y - from.y) / long);
        let own = words == super::words::stated(self.scene.plan);
        for share in [0.4, 0.5, 0.3, 0.75, 0.2, 0.85, 0.1] {
            for off in [2.2, 3.8] {
                for side in [1.0, -1.0] {
                    let side = (aside.0 * side, aside.1 * side);
                    let at = from.towards(to, share).by(side.0 * off, side.1 * off);
                    let shapes = sign.drawn(at, along, (-along.1, along.0));
                    let areas = shapes.iter().filter_map(Shape::area);
                    let area = areas.reduce(|all, one| all.with(&one));
                    if !area.is_some_and(|area| self.board.is_free(&area.grown(0.6))) {
                        continue;
                    }
                    let (id, title) = (format!("fall-{number}"), format!("Falls {words}"));
                    self.put(Mark::named(Layer::Flow, &id, &title, shapes));
                    let mut label = Label::new(at, words);
                    (label.gap, label.towards) = (1.6, side);
                    if let Some(shapes) = (!own).then(|| self.may(&label)).flatten() {
                        self.marks.push(Mark::new(Layer::Label, shapes));
                    }
                    return;
                }
            }
        }
    }

    /// What is shown of the way between two places of the main.
    fn ends(&self, from: NodeId, to: NodeId) -> Option<(At, At)> {
        let at = |id| self.view.at(self.scene.plan.network.node(id).at);
        self.view.clip(at(from), at(to))
    }
}

fn corners(area: &Area) -> [At; 4] {
    [
        At::new(area.left, area.top),
        At::new(area.right, area.top),
        At::new(area.right, area.bottom),
        At::new(area.left, area.bottom),
    ]
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    format!("{}{}", first.unwrap_or_default(), letters.as_str())
}
