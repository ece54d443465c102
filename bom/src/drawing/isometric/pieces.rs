//! Where every piece of pipe and every joint between two pieces lies on its straight.

use crate::Plan;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use crate::quantity::{Length, Size};
use crate::takeoff::{Of, Seat, Straight};
use std::collections::BTreeMap;

/// Where a label of a piece may stand, as shares of it; first where it best does.
const SPOTS: [f64; 5] = [0.5, 0.35, 0.65, 0.2, 0.8];

/// A place on a link: a share of the way from its first place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct On {
    pub(super) link: LinkId,
    pub(super) share: f64,
}

/// A length of pipe as it is built.
#[derive(Debug, Clone)]
pub(super) struct Shown {
    /// `12.1` as on the cut sheet; none for what is bought ready-made.
    pub(super) label: Option<String>,
    pub(super) length: Length,
    pub(super) size: Size,
    /// Whether it is all of the pipe between two places.
    pub(super) alone: bool,
    /// What it is where it is bought ready-made.
    pub(super) ready: &'static str,
    /// Its middle, and other places of it.
    pub(super) spots: Vec<On>,
    /// Where it goes.
    pub(super) between: [NodeId; 2],
}

/// A joint between two pieces of a straight.
#[derive(Debug, Clone, Copy)]
pub(super) struct Between {
    pub(super) at: On,
    /// Whether it is the union of a ring; else it is a coupling.
    pub(super) union: bool,
}

/// All pipe of a job.
#[derive(Debug, Default)]
pub(super) struct Pieces {
    pub(super) shown: Vec<Shown>,
    pub(super) joints: Vec<Between>,
}

pub(super) fn pieces(plan: &Plan, library: &Library) -> Pieces {
    let network = &plan.network;
    let mut cut = BTreeMap::new();
    for line in &plan.takeoff.pipe {
        for piece in &line.pieces {
            cut.insert((piece.straight, piece.number), (*piece, line.size));
        }
    }
    let mut all = Pieces::default();
    for (straight, number) in plan.takeoff.straights.iter().zip(1_usize..) {
        let mut systems = library.systems().iter();
        let system = systems.find(|system| system.name == straight.system());
        let row = system.and_then(|system| system.row(straight.size()));
        let ready = |piece: &Length| match system {
            _ if row.is_some_and(|row| row.shortest == *piece) => "close nipple",
            Some(system) if system.nipples.contains(piece) => "nipple",
            _ => "ready pipe",
        };
        let ends = [straight.from(), straight.to()];
        let path = path(network, straight);
        let whole: f64 = straight.pieces().iter().map(|piece| piece.mm()).sum();
        let mut before = 0.0;
        for (piece, index) in straight.pieces().iter().zip(1_usize..) {
            if index > 1
                && let Some(at) = along(&path, before / whole)
            {
                let union = index == 2 && straight.has_union();
                all.joints.push(Between { at, union });
            }
            let spots: Vec<On> = SPOTS
                .iter()
                .filter_map(|share| along(&path, (before + piece.mm() * share) / whole))
                .collect();
            if straight.is_new() && !spots.is_empty() {
                let own = cut.remove(&(number, index));
                all.shown.push(Shown {
                    label: own.map(|(piece, _)| piece.label()),
                    length: *piece,
                    size: straight.size(),
                    alone: path.len() == 1 && straight.pieces().len() == 1,
                    ready: ready(piece),
                    spots,
                    between: ends,
                });
            }
            before += piece.mm();
        }
    }
    // What is left are short pieces between two sockets.
    for (piece, size) in cut.into_values() {
        let between = [piece.from, piece.to];
        all.shown.extend(stub(network, piece.seat).map(|at| Shown {
            label: Some(piece.label()),
            length: piece.length,
            size,
            alone: false,
            ready: "stub",
            spots: vec![at],
            between,
        }));
    }
    all
}

/// The links of a straight in its order, each with its length and whether it is passed
/// from its first place.
fn path(network: &Network, straight: &Straight) -> Vec<(LinkId, f64, bool)> {
    let mut path = Vec::new();
    let (mut link, mut at) = (straight.links()[0], straight.from());
    while let Some(length) = network.link(link).pipe {
        let ends = network.ends_of(link);
        let forward = ends[0] == at;
        path.push((link, length.mm(), forward));
        let far = if forward { ends[1] } else { ends[0] };
        let mut next = network.ends(far);
        let next = next.find(|end| end.link != link && network.runs_through(far, end.link));
        let Some(next) = next.filter(|_| far != straight.to()) else {
            break;
        };
        (link, at) = (next.link, far);
    }
    path
}

/// The place at a share of a path.
fn along(path: &[(LinkId, f64, bool)], share: f64) -> Option<On> {
    let whole: f64 = path.iter().map(|(_, length, _)| length).sum();
    let mut left = whole * share;
    for (link, length, forward) in path {
        if left <= *length {
            let share = left / length;
            let share = if *forward { share } else { 1.0 - share };
            return Some(On { link: *link, share });
        }
        left -= length;
    }
    path.last().map(|(link, _, forward)| On {
        link: *link,
        share: if *forward { 1.0 } else { 0.0 },
    })
}

/// The place of a short piece of tube: near the place that it is joined to.
fn stub(network: &Network, seat: Seat) -> Option<On> {
    let Of::End(link) = seat.of else { return None };
    let share = match network.link(link).pipe {
        None => 0.5,
        Some(_) if network.ends_of(link)[0] == seat.place => 0.12,
        Some(_) => 0.88,
    };
    Some(On { link, share })
}
