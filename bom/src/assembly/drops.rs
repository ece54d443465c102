//! The drops, from the main down.

use super::bag::Bag;
use super::bench::{Part, link_parts};
use super::say::in_turn;
use super::{Given, Hold, Step};
use crate::network::{Origin, Owner, Spot};
use crate::takeoff::Seat;
use std::collections::BTreeMap;

/// The outlets in the order of their places, as papers number them.
pub(super) fn in_order(given: Given<'_>) -> Vec<usize> {
    let drops = &given.network.drops;
    let mut outlets: Vec<usize> = (0..drops.len()).collect();
    outlets.sort_by_key(|outlet| (drops[*outlet].take_off_at, drops[*outlet].foot_at));
    outlets
}

/// A step for each drop; `alone` are the feet that no bench has made up.
pub(super) fn steps(
    given: Given<'_>,
    bag: &mut Bag<'_>,
    alone: &BTreeMap<usize, Vec<Seat>>,
) -> Vec<Step> {
    let outlets = in_order(given).into_iter();
    outlets
        .map(|index| step(given, bag, index, alone.contains_key(&index)))
        .collect()
}

fn step(given: Given<'_>, bag: &mut Bag<'_>, index: usize, alone: bool) -> Step {
    let network = given.network;
    let drop = &network.drops[index];
    let owner_of = |place| network.node(place).origin.owner;
    let take_off = Seat::from(drop.take_off_at);
    let mut seats = Vec::new();
    let mut names = Vec::new();
    // A saddle is clamped on the main when its drop is built.
    if bag.holds(take_off) {
        names.extend(bag.names(take_off));
        seats.push(take_off);
    }
    for (link, from, to, _) in network.links() {
        let Origin { spot, .. } = network.node(to).origin;
        let hangs = matches!(
            spot,
            Spot::UpperElbow | Spot::DropElbow | Spot::Shut | Spot::Foot
        );
        if owner_of(to) != Owner::Outlet(index) || !hangs {
            continue;
        }
        for part in link_parts(given, link, from, to) {
            let seat = part.seat();
            let on_bench = seat == Seat::from(drop.foot_at) && !alone;
            names.extend(match part {
                _ if on_bench => vec!["the foot from the bench".to_owned()],
                Part::Near(seat) => bag.outward(seat, true),
                Part::Far(seat) => bag.inward(seat, true),
                Part::Straight(straight) => bag.in_order(straight, false, true),
            });
            if !on_bench {
                seats.push(seat);
            }
        }
    }
    let reach = network.links().find(|(_, _, to, link)| {
        owner_of(*to) == Owner::Outlet(index)
            && network.node(*to).origin.spot == Spot::DropElbow
            && link.direction.is_level()
    });
    let holder = Seat::supports(drop.foot_at, drop.foot_at);
    let mut how = Vec::new();
    let from = format!("From {}:", network.place(drop.take_off_at));
    how.extend(in_turn(&from, &names));
    if let Some((_, _, _, link)) = reach {
        how.push(format!("It reaches over to the {}.", link.direction.word()));
    }
    how.push(format!(
        "Set the foot so that its sides look the right way, {} above the floor.",
        drop.height.show(network.units)
    ));
    how.extend(in_turn("Hold it with", &bag.names(holder)));
    seats.push(holder);
    let title = format!("Drop {} ({})", drop.name, drop.kind);
    let mut step = bag.step(title, Hold::Onto(drop.take_off_at), seats);
    step.how = how;
    step
}
