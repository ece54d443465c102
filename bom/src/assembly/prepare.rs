//! Before any pipe: hangers, and what lies at hand.

use super::bag::Bag;
use super::say::{count, listed};
use super::{Given, Hold, Step};
use crate::network::NodeId;
use crate::takeoff::{Hanger, Seat, hangers};

pub(super) fn steps(given: Given<'_>, bag: &mut Bag<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    let seats = bag.at_hand();
    if !seats.is_empty() {
        let mut step = bag.step(
            "Lay out what every joint and every tool needs".to_owned(),
            Hold::Nothing,
            seats,
        );
        step.how = vec![
            "Check pieces and parts against the cut sheet before anything goes up.".to_owned(),
        ];
        steps.push(step);
    }
    let hangers = hangers(given.network, given.library);
    let mut lines: Vec<([NodeId; 2], Vec<Hanger>)> = Vec::new();
    for hanger in hangers {
        let ends = [hanger.from, hanger.to];
        match lines.iter_mut().find(|(known, _)| *known == ends) {
            Some((_, known)) => known.push(hanger),
            None => lines.push((ends, vec![hanger])),
        }
    }
    for ([from, to], hangers) in lines {
        let place = |node| given.network.place(node);
        let units = given.network.units;
        let mut step = bag.step(
            format!(
                "Put up {} from {} to {}",
                count(hangers.len() as u64, "hanger"),
                place(from),
                place(to)
            ),
            Hold::Nothing,
            vec![Seat::supports(from, to)],
        );
        step.height = hangers.iter().map(|hanger| hanger.height).max();
        let at: Vec<String> = hangers
            .iter()
            .map(|hanger| {
                format!(
                    "{} ({} high)",
                    hanger.along.show(units),
                    hanger.height.show(units)
                )
            })
            .collect();
        step.how = vec![format!(
            "Measured along the pipe from {}, pipe centre above the floor: at {}.",
            place(from),
            listed(&at)
        )];
        steps.push(step);
    }
    steps
}
