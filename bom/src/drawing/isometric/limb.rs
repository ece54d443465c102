//! What hangs on main: how long its parts are drawn, and how far they reach.

use super::Set;
use super::axes::Solid;
use super::frame::Frame;
use super::joins::PITCH;
use super::stretch::{Limb, Stretch};
use crate::drawing::{Scene, Symbol, symbol};
use crate::job::Direction;
use crate::network::{LinkId, Network, NodeId, NodeKind, Spot};
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
/// Around a fitting without anything that hangs on it.
const FITTING: f64 = 4.0;

/// How far what hangs on a place reaches from it along east, north and up, and back.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reach {
    pub(super) ahead: [f64; 3],
    pub(super) back: [f64; 3],
    pub(super) has_limbs: bool,
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

/// How far what hangs on a place reaches.
pub(super) fn reach(set: &Set<'_>, stretches: &[Stretch], place: NodeId) -> Reach {
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
pub(super) fn offset(set: &Set<'_>, limb: &Limb) -> Solid {
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
