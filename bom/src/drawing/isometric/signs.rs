//! The signs of what stands at each place.

use super::axes::across;
use super::limb::{REACH, sign};
use super::marks;
use super::picture::Picture;
use crate::drawing::{At, Layer, Mark, Shape, symbol};
use crate::network::{End, NodeId, NodeKind};
use crate::system::Joint;
use std::collections::BTreeSet;

impl Picture<'_> {
    /// The sign of every place that is drawn here, a mark each.
    pub(super) fn parts(&self, used: &mut BTreeSet<String>) -> Vec<Mark> {
        let network = &self.set.scene.plan.network;
        let mut marks = Vec::new();
        for place in &self.own {
            if network.is_plain(*place) {
                continue;
            }
            let mut shapes = self.own_sign(*place, used);
            shapes.extend(self.joints_of(*place, used));
            shapes.extend(self.joined(*place, used));
            let id = format!("place-{}", place.index());
            let title = network.place(*place);
            marks.push(Mark::named(Layer::Part, &id, &title, shapes));
        }
        marks
    }

    /// Couplings and unions between pieces.
    pub(super) fn between(&self, used: &mut BTreeSet<String>) -> Vec<Vec<Shape>> {
        let joints = self.set.pieces.joints.iter().filter_map(|joint| {
            let (at, way) = self.on_clear(joint.at)?;
            let name = if joint.union {
                "union"
            } else {
                "pipe-coupling"
            };
            used.insert(name.to_owned());
            Some(symbol(name)?.drawn(at, way, across(way)))
        });
        joints.collect()
    }

    /// The sign of what stands at a place.
    fn own_sign(&self, place: NodeId, used: &mut BTreeSet<String>) -> Vec<Shape> {
        let network = &self.set.scene.plan.network;
        let Some(at) = self.at(place) else {
            return Vec::new();
        };
        let mut ends: Vec<End> = network.ends(place).collect();
        ends.sort_by_key(|end| end.link);
        let ways: Vec<(f64, f64)> = ends.iter().map(|end| self.way_from(place, end)).collect();
        let back = |way: (f64, f64)| (-way.0, -way.1);
        let Some(first) = ways.first().copied() else {
            return Vec::new();
        };
        let mut drawn = |name: &str, at: At, way: (f64, f64)| {
            used.insert(name.to_owned());
            symbol(name).map_or_else(Vec::new, |sign| sign.drawn(at, way, across(way)))
        };
        match &network.node(place).kind {
            NodeKind::Port { .. } => {
                let upright = first.0.abs() < 0.1;
                let (way, by) = if upright {
                    (across(first), 2.5)
                } else {
                    (back(first), 4.0)
                };
                drawn("tank", at.by(-first.0 * by, -first.1 * by), way)
            }
            NodeKind::Device { device, .. } => {
                let name = self.set.scene.library.devices()[*device].name.clone();
                drawn(&name, at, self.outwards(place, &ends, &ways))
            }
            NodeKind::Fitting(fitting) => match fitting.kind.part {
                Some("cap") => drawn("cap", at, back(first)),
                Some("reducer") => {
                    let small = ends
                        .iter()
                        .zip(&ways)
                        .min_by_key(|(end, _)| network.link(end.link).size);
                    drawn("reducer", at, small.map_or(first, |(_, way)| *way))
                }
                _ if fitting.is_saddle() => {
                    let main = ends.iter().zip(&ways);
                    let mut main = main.filter(|(end, _)| network.link(end.link).is_main());
                    drawn("saddle", at, main.next().map_or(first, |(_, way)| *way))
                }
                _ => Vec::new(),
            },
        }
    }

    /// The way of the air through a device: away from the tank.
    fn outwards(&self, place: NodeId, ends: &[End], ways: &[(f64, f64)]) -> (f64, f64) {
        let network = &self.set.scene.plan.network;
        let back = |way: (f64, f64)| (-way.0, -way.1);
        let mut pairs = ends.iter().zip(ways);
        if let Some(valve) = network.valve_at(place) {
            let from = pairs.find(|(end, _)| end.link == valve.upstream);
            return from.map_or((1.0, 0.0), |(_, way)| back(*way));
        }
        // Nodes are numbered outwards from the tank.
        let before = pairs.min_by_key(|(end, _)| end.far);
        match before {
            Some((end, way)) if end.far < place => back(*way),
            Some((_, way)) => *way,
            None => (1.0, 0.0),
        }
    }

    /// The joints at a place.
    fn joints_of(&self, place: NodeId, used: &mut BTreeSet<String>) -> Vec<Shape> {
        let network = &self.set.scene.plan.network;
        let library = self.set.scene.library;
        let Some(at) = self.at(place) else {
            return Vec::new();
        };
        let mut shapes = Vec::new();
        for end in network.ends(place) {
            let link = network.link(end.link);
            let way = self.way_from(place, &end);
            let by = match &network.node(place).kind {
                NodeKind::Fitting(fitting)
                    if fitting.is_saddle()
                        || fitting.is_change()
                        || fitting.kind.part == Some("cap")
                        || network.runs_through(place, end.link) =>
                {
                    continue;
                }
                NodeKind::Fitting(_) => REACH,
                NodeKind::Device { .. } | NodeKind::Port { .. } if link.pipe.is_some() => {
                    sign(&self.set.scene, place).map_or(1.0, |sign| sign.half() + 1.0)
                }
                NodeKind::Device { .. } | NodeKind::Port { .. } => {
                    // Between two of them one joint is drawn, with the later one, unless
                    // a part of its own joins them.
                    if self.set.joins.contains_key(&(place, end.link)) {
                        continue;
                    }
                    let both = !matches!(network.node(end.far).kind, NodeKind::Fitting(_));
                    let Some(far) = self.at(end.far).filter(|_| both && end.far < place) else {
                        continue;
                    };
                    let back = |place| sign(&self.set.scene, place).map_or(0.0, |one| one.half());
                    (at.distance(far) + back(place) - back(end.far)) / 2.0
                }
            };
            let joint = if link.pipe.is_some() {
                library.systems()[link.system].joint
            } else {
                Joint::Threaded
            };
            let middle = at.by(way.0 * by, way.1 * by);
            used.insert(joint.word().to_owned());
            shapes.extend(marks::joint(joint, middle, way));
        }
        shapes
    }
}
