//! On the bench: the foot of every drop with its sides and its drip leg, drops
//! that have the same together.

use super::bag::{Bag, straight_seat};
use super::say::{in_turn, listed};
use super::{Given, Hold, Step, drops};
use crate::network::{LinkId, NodeId, Origin, Owner, Spot};
use crate::takeoff::{Seat, Straight};
use std::collections::BTreeMap;

/// What of a drop is made up on the bench.
struct Foot {
    seats: Vec<Seat>,
    how: Vec<String>,
}

/// Feet that are made alike.
struct Alike {
    outlets: Vec<usize>,
    first: Foot,
    /// Of all of them.
    seats: Vec<Seat>,
}

/// The bench's steps, and the feet that are too little for it, by their outlet.
pub(super) fn steps(
    given: Given<'_>,
    bag: &mut Bag<'_>,
) -> (Vec<Step>, BTreeMap<usize, Vec<Seat>>) {
    let built = &given.network.drops;
    let mut alone = BTreeMap::new();
    let mut alike: Vec<Alike> = Vec::new();
    for outlet in drops::in_order(given) {
        let foot = foot(given, bag, outlet);
        if foot.seats.len() == 1 {
            alone.insert(outlet, foot.seats);
            continue;
        }
        let kind = |other: usize| {
            let drop = &built[other];
            (&drop.kind, drop.size, drop.system)
        };
        let known = alike.iter_mut().find(|known| {
            kind(known.outlets[0]) == kind(outlet)
                && known.first.how == foot.how
                && bag.alike(&known.first.seats, &foot.seats)
        });
        match known {
            Some(known) => {
                known.outlets.push(outlet);
                known.seats.extend(foot.seats);
            }
            None => alike.push(Alike {
                outlets: vec![outlet],
                seats: foot.seats.clone(),
                first: foot,
            }),
        }
    }
    let steps = alike.into_iter().map(|alike| {
        let outlets = &alike.outlets;
        let names: Vec<String> = outlets
            .iter()
            .map(|outlet| built[*outlet].name.clone())
            .collect();
        let kind = &built[outlets[0]].kind;
        let title = format!(
            "Foot of a {kind} drop: make {}, for {}",
            names.len(),
            listed(&names)
        );
        let mut step = bag.step(title, Hold::Bench, alike.seats);
        // It is made on the bench, not where it will hang.
        step.height = None;
        step.how = alike.first.how;
        step
    });
    (steps.collect(), alone)
}

/// The foot of an outlet's drop and all that is joined to it but the pipe from
/// above.
fn foot(given: Given<'_>, bag: &Bag<'_>, outlet: usize) -> Foot {
    let network = given.network;
    let foot_at = network.drops[outlet].foot_at;
    let start = Seat::from(foot_at);
    let mut seats = vec![start];
    let mut branches: Vec<(String, Vec<String>)> = Vec::new();
    for (link, from, to, _) in network.links() {
        let Origin { owner, spot } = network.node(to).origin;
        let branch = match (owner == Owner::Outlet(outlet), spot) {
            (true, Spot::LowerFoot) => "Below it:".to_owned(),
            (true, Spot::DripLeg) => "Drip leg:".to_owned(),
            (true, Spot::Side(side, _)) => format!("Side {side}:"),
            _ => continue,
        };
        let mut names = Vec::new();
        for part in link_parts(given, link, from, to) {
            names.extend(match part {
                Part::Near(seat) => bag.outward(seat, false),
                Part::Far(seat) => bag.inward(seat, false),
                Part::Straight(straight) => bag.in_order(straight, false, false),
            });
            seats.push(part.seat());
        }
        match branches.iter_mut().find(|(known, _)| *known == branch) {
            Some((_, known)) => known.extend(names),
            None => branches.push((branch, names)),
        }
    }
    let mut how = Vec::new();
    how.extend(in_turn("Begin with the", &bag.names(start)));
    how.extend(
        branches
            .iter()
            .filter_map(|(branch, names)| in_turn(branch, names)),
    );
    Foot { seats, how }
}

/// What is put together along a link.
#[derive(Clone, Copy)]
pub(super) enum Part<'a> {
    /// What joins the first place to the link.
    Near(Seat),
    /// What joins the second place to it, or stands there.
    Far(Seat),
    Straight(&'a Straight),
}

impl Part<'_> {
    pub(super) fn seat(self) -> Seat {
        match self {
            Self::Near(seat) | Self::Far(seat) => seat,
            Self::Straight(straight) => straight_seat(straight),
        }
    }
}

/// What stands between two places of a drop or a drain, and the farther one, in
/// the order in which it is put together.
pub(super) fn link_parts(
    given: Given<'_>,
    link: LinkId,
    from: NodeId,
    to: NodeId,
) -> Vec<Part<'_>> {
    let mut straights = given.takeoff.straights.iter();
    let straight = straights.find(|straight| straight.links().contains(&link));
    let mut parts = Vec::new();
    if let Some(straight) = straight {
        parts.push(Part::Near(Seat::end(from, link)));
        parts.push(Part::Straight(straight));
    }
    parts.push(Part::Far(Seat::end(to, link)));
    parts.push(Part::Far(Seat::from(to)));
    parts
}
