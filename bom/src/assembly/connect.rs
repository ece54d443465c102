//! Drains of the main, and each tank to its pipe.

use super::bag::Bag;
use super::bench::{Part, link_parts};
use super::order::{Order, is_threaded, leaves};
use super::say::in_turn;
use super::{Given, Hold, Step};
use crate::network::{NodeId, NodeKind, Owner};
use crate::takeoff::Seat;

/// What begins the main, where it has to begin at the tank, and what comes at
/// the end.
pub(super) fn steps(
    given: Given<'_>,
    bag: &mut Bag<'_>,
    order: &Order<'_>,
) -> (Vec<Step>, Vec<Step>) {
    let mut begun = Vec::new();
    let mut later = drains(given, bag);
    let first = order.laid.first().map(|laid| laid.ends()[0].place);
    for (index, (name, _)) in given.network.supplies.iter().enumerate() {
        let laid = order.laid.iter().map(|laid| laid.straight);
        let straights = laid.chain(order.closing.iter().copied());
        let Some((straight, end)) = leaves(given, straights, index) else {
            continue;
        };
        let chain = Chain::of(given, index);
        let lies_loose = chain.lies_loose(bag, end);
        let turns = is_threaded(given, straight);
        let begins = first == Some(end.place) && turns && !lies_loose;
        let mut seats = chain.seats;
        let names: Vec<String> = seats
            .iter()
            .flat_map(|seat| bag.inward(*seat, true))
            .collect();
        if begins {
            if seats.iter().any(|seat| bag.holds(*seat)) {
                let title = format!("Begin at the tank {name}");
                let mut step = bag.step(title, Hold::Start, seats);
                step.how.extend(in_turn("From its port:", &names));
                begun.push(step);
            }
            continue;
        }
        let mut joins = names;
        joins.extend(bag.outward(end, true));
        seats.push(end);
        let hold = Hold::Between([chain.port, end.place]);
        let unions = seats.iter().any(|seat| comes_apart(bag, *seat));
        let mut step = bag.step(format!("Connect the tank {name} to the main"), hold, seats);
        step.how.extend(in_turn("From its port:", &joins));
        if unions {
            step.how
                .push("Close the union last, when both sides of it are tight.".to_owned());
        } else if chain.has_hose && turns {
            step.remarks.push("Neither end of the hose can be turned once the other is tight, and no union is counted here: one of its ends must swivel.".to_owned());
        } else if turns {
            step.remarks.push(format!(
                "The main and the tank {name} both stand and no union is counted between them: it could only be made up with one. Ask for it with a union among what connects the tank."
            ));
        }
        later.push(step);
    }
    (begun, later)
}

/// Whether a union of any kind is there.
fn comes_apart(bag: &Bag<'_>, seat: Seat) -> bool {
    bag.has(seat, "union") || bag.has(seat, "insulating-union")
}

/// What stands between a port and the pipe.
pub(super) struct Chain {
    port: NodeId,
    seats: Vec<Seat>,
    has_hose: bool,
}

impl Chain {
    pub(super) fn of(given: Given<'_>, supply: usize) -> Self {
        let network = given.network;
        let of_it = |place: NodeId| network.node(place).origin.owner == Owner::Supply(supply);
        let port = network.ports().nth(supply).unwrap_or_default();
        let mut chain = Self {
            port,
            seats: Vec::new(),
            has_hose: false,
        };
        for (link, _, to, joint) in network.links() {
            if !of_it(to) || joint.is_main() {
                continue;
            }
            chain.seats.extend([Seat::end(to, link), Seat::from(to)]);
            let node = network.node(to);
            chain.has_hose |= matches!(
                node.kind,
                NodeKind::Device {
                    length: Some(_),
                    ..
                }
            );
        }
        chain
    }

    /// Whether it can be joined to a main that stands, whose end this is.
    pub(super) fn lies_loose(&self, bag: &Bag<'_>, end: Seat) -> bool {
        let mut seats = self.seats.iter().chain([&end]);
        self.has_hose || seats.any(|seat| comes_apart(bag, *seat))
    }
}

/// A step for each drain of the main.
fn drains(given: Given<'_>, bag: &mut Bag<'_>) -> Vec<Step> {
    let network = given.network;
    let drains = network.drains.iter().enumerate();
    drains
        .map(|(index, drain)| {
            let mut seats = Vec::new();
            let mut names = Vec::new();
            for (link, from, to, _) in network.links() {
                if network.node(to).origin.owner != Owner::Drain(index) {
                    continue;
                }
                for part in link_parts(given, link, from, to) {
                    names.extend(match part {
                        Part::Near(seat) => bag.outward(seat, true),
                        Part::Far(seat) => bag.inward(seat, true),
                        Part::Straight(straight) => bag.in_order(straight, false, true),
                    });
                    seats.push(part.seat());
                }
            }
            let title = format!("Drain {}", drain.name);
            let mut step = bag.step(title, Hold::Onto(drain.at), seats);
            let from = format!("Down from {}:", network.place(drain.at));
            step.how.extend(in_turn(&from, &names));
            step
        })
        .collect()
}
