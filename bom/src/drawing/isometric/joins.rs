//! What stands between two ends: bushings, reducers, adapters, unions.

use super::axes::across;
use super::limb::{REACH, sign};
use super::picture::Picture;
use crate::Plan;
use crate::drawing::{At, Shape, symbol};
use crate::network::{LinkId, NodeId, NodeKind};
use crate::quantity::PartSize;
use crate::takeoff::{Of, Seat};
use std::collections::{BTreeMap, BTreeSet};

/// From one part to the next on the same pipe.
pub(super) const PITCH: f64 = 3.2;

/// The sign of each part that joins two ends; a nipple is the pipe between its joints.
const SIGNS: [(&str, &str); 7] = [
    ("adapter-female", "adapter"),
    ("adapter-male", "adapter"),
    ("bushing", "bushing"),
    ("coupling", "pipe-coupling"),
    ("insulating-union", "insulating-union"),
    ("reducer", "reducer"),
    ("union", "union"),
];

/// A part between the end of a link and what stands at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Joins {
    pub(super) sign: &'static str,
    size: PartSize,
}

/// What joins each place to its links, outwards from the place.
pub(super) fn joins(plan: &Plan) -> BTreeMap<(NodeId, LinkId), Vec<Joins>> {
    let mut joins: BTreeMap<(NodeId, LinkId), Vec<Joins>> = BTreeMap::new();
    for line in &plan.takeoff.lines {
        let mut signs = SIGNS.iter().filter(|(part, _)| *part == line.key.part);
        let Some((_, sign)) = signs.next() else {
            continue;
        };
        for Seat { place, of } in line.because.iter().map(|because| because.at) {
            if let Of::End(link) = of {
                joins.entry((place, link)).or_default().push(Joins {
                    sign,
                    size: line.key.size,
                });
            }
        }
    }
    for ((_, link), parts) in &mut joins {
        // From the larger end to the smaller; a union stands at its pipe.
        let pipe = plan.network.link(*link).size;
        parts.sort_by_key(|part| {
            let is_union = part.sign == "union";
            (
                is_union,
                !part.size.reduces(),
                part.size.largest() == Some(pipe),
            )
        });
    }
    joins
}

impl Picture<'_> {
    /// The parts that join a place to its links: where, how their pipe runs, and signs.
    pub(super) fn joins_at(&self, place: NodeId) -> Vec<(At, (f64, f64), Joins)> {
        let network = &self.set.scene.plan.network;
        let Some(at) = self.at(place) else {
            return Vec::new();
        };
        let mut placed = Vec::new();
        for end in network.ends(place) {
            let Some(parts) = self.set.joins.get(&(place, end.link)) else {
                continue;
            };
            let link = network.link(end.link);
            let way = self.way_from(place, &end);
            let own = sign(&self.set.scene, place);
            let mut by = match (&network.node(place).kind, link.pipe) {
                (NodeKind::Fitting(fitting), _) if fitting.is_change() => 0.0,
                (NodeKind::Fitting(_), _) => REACH + 2.6,
                (_, Some(_)) => own.map_or(1.0, |one| one.half()) + 3.2,
                (_, None) => own.map_or(1.0, |one| one.back()) + 1.9,
            };
            let inwards = match &network.node(place).kind {
                NodeKind::Device { size, .. } if link.pipe.is_none() => {
                    parts.iter().any(|part| part.size.largest() != Some(*size))
                }
                _ => parts
                    .iter()
                    .any(|part| part.size.largest() == Some(link.size)),
            };
            for part in parts {
                let sense = if inwards && part.size.reduces() {
                    -1.0
                } else {
                    1.0
                };
                let middle = at.by(way.0 * by, way.1 * by);
                placed.push((middle, (way.0 * sense, way.1 * sense), *part));
                by += PITCH;
            }
        }
        placed
    }

    /// The signs of what joins a place to its links.
    pub(super) fn joined(&self, place: NodeId, used: &mut BTreeSet<String>) -> Vec<Shape> {
        let mut shapes = Vec::new();
        for (at, way, part) in self.joins_at(place) {
            used.insert(part.sign.to_owned());
            if let Some(sign) = symbol(part.sign) {
                shapes.extend(sign.drawn(at, way, across(way)));
            }
        }
        shapes
    }
}
