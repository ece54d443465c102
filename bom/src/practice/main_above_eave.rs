use super::{Context, Found, Rule};
use crate::finding::Severity;
use crate::job::{Leg, Room};
use crate::quantity::Length;
use crate::source::Spanned;

pub(super) static RULE: Rule = Rule {
    name: "main-above-eave",
    severity: Severity::Warning,
    finds: "Level main at the eave of its room or above it.",
    why: "At the eave the walls end: there is nothing to hang the pipe from, and a truss or the roof may be in its way.",
    cure: "lower the main (`height` and the riser), or its rise; where it rises to the place, take a gentler fall or a low point that is nearer; or check the eave",
    source: "common practice, no source; the eave is the job's own",
    check,
};

fn check(context: Context<'_>) -> Vec<Found> {
    let rooms = context.job.rooms.iter();
    rooms
        .filter_map(|room| above(context, room, room.eave?))
        .collect()
}

fn above(context: Context<'_>, room: &Room, eave: Spanned<Length>) -> Option<Found> {
    let network = context.network;
    let job = context.job;
    let height = |at| network.node(at).at.up;
    let places = context.level_places(move |leg| room_of(&job.legs[leg], &job.rooms, room));
    // Of equally high places the first on the way.
    let highest = places.reduce(|high, at| if height(at) > height(high) { at } else { high })?;
    let over = height(highest) - eave.value;
    let message = |by: &str, cure: String| {
        format!(
            "the main ({}) is {} above the floor, {by} the eave of `{}`: {cure}",
            context.named(highest),
            height(highest).show(network.units),
            room.name.value
        )
    };
    let message = match over {
        Length::ZERO => message("level with", "it has to be lower".to_owned()),
        over if over > Length::ZERO => message(
            &format!("{} above", context.at_least(over)),
            format!("it has to be more than {} lower", context.at_least(over)),
        ),
        _ => return None,
    };
    Some(Found {
        span: eave.span,
        message,
    })
}

/// Whether a leg lies in a room: in the one that it names, in the only one, or,
/// where nothing says in which of several, in the one with the highest eave: what
/// is above that is above it in any of them.
fn room_of(leg: &Leg, rooms: &[Room], room: &Room) -> bool {
    if let Some(name) = &leg.room {
        return name.value == room.name.value;
    }
    let eaves: Option<Vec<Length>> = rooms
        .iter()
        .map(|room| room.eave.map(|eave| eave.value))
        .collect();
    let highest = eaves.and_then(|eaves| eaves.into_iter().max());
    let first = rooms
        .iter()
        .find(|room| room.eave.map(|eave| eave.value) == highest);
    highest.is_some() && first.is_some_and(|first| first.name.value == room.name.value)
}
