//! Where everything of a sheet is in the drawn space: main by its axes, what hangs on
//! it at lengths that can be read.

use super::Set;
use super::axes::Solid;
use super::clear::clear;
use super::joins::PITCH;
use super::spread::{Room, spread};
use super::stretch::{Limb, Stretch};
use crate::drawing::{Area, At, Scene, Symbol, symbol};
use crate::job::Direction;
use crate::network::{Link, LinkId, Network, NodeId, NodeKind, Spot};
use petgraph::unionfind::UnionFind;
use std::collections::BTreeMap;

/// From the middle of a fitting to its joints.
pub(super) const REACH: f64 = 2.4;
/// Between two signs that are screwed together.
const BETWEEN: f64 = 5.0;
/// The way up from the main, and over.
const RISE: f64 = 8.0;
const OVER: f64 = 12.0;
/// A drop is drawn this long at least, and longer by the root of its length.
const DROP: (f64, f64) = (16.0, 6.0);
/// Pipe below a foot.
const DRIP: f64 = 8.0;
/// Main between two fittings at least.
const MAIN: f64 = 10.0;
/// The same where a drop hangs: its labels stand there.
const MAIN_AT_DROP: f64 = 18.0;
/// Around a fitting without anything that hangs on it.
const FITTING: f64 = 4.0;
/// Heights nearer than this are one.
const LEVEL_FEET: f64 = 0.75;
/// How far the root of a foot may be stretched.
const MOST_SCALE: f64 = 16.0;

/// Where the places of some stretches are.
#[derive(Debug, Clone)]
pub(super) struct Frame {
    pub(super) places: BTreeMap<NodeId, Solid>,
}

/// The sign of a device.
pub(super) fn sign(scene: &Scene<'_>, place: NodeId) -> Option<&'static Symbol> {
    match scene.plan.network.node(place).kind {
        NodeKind::Device { device, .. } => symbol(&scene.library.devices()[device].name),
        NodeKind::Port { .. } | NodeKind::Fitting(_) => None,
    }
}

/// How far a sign reaches along its pipe from its place.
fn half(scene: &Scene<'_>, place: NodeId) -> f64 {
    sign(scene, place).map_or(0.0, Symbol::half)
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

/// How far what hangs on a place reaches from it along east, north and up, and back.
#[derive(Debug, Clone, Copy)]
struct Reach {
    ahead: [f64; 3],
    back: [f64; 3],
    has_limbs: bool,
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

/// How far what hangs on a place reaches.
fn reach(set: &Set<'_>, stretches: &[Stretch], place: NodeId) -> Reach {
    let half = FITTING.max(half(&set.scene, place) + 1.0);
    let mut reach = Reach {
        ahead: [half; 3],
        back: [half; 3],
        has_limbs: false,
    };
    let owner = stretches.iter().find(|one| one.places.contains(&place));
    let Some(stretch) = owner else { return reach };
    let mut at: BTreeMap<NodeId, Solid> = BTreeMap::from([(place, Solid::default())]);
    for limb in &stretch.limbs {
        let Some(on) = at.get(&limb.on) else { continue };
        let here = on.plus(offset(set, limb));
        at.insert(limb.place, here);
        reach.has_limbs = true;
        for (axis, value) in [here.east, here.north, here.up].into_iter().enumerate() {
            reach.ahead[axis] = reach.ahead[axis].max(value + 3.0);
            reach.back[axis] = reach.back[axis].max(3.0 - value);
        }
    }
    // A drop hangs below its main whatever stands there.
    reach.back[2] = half;
    reach
}

/// How far a limb's place stands from what it hangs on.
fn offset(set: &Set<'_>, limb: &Limb) -> Solid {
    let network = &set.scene.plan.network;
    let link = network.link(limb.link);
    let signs = half(&set.scene, limb.on) + half(&set.scene, limb.place);
    let origin = Solid::default();
    if is_neck(network, limb) {
        return neck_over(network, limb).map_or(origin, |over| {
            origin.moved(Direction::Up, RISE).moved(over, OVER)
        });
    }
    let spot = network.node(limb.place).origin.spot;
    let length = match (link.pipe, spot) {
        (None, _) => {
            let fitting = matches!(network.node(limb.on).kind, NodeKind::Fitting(_));
            let parts = set.joins.get(&(limb.place, limb.link)).map_or(0, Vec::len);
            let more: f64 = (0..parts.saturating_sub(1)).map(|_| PITCH).sum();
            BETWEEN + more + signs + if fitting { REACH } else { 0.0 }
        }
        (Some(length), Spot::Foot) => DROP.0 + DROP.1 * length.feet().max(0.0).sqrt(),
        (Some(_), Spot::DripLeg) => DRIP + signs,
        (Some(_), Spot::UpperElbow) => RISE,
        (Some(_), _) if limb.way.is_level() => OVER,
        (Some(_), _) => DRIP,
    };
    origin.moved(limb.way, length)
}

/// Whether a limb is a swan neck, which goes up, over and down in one piece.
pub(super) fn is_neck(network: &Network, limb: &Limb) -> bool {
    matches!(&network.node(limb.place).kind, NodeKind::Fitting(fitting) if fitting.is_swan_neck())
}

/// Over which side a swan neck leads.
pub(super) fn neck_over(network: &Network, limb: &Limb) -> Option<Direction> {
    let (from, to) = (network.node(limb.on).at, network.node(limb.place).at);
    let east = (to.east - from.east).nm().signum();
    let north = (to.north - from.north).nm().signum();
    let mut ways = Direction::WORDS.iter().map(|(_, way)| *way);
    ways.find(|way| way.is_level() && way.steps() == (east, north, 0))
}

/// The drawn corners of a link, from its first place to its second.
pub(super) fn corners(
    network: &Network,
    frame: &Frame,
    id: LinkId,
    limb: Option<&Limb>,
) -> Option<Vec<Solid>> {
    let [from, to] = match limb {
        Some(limb) => [limb.on, limb.place],
        None => network.ends_of(id),
    };
    let (from, to) = (*frame.places.get(&from)?, *frame.places.get(&to)?);
    if limb.is_some_and(|limb| is_neck(network, limb)) {
        let bend = 3.0;
        let high = Solid {
            up: to.up + bend,
            ..from
        };
        let flat = |one: Solid, share: f64| Solid {
            up: to.up + 2.0 * bend,
            ..one.towards(Solid { up: one.up, ..to }, share)
        };
        let far = Solid {
            up: to.up + bend,
            ..to
        };
        return Some(vec![
            from,
            high,
            flat(from, 0.25),
            flat(from, 0.75),
            far,
            to,
        ]);
    }
    Some(vec![from, to])
}
