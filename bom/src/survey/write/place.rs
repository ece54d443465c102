//! The head of the file, and where the work is.

use super::Style;
use crate::job::OUTDOORS;
use crate::quantity::Units;
use crate::survey::table::{Table, key, quoted};
use crate::survey::{Room, Survey};

/// The title where nobody has given one: a job must have one.
const TITLE: &str = "New air main";

pub(super) fn head(survey: &Survey) -> String {
    let mut table = Table::new("[job]", "");
    let given = survey
        .title
        .as_deref()
        .filter(|title| !title.trim().is_empty());
    let ask = given.map_or("a stand-in: what the papers are headed with", |_| "");
    table.text("title", given.unwrap_or(TITLE), ask);
    table.known_or(
        "customer",
        survey.customer.as_ref(),
        "…",
        "who it is for, as on the quote",
    );
    let (units, reads) = match survey.units {
        Units::Feet => ("feet", "a plain \"12-6\" is 12 ft 6 in"),
        Units::Metric => ("metric", "lengths say their unit: \"3.81m\" or \"3810mm\""),
    };
    table.text("units", units, reads);
    table.text("revision", survey.revision.as_deref().unwrap_or("A"), "");
    table.to_text()
}

pub(super) fn people(survey: &Survey) -> String {
    let mut table = Table::new("[shop]", "");
    let count = survey.people.unwrap_or(2);
    table.raw("people", count.to_string(), "who use air at the same time");
    match survey.people {
        Some(_) => table.to_text(),
        None => table.commented_out(),
    }
}

pub(super) fn site(altitude: &str) -> String {
    let mut table = Table::new("[site]", "");
    table.text("altitude", altitude, "above the sea");
    table.to_text()
}

/// The rooms, or how to write one.
pub(super) fn rooms(survey: &Survey, style: &Style) -> String {
    let none = Room {
        name: "shop".to_owned(),
        ..Room::default()
    };
    let written: Vec<String> = match &survey.rooms[..] {
        [] => vec![room(&none, style)],
        rooms => rooms.iter().map(|one| room(one, style)).collect(),
    };
    written.join("\n")
}

fn room(room: &Room, style: &Style) -> String {
    let mut table = Table::new(format!("[room.{}]", key(&room.name)), "");
    let outdoors = room.name == OUTDOORS;
    let size = |(a, b): &(String, String)| quoted(&format!("{a} x {b}"));
    let example = style.length("48-0 x 32-0", "14.6m x 9.8m");
    let stated = room.size.as_ref().map(size);
    let known = stated.is_some() || outdoors;
    let ask = match stated {
        Some(_) => "east-west x north-south, inside faces",
        None => "to measure: east-west x north-south, inside faces; it checks the walk",
    };
    if stated.is_some() || !outdoors {
        table.raw("size", stated.unwrap_or_else(|| quoted(example)), ask);
    }
    if !outdoors {
        let eave = style.length("14-0", "4.2m");
        table.known_or("eave", room.eave.as_ref(), eave, "height of the eave");
    }
    let (cold, hot) = (style.length("38 F", "4 C"), style.length("90 F", "32 C"));
    table.known_or(
        "coldest",
        room.coldest.as_ref(),
        cold,
        "the coldest that it gets here: does water freeze?",
    );
    table.known_or(
        "hottest",
        room.hottest.as_ref(),
        hot,
        "the hottest: how much water the air brings",
    );
    match known {
        true => table.to_text(),
        false => table.commented_out(),
    }
}
