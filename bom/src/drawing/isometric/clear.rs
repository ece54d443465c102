//! Drops drawn longer, so that no sign stands on another's pipe.

use super::Set;
use super::axes::Solid;
use super::frame::Frame;
use super::limb::{corners, sign};
use super::stretch::{Limb, Stretch};
use crate::drawing::At;
use crate::drawing::board::cross;
use crate::network::{NodeId, Owner, Spot};
use std::collections::{BTreeMap, BTreeSet};

/// A sign keeps so far from other pipe, and from another sign.
const FROM_PIPE: f64 = 3.4;
const FROM_SIGN: f64 = 7.0;
/// By how much a drop is drawn longer at a time, and how often.
const STEP: f64 = 4.0;
const STEPS: u8 = 12;
const FEW: u8 = 6;

/// Draws each drop as much longer as its signs need; the first that does.
pub(super) fn clear(set: &Set<'_>, stretches: &[Stretch], frame: &mut Frame) {
    for stretch in stretches {
        let feet = stretch.limbs.iter().filter(|limb| {
            let origin = set.scene.plan.network.node(limb.place).origin;
            match origin.spot {
                Spot::Foot => true,
                Spot::DripLeg => matches!(origin.owner, Owner::Drain(_)),
                _ => false,
            }
        });
        for foot in feet {
            let below = below(stretch, foot.place);
            let lines = foreign(set, stretches, frame, &below, foot);
            let signs: Vec<At> = (frame.places.iter())
                .filter(|(place, _)| !below.contains(*place) && sign(&set.scene, **place).is_some())
                .map(|(_, solid)| solid.on_paper())
                .collect();
            let own: Vec<Solid> = (frame.places.iter())
                .filter(|(place, _)| below.contains(*place) && sign(&set.scene, **place).is_some())
                .map(|(_, solid)| *solid)
                .collect();
            let is_clear = |by: &f64| {
                own.iter().all(|solid| {
                    let at = solid.on_paper().by(0.0, *by);
                    let pipe = lines.iter().all(|(a, b)| distance(at, *a, *b) > FROM_PIPE);
                    pipe && signs.iter().all(|sign| sign.distance(at) > FROM_SIGN)
                })
            };
            let crosses_none = |by: &f64| {
                let from = frame.places.get(&foot.place).map(|one| one.on_paper());
                let Some(from) = from.map(|at| at.by(0.0, *by)) else {
                    return true;
                };
                own.iter().all(|solid| {
                    let to = solid.on_paper().by(0.0, *by);
                    !lines.iter().any(|(a, b)| cross(from, to, *a, *b))
                })
            };
            // Clear of all other pipe if that takes little, else between its signs.
            let longer = |steps: u8| (0..steps).map(|step| f64::from(step) * STEP);
            let by = (longer(FEW).find(|by| is_clear(by) && crosses_none(by)))
                .or_else(|| longer(STEPS).find(is_clear))
                .unwrap_or_default();
            for place in below {
                if let Some(solid) = frame.places.get_mut(&place) {
                    solid.up -= by;
                }
            }
        }
    }
}

/// A foot and all that hangs on it.
fn below(stretch: &Stretch, foot: NodeId) -> BTreeSet<NodeId> {
    let mut below = BTreeSet::from([foot]);
    for limb in &stretch.limbs {
        if below.contains(&limb.on) {
            below.insert(limb.place);
        }
    }
    below
}

/// All pipe on paper but what is joined to a foot or hangs on it.
fn foreign(
    set: &Set<'_>,
    stretches: &[Stretch],
    frame: &Frame,
    below: &BTreeSet<NodeId>,
    foot: &Limb,
) -> Vec<(At, At)> {
    let network = &set.scene.plan.network;
    let limbs: BTreeMap<_, &Limb> = stretches
        .iter()
        .flat_map(|stretch| &stretch.limbs)
        .filter(|limb| !below.contains(&limb.place) && limb.link != foot.link)
        .map(|limb| (limb.link, limb))
        .collect();
    let main = stretches.iter().flat_map(|stretch| &stretch.main);
    let all = main
        .map(|link| (*link, None))
        .chain(limbs.iter().map(|(link, limb)| (*link, Some(*limb))));
    let mut lines = Vec::new();
    for (link, limb) in all {
        if let Some(corners) = corners(network, frame, link, limb) {
            let pairs = corners.windows(2);
            lines.extend(pairs.map(|pair| (pair[0].on_paper(), pair[1].on_paper())));
        }
    }
    lines
}

/// From a place to the nearest place of a line.
fn distance(at: At, a: At, b: At) -> f64 {
    let (x, y) = (b.x - a.x, b.y - a.y);
    let length = x * x + y * y;
    if length < 1e-9 {
        return at.distance(a);
    }
    let share = ((at.x - a.x) * x + (at.y - a.y) * y) / length;
    at.distance(a.towards(b, share.clamp(0.0, 1.0)))
}
