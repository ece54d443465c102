//! Where everything of a sheet is in the drawn space: main by its axes, what hangs on
//! it at lengths that can be read.

use super::Set;
use super::axes::Solid;
use super::clear::clear;
use super::limb::{Reach, offset, reach};
use super::spread::{Room, spread};
use super::stretch::Stretch;
use crate::drawing::{Area, At};
use crate::network::{Link, Network, NodeId};
use petgraph::unionfind::UnionFind;
use std::collections::BTreeMap;

/// Main between two fittings at least.
const MAIN: f64 = 10.0;
/// The same where a drop hangs: its labels stand there.
const MAIN_AT_DROP: f64 = 18.0;
/// Heights nearer than this are one.
const LEVEL_FEET: f64 = 0.75;
/// How far the root of a foot may be stretched.
const MOST_SCALE: f64 = 16.0;

/// Where the places of some stretches are.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub(super) places: BTreeMap<NodeId, Solid>,
}

/// Lays out stretches as large as they fit into a room; none if they do not fit.
pub(super) fn frame(set: &Set<'_>, stretches: &[Stretch], room: (f64, f64)) -> Option<Frame> {
    let main = Main::of(set, stretches);
    let within = |frame: &Frame| {
        let area = frame.area();
        area.width() <= room.0 && area.height() <= room.1
    };
    if !within(&main.frame(set, stretches, 0.0)) {
        return None;
    }
    let (mut low, mut high) = (0.0, MOST_SCALE);
    for _ in 0..10 {
        let middle = f64::midpoint(low, high);
        if within(&main.frame(set, stretches, middle)) {
            low = middle;
        } else {
            high = middle;
        }
    }
    // Longer drops may need some of that room.
    let scales = [1.0, 0.8, 0.6, 0.4, 0.2, 0.0].map(|share| low * share);
    scales.into_iter().find_map(|scale| {
        let mut frame = main.frame(set, stretches, scale);
        clear(set, stretches, &mut frame);
        within(&frame).then_some(frame)
    })
}

/// Lays out what does not fit into a room any other way: all of it shorter.
pub(super) fn squeezed(set: &Set<'_>, stretches: &[Stretch], room: (f64, f64)) -> Frame {
    let mut frame = tight(set, stretches);
    let area = frame.area();
    let shorter = (room.0 / area.width().max(1.0)).min(room.1 / area.height().max(1.0));
    for place in frame.places.values_mut() {
        *place = Solid::default().towards(*place, shorter.min(1.0));
    }
    frame
}

/// The same without any stretching, however much room it takes.
pub(super) fn tight(set: &Set<'_>, stretches: &[Stretch]) -> Frame {
    Main::of(set, stretches).frame(set, stretches, 0.0)
}

impl Frame {
    /// The area of paper that its places take.
    pub(super) fn area(&self) -> Area {
        let mut areas = self.places.values().map(|place| {
            let at = place.on_paper();
            Area::of(at, at)
        });
        let origin = At::default();
        let first = areas.next().unwrap_or(Area::of(origin, origin));
        areas.fold(first, |all, one| all.with(&one))
    }

    /// Moved on paper, so that the middle of its area is there.
    pub(super) fn offset_to(&self, middle: At) -> (f64, f64) {
        let own = self.area().middle();
        (middle.x - own.x, middle.y - own.y)
    }
}

/// The main of some stretches before it is drawn.
struct Main {
    /// Each of its places, and what it takes up around it.
    places: Vec<(NodeId, Reach)>,
    links: Vec<(usize, usize, Link)>,
}

impl Main {
    fn of(set: &Set<'_>, stretches: &[Stretch]) -> Self {
        let network = &set.scene.plan.network;
        let mut places: Vec<(NodeId, Reach)> = Vec::new();
        let mut number: BTreeMap<NodeId, usize> = BTreeMap::new();
        let mut index = |place: NodeId, places: &mut Vec<(NodeId, Reach)>| {
            *number.entry(place).or_insert_with(|| {
                places.push((place, reach(set, stretches, place)));
                places.len() - 1
            })
        };
        let mut links = Vec::new();
        for id in stretches.iter().flat_map(|stretch| &stretch.main) {
            let [from, to] = network.ends_of(*id);
            let pair = (index(from, &mut places), index(to, &mut places));
            links.push((pair.0, pair.1, *network.link(*id)));
        }
        Self { places, links }
    }

    fn frame(&self, set: &Set<'_>, stretches: &[Stretch], scale: f64) -> Frame {
        let network = &set.scene.plan.network;
        let at = |index: usize| network.node(self.places[index].0).at;
        let all = || 0..self.places.len();
        let east: Vec<f64> = all().map(|one| at(one).east.feet()).collect();
        let north: Vec<f64> = all().map(|one| at(one).north.feet()).collect();
        let axes = [
            self.axis(&east, 0, scale, 0.0),
            self.axis(&north, 1, scale, 0.0),
            self.axis(&self.heights(network), 2, scale, LEVEL_FEET),
        ];
        let mut places: BTreeMap<NodeId, Solid> = all()
            .map(|one| {
                let solid = Solid {
                    east: axes[0][one],
                    north: axes[1][one],
                    up: axes[2][one],
                };
                (self.places[one].0, solid)
            })
            .collect();
        for limb in stretches.iter().flat_map(|stretch| &stretch.limbs) {
            if let Some(on) = places.get(&limb.on) {
                let at = on.plus(offset(set, limb));
                places.insert(limb.place, at);
            }
        }
        Frame { places }
    }

    /// The height of each place, one for all that are joined by level pipe: the fall is
    /// said in words.
    fn heights(&self, network: &Network) -> Vec<f64> {
        let mut joined = UnionFind::<usize>::new(self.places.len());
        for (from, to, link) in &self.links {
            if link.direction.is_level() {
                joined.union(*from, *to);
            }
        }
        let height = |one: usize| network.node(self.places[one].0).at.up.feet();
        let classes: Vec<usize> = (0..self.places.len()).map(|one| joined.find(one)).collect();
        classes
            .iter()
            .map(|class| {
                let members = || (0..classes.len()).filter(|one| classes[*one] == *class);
                let count = members().map(|_| 1.0).sum::<f64>();
                members().map(height).sum::<f64>() / count
            })
            .collect()
    }

    /// Where each place is along an axis.
    fn axis(&self, feet: &[f64], axis: usize, scale: f64, ignore: f64) -> Vec<f64> {
        let mut distinct = feet.to_vec();
        distinct.sort_by(f64::total_cmp);
        distinct.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        let rank = |feet: f64| distinct.partition_point(|one| *one < feet - 1e-6);
        let rooms: Vec<Room> = self
            .links
            .iter()
            .filter_map(|(a, b, _)| {
                let (low, high) = if feet[*a] < feet[*b] {
                    (*a, *b)
                } else {
                    (*b, *a)
                };
                let (from, to) = (rank(feet[low]), rank(feet[high]));
                let (before, behind) = (self.places[low].1, self.places[high].1);
                let reach = before.ahead[axis] + behind.back[axis];
                let drop = before.has_limbs || behind.has_limbs;
                (from < to).then_some(Room {
                    from,
                    to,
                    least: reach + if drop { MAIN_AT_DROP } else { MAIN },
                })
            })
            .collect();
        let drawn = spread(&distinct, &rooms, scale, ignore);
        feet.iter().map(|one| drawn[rank(*one)]).collect()
    }
}
