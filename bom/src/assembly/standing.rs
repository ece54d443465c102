//! Where pipe that stands is opened for new parts.

use super::bag::Bag;
use super::order::supply_at;
use super::say::in_turn;
use super::{Given, Hold, Step};
use crate::takeoff::{Seat, Straight};

/// What is built at the ends of a straight that stands.
pub(super) fn step(given: Given<'_>, bag: &mut Bag<'_>, straight: &Straight) -> Step {
    let place = |at| given.network.place(at);
    let [first, last] = straight.links();
    let mut seats = Vec::new();
    let mut how = Vec::new();
    for (at, link) in [(straight.from(), first), (straight.to(), last)] {
        let end = Seat::end(at, link);
        let mut names = bag.inward(end, true);
        seats.push(end);
        if supply_at(given, at).is_none() {
            names.extend(bag.names(Seat::from(at)));
            seats.push(Seat::from(at));
        }
        how.extend(in_turn(
            &format!("On the pipe that stands, at {}:", place(at)),
            &names,
        ));
    }
    let title = format!(
        "Open the pipe that stands from {} to {}",
        place(straight.from()),
        place(straight.to())
    );
    let mut step = bag.step(title, Hold::Onto(straight.from()), seats);
    step.how = how;
    step
}
