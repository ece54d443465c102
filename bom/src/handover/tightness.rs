//! How tight it is: what each part holds, what a fall of the gauge means, and which part to
//! look at next.

use super::sheet::Blank;
use super::worked::bleed_down;
use super::{
    Context, Part, ROOM, Reading, Step, cooled, falls_in, leaked, numbers, pascal, search,
};
use crate::quantity::{AirFlow, Pressure, Temperature, Units};

/// How long the gauge is watched. Common practice, no source.
const HOLD: f64 = 4.0 * 3_600.0;

/// A room and the pipe in it as the night cools it, for the table.
fn night(units: Units) -> (Temperature, [Temperature; 3]) {
    match units {
        Units::Feet => (ROOM, [65, 60, 50].map(Temperature::from_fahrenheit)),
        Units::Metric => (
            Temperature::from_celsius(20),
            [17, 14, 9].map(Temperature::from_celsius),
        ),
    }
}

pub(super) fn parts(context: &Context<'_>) -> Vec<Part> {
    let mut parts = vec![
        Part::note(
            "The tank is shut off: it hides leaks, as its air makes up for them. The compressor stands. Pressure is let in, left for half an hour to take the pipe's temperature, and then read, with a thermometer that touches the pipe.",
        ),
        Part::heading("What it holds"),
        Part::note(format!(
            "In a minute a leak of {} of free air takes so much off the gauge of each part alone.",
            AirFlow::from_cfm(1.0).show(context.plan.summary.units)
        )),
        sections(context),
    ];
    parts.extend(allowance(context));
    parts.push(Part::heading("The readings"));
    parts.extend(context.other_layout());
    parts.extend(readings(context));
    parts.push(Part::heading("If it falls"));
    parts.extend(halving(context));
    parts.extend(bleed_down::parts(context));
    parts.push(Part::Blanks(vec![
        vec![Blank::empty("Leaks found, and mended")],
        context.signed("Tested by", |people| &people.tested_by),
        context.signed("Seen by", |people| &people.seen_by),
    ]));
    parts
}

/// What was read of each part, else the blanks for one.
fn readings(context: &Context<'_>) -> Vec<Part> {
    let read = &context.worked.tightness;
    if read.is_empty() {
        return vec![Part::blanks([
            &["Begun: day, time", "Gauge", "Pipe's temperature"],
            &["Ended: day, time", "Gauge", "Pipe's temperature"],
            &[
                "Fall that is left when the cooling is taken off",
                "Lost air",
            ],
        ])];
    }
    let mut parts: Vec<Part> = read.iter().flat_map(|one| one.parts(context)).collect();
    let seen = |letter: &String| {
        read.iter()
            .any(|one| one.read.part.is_none() || one.part == *letter)
    };
    let letters = context.sections.iter().map(|part| &part.letter);
    let left: Vec<&String> = letters.filter(|letter| !seen(letter)).collect();
    if !left.is_empty() {
        parts.push(Part::Note(format!("Not read: {}.", listed(left))));
    }
    parts
}

/// One mark of a usual gauge.
pub(super) const fn mark_of(units: Units) -> Pressure {
    match units {
        Units::Feet => Pressure::from_psi(1.0),
        Units::Metric => Pressure::from_kpa(10.0),
    }
}

fn sections(context: &Context<'_>) -> Part {
    let row = |name: &str, valves: &[String], outlets: &[usize], litres: f64| {
        let flow = AirFlow::from_cfm(1.0).litres_per_second();
        let falls = falls_in(litres, 1_000.0, flow, context.atmosphere());
        let in_a_minute = falls.map_or(0.0, |seconds| 60.0 / seconds);
        vec![
            name.to_owned(),
            if valves.is_empty() {
                "none".to_owned()
            } else {
                valves.join(", ")
            },
            numbers(outlets),
            context.volume(litres),
            context.fine(Pressure::from_kpa(in_a_minute)),
        ]
    };
    let mut rows: Vec<Vec<String>> = context
        .sections
        .iter()
        .map(|part| row(&part.letter, &part.valves, &part.outlets, part.litres))
        .collect();
    if rows.len() > 1 {
        rows.push(row("all", &[], &[], context.figures.pipe));
    }
    Part::table(
        &[
            ("Part", false),
            ("Between valves", false),
            ("Outlets", false),
            ("Holds", true),
            ("In a minute", true),
        ],
        rows,
    )
}

