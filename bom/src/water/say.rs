//! The water map in sentences.

use super::freezing::FreezingKind;
use super::map::{EndKind, WaterMap, WetHow};
use crate::Plan;
use crate::job::Room;
use crate::network::NodeId;
use crate::quantity::{LITRES_PER_GAL, Temperature, Units};

/// What is wrong with where the water goes, a sentence each; empty where all
/// of it drains.
#[must_use]
pub fn faults(map: &WaterMap, place: &dyn Fn(NodeId) -> String, units: Units) -> Vec<String> {
    let mut faults = Vec::new();
    for end in &map.ends {
        match &end.kind {
            EndKind::Pocket => faults.push(format!(
                "The water of {} stands at {}: put a drain there, or let the pipe fall on.",
                end.pipe.show(units),
                place(end.at)
            )),
            EndKind::Tool(device) => faults.push(format!(
                "The water of {} runs into {device}: end the drop in a drip leg with a drain.",
                end.pipe.show(units)
            )),
            // That the main is level is said below.
            EndKind::Drain(_) | EndKind::Tank | EndKind::Level => {}
        }
    }
    for one in &map.standing {
        faults.push(format!(
            "{} from {} to {} is level and holds its water: let it fall to a drain.",
            one.length.show(units),
            place(one.from),
            place(one.to)
        ));
    }
    for wet in &map.wet {
        let from = wet.from.show(units);
        match wet.how {
            // Said above, at its place.
            WetHow::Ends => {}
            WetHow::Takes => faults.push(format!(
                "Outlet {} takes the water of {from} out of the main: leave from the top, and let the water run on to a drain.",
                wet.outlet
            )),
            WetHow::AtRisk => faults.push(format!(
                "Outlet {} leaves the side of the main, past which the water of {from} runs: leave from the top.",
                wet.outlet
            )),
        }
    }
    faults
}

/// Water in gallons or litres.
#[must_use]
pub fn volume(litres: f64, units: Units) -> String {
    match units {
        Units::Feet => format!("{:.3} gal", litres / LITRES_PER_GAL),
        Units::Metric => format!("{litres:.2} l"),
    }
}

/// Every place that freezes, a line each, and what is not looked at where a room
/// freezes.
#[must_use]
pub fn freezes(plan: &Plan, place: &dyn Fn(NodeId) -> String) -> Vec<String> {
    let units = plan.summary.units;
    let freezes = |room: &Room| {
        let coldest = room.coldest;
        coldest.is_some_and(|coldest| coldest <= Temperature::from_celsius(0))
    };
    let rooms = plan.job.rooms.iter().filter(|room| freezes(room));
    let rooms: Vec<&str> = rooms.map(|room| room.name.value.as_str()).collect();
    let not_seen = (!rooms.is_empty()).then(|| {
        format!(
            "Not looked at: tanks, hoses, filter bowls and tools that stand in {}; the water in them freezes too.",
            rooms.join(", ")
        )
    });
    plan.freezing
        .iter()
        .map(|one| {
            let what = match &one.kind {
                FreezingKind::Drain(name) => format!("drain {name}"),
                FreezingKind::LowPoint => place(one.at),
                FreezingKind::Level(to) => {
                    format!("level pipe from {} to {}", place(one.at), place(*to))
                }
            };
            format!(
                "{what}: {} as cold as {}, the water of {}",
                one.room,
                one.coldest.show(units),
                one.pipe.show(units)
            )
        })
        .chain(not_seen)
        .collect()
}
