//! What stands beside the main: its sizes, its high and low points, and where it
//! goes on.

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
                let all = self.level.straights.iter().flat_map(|one| &one.links);
                let longest = all
                    .filter(|one| same(one))
                    .max_by_key(|one| network.link(**one).pipe);
                let longest = *longest.unwrap_or(id);
                let ends = network
                    .ends_of(longest)
                    .map(|end| self.view.at(network.node(end).at));
                let middle = ends[0].towards(ends[1], 0.5);
                if !self.view.owns(middle) {
                    continue;
                }
                let words = if systems.len() > 1 {
                    format!(
                        "{} {}",
                        link.size,
                        self.scene.library.systems()[link.system].name
                    )
                } else {
                    link.size.to_string()
                };
                let along = way(network.link(longest).direction);
                let mut label = Label::new(middle, words);
                label.gap = 0.9;
                label.towards = (-along.1, -along.0.abs());
                let shapes = if self.changes(*id) {
                    self.must(&label)
                } else {
                    self.may(&label).unwrap_or_default()
                };
                self.marks.push(Mark::new(Layer::Label, shapes));
            }
        }
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
