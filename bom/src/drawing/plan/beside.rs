//! What stands beside the main: its sizes, its high and low points, and where it
//! goes on.

use super::super::shape::At;
use super::super::{Label, Layer, Mark};
use super::draft::Draft;
use super::view::way;
use crate::network::{LinkId, NodeId};
use crate::quantity::Size;
use std::collections::BTreeSet;

impl Draft<'_> {
    /// Where the main goes on in rooms of another sheet.
    pub(super) fn beyond(&mut self) {
        for (place, name) in &self.level.beyond {
            let at = self.view.at(self.scene.plan.network.node(*place).at);
            if self.view.owns(at) {
                let mut label = Label::new(at, format!("goes on: {name}"));
                label.gap = 2.0;
                label.towards = (0.6, -1.0);
                let shapes = self.must(&label);
                self.marks.push(Mark::new(Layer::Label, shapes));
            }
        }
    }

    /// The heights of the places that are higher or lower than all main beside them.
    pub(super) fn heights(&mut self) {
        let network = &self.scene.plan.network;
        let units = network.units;
        let places: BTreeSet<NodeId> = self
            .level
            .links
            .iter()
            .flat_map(|link| network.ends_of(*link))
            .collect();
        for place in places {
            let node = network.node(place);
            let at = self.view.at(node.at);
            let up = self
                .level
                .risers
                .iter()
                .any(|riser| (riser.at.east, riser.at.north) == (node.at.east, node.at.north));
            if !self.view.owns(at) {
                continue;
            }
            let main = network
                .ends(place)
                .filter(|end| network.link(end.link).is_main());
            let heights: Vec<_> = main.map(|end| network.node(end.far).at.up).collect();
            let word = if heights.iter().all(|far| *far < node.at.up) {
                "high point"
            } else if heights.iter().all(|far| *far > node.at.up) {
                "low point"
            } else {
                continue;
            };
            // Upright pipe says its heights itself.
            if up {
                continue;
            }
            let mut label = Label::new(at, format!("{word} {}", node.at.up.show(units)));
            label.gap = 1.8;
            label.towards = (0.3, -1.0);
            let shapes = self.must(&label);
            self.marks.push(Mark::new(Layer::Label, shapes));
        }
    }

    /// The size of the main, on every leg where there is room, and where it changes
    /// in any case.
    pub(super) fn sizes(&mut self) {
        let plan = self.scene.plan;
        let network = &plan.network;
        let systems = network.systems();
        let mut said: BTreeSet<(Option<usize>, usize, Size)> = BTreeSet::new();
        for straight in &self.level.straights {
            for id in &straight.links {
                let link = network.link(*id);
                if !said.insert((link.leg, link.system, link.size)) {
                    continue;
                }
                let same = |other: &LinkId| {
                    let other = network.link(*other);
                    (other.leg, other.system, other.size) == (link.leg, link.system, link.size)
                };
                let Some((from, to)) = self.longest(same) else {
                    continue;
                };
                let words = if systems.len() > 1 {
                    format!(
                        "{} {}",
                        link.size,
                        self.scene.library.systems()[link.system].name
                    )
                } else {
                    link.size.to_string()
                };
                let along = way(link.direction);
                let mut label = Label::new(from, words);
                label.gap = 0.9;
                label.towards = (-along.1, -along.0.abs());
                let shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9];
                let spots = shares.map(|share| from.towards(to, share));
                let own = |at: &At| self.view.owns(*at);
                let mut spots = spots
                    .into_iter()
                    .filter(own)
                    .collect::<Vec<_>>()
                    .into_iter();
                let near = spots.find_map(|at| {
                    label.at = at;
                    self.may(&label)
                });
                let shapes = match near {
                    None if self.changes(*id) && self.view.owns(from.towards(to, 0.5)) => {
                        label.at = from.towards(to, 0.5);
                        self.must(&label)
                    }
                    near => near.unwrap_or_default(),
                };
                self.marks.push(Mark::new(Layer::Label, shapes));
            }
        }
    }

    /// The ends of the longest straight of links that are alike.
    fn longest(&self, same: impl Fn(&LinkId) -> bool) -> Option<(At, At)> {
        let network = &self.scene.plan.network;
        let mut longest: Option<(At, At)> = None;
        for straight in &self.level.straights {
            let mut alike = straight.links.iter().filter(|link| same(link));
            let first = alike.next();
            let last = alike.next_back().or(first);
            if let (Some(first), Some(last)) = (first, last) {
                let at = |end: NodeId| self.view.at(network.node(end).at);
                let ends = (
                    at(network.ends_of(*first)[0]),
                    at(network.ends_of(*last)[1]),
                );
                let long = |(from, to): (At, At)| from.distance(to);
                if longest.is_none_or(|longest| long(longest) < long(ends)) {
                    longest = Some(ends);
                }
            }
        }
        longest
    }

    /// Whether main of another size or system meets a link, or nothing does before it.
    fn changes(&self, id: LinkId) -> bool {
        let network = &self.scene.plan.network;
        let link = network.link(id);
        let first = self.level.straights.first();
        let is_first = first.and_then(|straight| straight.links.first()) == Some(&id);
        let others = network
            .ends_of(id)
            .into_iter()
            .flat_map(|end| network.ends(end));
        let mut main = others
            .map(|end| network.link(end.link))
            .filter(|link| link.is_main());
        is_first || main.any(|other| (other.size, other.system) != (link.size, link.system))
    }
}