/// What a fall means at this volume: one mark of the gauge over the hold, and what cooling
/// looks like.
fn allowance(context: &Context<'_>) -> Vec<Part> {
    let Some(at) = context.figures.design else {
        return vec![Part::note(
            "What a fall means is not worked out: the job states neither `relief` nor `cut_out`.",
        )];
    };
    let (units, atmosphere) = (context.plan.summary.units, context.atmosphere());
    let mark = mark_of(units);
    let first = Reading {
        gauge: pascal(at),
        temperature: ROOM,
    };
    let last = Reading {
        gauge: pascal(at) - pascal(mark),
        temperature: ROOM,
    };
    let smallest =
        leaked(context.figures.pipe, (first, last), HOLD, atmosphere).unwrap_or_default();
    let words = format!(
        "The gauge may not fall over {:.0} hours once the cooling is taken off. One mark of a usual gauge, {}, over that time is {} of free air: the smallest leak that this reading sees. (What may be lost is for the local code or the contract to say; no fall is common practice, no source.)",
        HOLD / 3_600.0,
        mark.show(units),
        small(smallest, units)
    );
    let (warm, colder) = night(units);
    let rows = colder.into_iter().map(|cold| {
        let shows = cooled(pascal(at), warm, cold, atmosphere);
        let fall = Pressure::from_kpa((pascal(at) - shows) / 1_000.0);
        vec![
            warm.show(units),
            cold.show(units),
            context.fine(Pressure::from_kpa(shows / 1_000.0)),
            context.fine(fall),
        ]
    });
    let rows: Vec<Vec<String>> = rows.collect();
    vec![
        Part::heading("What a fall means"),
        Part::Note(words),
        Part::note(format!(
            "Shut in at {}, with no leak at all, the gauge falls with the pipe's temperature (absolute pressure goes with absolute temperature):",
            context.shown(at)
        )),
        Part::table(
            &[
                ("From", true),
                ("To", true),
                ("The gauge shows", true),
                ("That is less by", true),
            ],
            rows,
        ),
        Part::note(
            "Take the cooling off the second reading: (first gauge + air outside) x second temperature / first temperature - air outside, temperatures above absolute zero (F + 459.67, or C + 273.15).",
        ),
    ]
}

fn small(flow: f64, units: Units) -> String {
    let flow = AirFlow::from_litres_per_second(flow);
    match units {
        Units::Feet => format!("{:.6} cfm", flow.cfm()),
        Units::Metric => format!("{:.6} l/s", flow.litres_per_second()),
    }
}

fn halving(context: &Context<'_>) -> Vec<Part> {
    let steps = search(&context.sections);
    if steps.is_empty() {
        return vec![Part::note(
            "No valve parts the pipe: soap from the tank outwards, joint by joint in the order in which they were made.",
        )];
    }
    let words = steps.iter().map(|step| {
        let left = listed(step.falls.iter().chain(&step.stands));
        format!("While the leak is in {left}: {}", step_words(step))
    });
    vec![
        Part::note(
            "The gauge stays by the tank, in the first part. At each step only its own valves are shut and all others open; it leaves about half of the pipe:",
        ),
        Part::Points(words.collect()),
        Part::note(
            "Then soap the part that is left, and what hangs on its outlets first: valves, couplers and bowls leak more often than pipe (common practice, no source).",
        ),
    ]
}

/// What to shut at a step of the search, and what that tells.
pub(super) fn step_words(step: &Step) -> String {
    let one = if step.shut.len() == 1 {
        "valve"
    } else {
        "valves"
    };
    format!(
        "shut {one} {}. The gauge still falls: it is in {}. It stands: it is in {}.",
        step.shut.join(" and "),
        listed(&step.falls),
        listed(&step.stands)
    )
}

fn listed<'a>(letters: impl IntoIterator<Item = &'a String>) -> String {
    let mut letters: Vec<&str> = letters.into_iter().map(String::as_str).collect();
    letters.sort_unstable();
    letters.join(", ")
}
