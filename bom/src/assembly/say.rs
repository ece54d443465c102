//! Words for the steps.

use super::order::is_threaded;
use super::{Given, Stage};
use crate::job::{Angle, Direction};
use crate::network::{Network, NodeKind};
use crate::quantity::PartSize;
use crate::system::Joint;
use crate::takeoff::{Of, PartKey, Seat, Straight};
use std::collections::BTreeSet;

/// A part in few words: `elbow 90 3/4in`.
pub(super) fn name(key: &PartKey) -> String {
    let part = key.part.replace('-', " ");
    match key.size {
        PartSize::NONE => part,
        size => format!("{part} {size}"),
    }
}

/// A sentence of a list: `First a, then b, then c.`
pub(super) fn in_turn(lead: &str, names: &[String]) -> Option<String> {
    (!names.is_empty()).then(|| format!("{lead} {}.", names.join(", then ")))
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// `1 joint`, `3 joints`.
pub(super) fn count(number: u64, one: &str) -> String {
    match number {
        1 => format!("1 {one}"),
        number => format!("{number} {one}s"),
    }
}

/// What a pipe does where it goes in.
pub(super) fn verb(given: Given<'_>, straight: &Straight) -> &'static str {
    if is_threaded(given, straight) {
        "Screw"
    } else {
        "Fit"
    }
}

/// Where the ends look that stay open when pipe has come to a place by a link;
/// none where the pipe only runs on.
pub(super) fn open_ends(network: &Network, end: Seat) -> Option<String> {
    let (place, Of::End(by)) = (end.place, end.of) else {
        return None;
    };
    if !matches!(network.node(place).kind, NodeKind::Fitting(_)) {
        return None;
    }
    let arrived = network.ends(place).find(|end| end.link == by)?.direction;
    let aside = |direction: &Direction| direction.angle(arrived) != Angle::Opposite;
    let ends: BTreeSet<&str> = network
        .ends(place)
        .filter(|end| end.link != by)
        .map(|end| end.direction)
        .filter(aside)
        .map(towards)
        .collect();
    let ends: Vec<String> = ends.into_iter().map(str::to_owned).collect();
    (!ends.is_empty()).then(|| listed(&ends))
}

fn towards(direction: Direction) -> &'static str {
    match direction {
        Direction::Up => "up",
        Direction::Down => "down",
        level => level.word(),
    }
}

/// How the pipe of the whole job is joined.
pub(super) fn methods(given: Given<'_>) -> BTreeSet<Joint> {
    let systems = given.network.systems().into_iter();
    systems
        .map(|system| given.library.systems()[system].joint)
        .collect()
}

/// What holds for all steps of a stage. The order of threaded and of other pipe
/// is common practice, no source.
pub(super) fn notes(given: Given<'_>, stage: Stage) -> Vec<String> {
    let methods = methods(given);
    let threaded = methods.contains(&Joint::Threaded);
    let mut notes: Vec<&str> = Vec::new();
    match stage {
        Stage::Prepare => notes.push(
            "Hangers go up first: the pipe lies in them while it is joined. Tighten them once the fall is right.",
        ),
        Stage::Bench => notes.push(
            "What hangs below a drop is made up on the bench, where it can be held. Look through every piece before it goes in: no scale, no chips.",
        ),
        Stage::Main => {
            if threaded {
                notes.push("Threaded pipe goes one way from where it starts: each piece is screwed into what stands, and what comes next is screwed on its end. Hold what stands with a second wrench, and never turn a joint back to line it up: tighten on, or make it anew.");
            }
            if methods.iter().any(|joint| *joint != Joint::Threaded) {
                notes.push("Tube: cut square, deburr, and put each straight together dry first. Mark on the tube how deep it goes into its socket; join when the fittings look the right way and the mark is at the rim.");
            }
            notes.extend(methods.iter().filter_map(|joint| own_note(*joint)));
        }
        Stage::Rings => notes.push(
            "Both ends of these straights stand. Check before the last joint that nothing is pulled into place.",
        ),
        Stage::Drops => notes.push(
            "Each drop is built from the main down; its foot comes from the bench as one piece.",
        ),
        Stage::Connect => notes.push(
            "The tank is shut, empty of pressure and locked off while it is connected.",
        ),
        Stage::Checks => notes.push(
            "How the pipe is tested, with what and for how long, is what the local code says; these steps come before and around it.",
        ),
    }
    notes.into_iter().map(str::to_owned).collect()
}

/// What the way to join asks for.
const fn own_note(joint: Joint) -> Option<&'static str> {
    match joint {
        Joint::Threaded => None,
        Joint::Soldered | Joint::Brazed => Some(
            "Hot work goes by the local code. Open the pipe at one end while it is heated, and make adapters' hot joints before their threads are sealed.",
        ),
        Joint::Pressed => Some(
            "Press only when a whole straight is put together and in line, and look at every mark again after it: an unpressed joint can hold until there is pressure.",
        ),
        Joint::PushFit => Some("Push to the mark, and pull back to feel the grip."),
    }
}
