//! The main, straight after straight.

use super::bag::{Bag, straight_seat};
use super::order::{Laid, Order, supply_at};
use super::say::{in_turn, listed, open_ends, verb};
use super::{Given, Hold, Step, standing};
use crate::takeoff::Seat;

pub(super) fn steps(given: Given<'_>, bag: &mut Bag<'_>, order: &Order<'_>) -> Vec<Step> {
    let laid = order.laid.iter();
    laid.map(|laid| step(given, bag, laid)).collect()
}

fn step(given: Given<'_>, bag: &mut Bag<'_>, laid: &Laid<'_>) -> Step {
    let place = |seat: Seat| given.network.place(seat.place);
    if !laid.straight.is_new() {
        return standing::step(given, bag, laid.straight);
    }
    let verb = verb(given, laid.straight);
    let [near, far] = laid.ends();
    let pieces = bag.in_order(laid.straight, laid.back, true);
    let mut seats = Vec::new();
    let mut how = Vec::new();
    if laid.starts && supply_at(given, near.place).is_none() {
        seats.push(Seat::from(near.place));
    }
    // A supply that is connected later has taken its own end.
    if bag.holds(near) || !laid.starts {
        let first = bag.outward(near, true);
        how.extend(in_turn("First, on what stands there:", &first));
        how.extend(in_turn(&format!("{verb} in"), &pieces));
        seats.push(near);
    } else {
        how.push(format!(
            "The main starts here: lay {} in its hangers, its free end at {}.",
            pieces[0],
            place(near)
        ));
        how.extend(in_turn("On its other end:", &pieces[1..]));
    }
    seats.push(straight_seat(laid.straight));
    if supply_at(given, far.place).is_none() {
        let stands = Seat::from(far.place);
        let mut end = bag.inward(far, true);
        end.extend(bag.names(stands));
        if !end.is_empty() {
            let open = open_ends(given.network, far)
                .map_or_else(String::new, |open| format!(", looking {open}"));
            how.push(format!("On its end: {}{open}.", end.join(", then ")));
        }
        seats.extend([far, stands]);
    }
    let hold = if laid.starts && !seats.contains(&near) {
        Hold::Start
    } else {
        Hold::Onto(near.place)
    };
    let title = format!(
        "{} from {} to {}",
        listed(&labels(&pieces)),
        place(near),
        place(far)
    );
    let mut step = bag.step(title, hold, seats);
    step.how = how;
    step
}

/// What of a straight is pipe.
fn labels(pieces: &[String]) -> Vec<String> {
    let pipe = pieces
        .iter()
        .filter(|piece| !matches!(piece.as_str(), "coupling" | "union"));
    pipe.cloned().collect()
}
