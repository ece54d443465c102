//! What closes rings: straights of which both ends stand.

use super::bag::{Bag, straight_seat};
use super::order::{Order, is_threaded, opens_at};
use super::say::{in_turn, listed, verb};
use super::{Given, Hold, Step, standing};
use crate::takeoff::{Seat, Straight};

pub(super) fn steps(given: Given<'_>, bag: &mut Bag<'_>, order: &Order<'_>) -> Vec<Step> {
    let closing = order.closing.iter().zip(1..);
    closing
        .map(|(straight, number)| step(given, bag, straight, (number, order.closing.len())))
        .collect()
}

fn step(
    given: Given<'_>,
    bag: &mut Bag<'_>,
    straight: &Straight,
    (number, rings): (usize, usize),
) -> Step {
    if !straight.is_new() {
        return standing::step(given, bag, straight);
    }
    let units = given.network.units;
    let place = |at| given.network.place(at);
    let [first, last] = straight.links();
    let ends = [(straight.from(), first), (straight.to(), last)];
    let pieces = bag.in_order(straight, false, true);
    let verb = verb(given, straight);
    let mut how = Vec::new();
    for (at, link) in ends {
        let names = bag.outward(Seat::end(at, link), true);
        how.extend(in_turn(&format!("At {}:", place(at)), &names));
    }
    let mut remarks = Vec::new();
    let opens = opens_at(bag, straight);
    let closes = match (straight.union_at(given.library), opens) {
        (Some(at), _) => {
            let rest = &pieces[2..];
            how.push(format!(
                "Screw {} into {}, with one half of the union on its end.",
                pieces[0],
                bag.stands(straight.from())
            ));
            how.push(format!(
                "Into {}: {}, with the other half on its end.",
                bag.stands(straight.to()),
                backwards(rest)
            ));
            how.push("Both halves must meet square and without force; then tighten the nut. It is the only joint here that needs no turning of pipe.".to_owned());
            format!(
                "the union, {} from {}, between {} and {}",
                at.show(units),
                place(straight.from()),
                pieces[0],
                rest[0]
            )
        }
        (None, Some(at)) => {
            let other = if at == straight.from() {
                straight.to()
            } else {
                straight.from()
            };
            let mut pieces = pieces.clone();
            if other == straight.to() {
                pieces.reverse();
            }
            how.extend(in_turn(
                &format!("{verb} in from {}:", place(other)),
                &pieces,
            ));
            how.push(format!(
                "Close the union at {}: its nut, without force.",
                place(at)
            ));
            format!("the union at {}", place(at))
        }
        (None, None) => {
            how.extend(in_turn(&format!("{verb} in"), &pieces));
            if is_threaded(given, straight) {
                remarks.push("Both ends stand and no union is counted here: this straight cannot be turned in.".to_owned());
            } else {
                how.push("Leave the joints next to it unmade until it lies in both its sockets; then join them all.".to_owned());
            }
            format!(
                "{} from {} to {}",
                listed(&pieces),
                place(straight.from()),
                place(straight.to())
            )
        }
    };
    let title = match rings {
        1 => format!("Close the ring: {closes}"),
        _ => format!("Close ring {number} of {rings}: {closes}"),
    };
    let [from, to] = ends.map(|(at, link)| Seat::end(at, link));
    let hold = Hold::Between([straight.from(), straight.to()]);
    let mut step = bag.step(title, hold, vec![from, to, straight_seat(straight)]);
    step.how = how;
    step.remarks = remarks;
    step
}

fn backwards(names: &[String]) -> String {
    let names: Vec<String> = names.iter().rev().cloned().collect();
    names.join(", then ")
}
