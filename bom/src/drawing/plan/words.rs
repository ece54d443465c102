//! What a plan says in words.

use super::level::Level;
use super::scale::Scale;
use super::ways::Stretch;
use crate::Plan;
use crate::network::{NodeId, Point};
use crate::quantity::{Length, Units};

/// The fall of a stretch: as the job writes it where it is the main's own, else by
/// its ends.
pub(super) fn fall(plan: &Plan, of: &Stretch) -> String {
    let at = |id: NodeId| plan.network.node(id).at;
    let (first, last) = (at(of.first), at(of.last));
    let by = (first.up - last.up).abs();
    let run = level(first, last);
    let main = plan.job.main.fall.value;
    // Heights are whole nanometres at each place.
    if !main.is_level() && (main.over(run) - by).abs() <= Length::from_64ths(1) {
        return stated(plan);
    }
    if run <= Length::ZERO {
        return String::new();
    }
    let over = |length: Length| by.scaled(length.nm(), run.nm());
    match plan.network.units {
        Units::Feet => format!("{} in 10 ft", over(Length::from_feet(10)).show(Units::Feet)),
        Units::Metric => format!(
            "{} in 10 m",
            over(Length::from_mm(10_000)).show(Units::Metric)
        ),
    }
}

/// The main's own fall, as the job writes it.
pub(super) fn stated(plan: &Plan) -> String {
    let text = plan.job.main.fall_text.trim();
    text.strip_suffix("back").unwrap_or(text).trim().to_owned()
}

/// How far two places are apart on the ground.
fn level(a: Point, b: Point) -> Length {
    let (east, north) = ((a.east - b.east).abs(), (a.north - b.north).abs());
    if east == Length::ZERO || north == Length::ZERO {
        return east.max(north);
    }
    // Pipe that is square to no wall runs at 45°.
    let longer = east.max(north);
    longer.scaled(1_414_213_562, 1_000_000_000)
}

/// What a sheet is called.
pub(super) fn title(level: &Level, more: Option<&str>) -> String {
    let parts = [level.name.as_str(), more.unwrap_or_default()];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    match parts.is_empty() {
        true => "Plan".to_owned(),
        false => format!("Plan: {}", parts.join(", ")),
    }
}

/// What a sheet shows, for those who cannot see it.
pub(super) fn about(plan: &Plan, level: &Level, scale: &Scale) -> String {
    let rooms: Vec<&str> = level.rooms.iter().map(|room| room.name.as_str()).collect();
    let place = match rooms.is_empty() {
        true => "The main".to_owned(),
        false => format!("The main in {}", rooms.join(" and ")),
    };
    let outlets = plan.network.drops.iter();
    let outlets = outlets
        .filter(|drop| level.has(plan, drop.take_off_at))
        .count();
    let outlets = match outlets {
        1 => "1 outlet".to_owned(),
        _ => format!("{outlets} outlets"),
    };
    format!(
        "{place} from above, {}, with {outlets}, valves, drains and the way the air flows.",
        scale.words
    )
}

/// What has to be said of the plan of a level.
pub(super) fn notes(plan: &Plan, level: &Level) -> Vec<String> {
    let units = plan.network.units;
    let mut notes = Vec::new();
    let from = match level.rooms.iter().find(|room| room.known) {
        Some(room) => format!("the inside south-west corner of {}", room.name),
        None => format!("the tank's port at {}", plan.network.supplies[0].0),
    };
    notes.push(format!(
        "Walls, pipe and places on it are to scale, signs are not. Heights are above the floor; those of the main are of its middle. East and north: from {from}."
    ));
    notes.extend(match plan.job.unmeasured.len() {
        0 => None,
        1 => Some("To confirm: ~ stands before a length that is paced or not measured.".to_owned()),
        count => Some(format!(
            "To confirm: {count} lengths are paced or not measured; ~ stands before those on dimension lines."
        )),
    });
    if units == Units::Metric {
        notes.push("Dimension lines are in mm.".to_owned());
    }
    if level
        .straights
        .iter()
        .all(|one| super::ways::falling(plan, one).is_empty())
    {
        notes.push(format!(
            "The main is level, at {}.",
            plan.job.main.height.value.show(units)
        ));
    }
    for room in &level.rooms {
        if !room.known {
            notes.push(format!(
                "To confirm: the file does not say where the walls of {} are; they are drawn round the pipe.",
                room.name
            ));
        } else if !room.agreed {
            notes.push(format!(
                "To confirm: the legs along the walls of {} do not agree on where these are; the first one is taken.",
                room.name
            ));
        }
    }
    notes.extend(
        plan.network
            .heights
            .iter()
            .map(|words| format!("To confirm: {}", words.replace('`', ""))),
    );
    notes.push("Signs in the manner of ISO 14617, ISO 1219 and ISO 6412.".to_owned());
    notes
}
