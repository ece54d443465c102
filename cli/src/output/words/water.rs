//! The water map in words.

use bom::Plan;
use bom::network::NodeId;
use bom::quantity::{Length, Temperature, Units};
use bom::water::{
    Amounts, Arrival, Day, End, EndKind, Freezing, FreezingKind, Walked, WaterMap, Wet, WetHow,
};
pub(in crate::output) use bom::water::{
    faults as water_faults, freezes as freezing, volume as water_volume,
};
use std::cmp::Ordering;

/// What an end is called.
pub(in crate::output) fn end_name(end: &End, place: &dyn Fn(NodeId) -> String) -> String {
    match &end.kind {
        EndKind::Drain(name) => format!("drain {name}"),
        EndKind::Tank => "the tank, to be drained daily".to_owned(),
        EndKind::Tool(device) => format!("the tool at {device}"),
        EndKind::Pocket => format!("no drain: {}", place(end.at)),
        EndKind::Level => format!("level main: {}", place(end.at)),
    }
}

/// The word for an end in JSON and CSV.
pub(in crate::output) const fn end_kind(end: &End) -> &'static str {
    match end.kind {
        EndKind::Drain(_) => "drain",
        EndKind::Tank => "tank",
        EndKind::Tool(_) => "tool",
        EndKind::Pocket => "pocket",
        EndKind::Level => "level",
    }
}

/// The word for how an outlet gets wet.
pub(in crate::output) const fn wet_kind(wet: &Wet) -> &'static str {
    match wet.how {
        WetHow::Ends => "ends-there",
        WetHow::Takes => "takes-all",
        WetHow::AtRisk => "at-risk",
    }
}

/// The days of which the water is said: the mean one, and the hottest if the job says how
/// hot it gets.
fn days(plan: &Plan) -> impl Iterator<Item = &Day> {
    let amounts = plan.amounts.iter();
    amounts.flat_map(|amounts| std::iter::once(&amounts.mean).chain(&amounts.hottest))
}

/// The heads of the columns of its days.
pub(in crate::output) fn water_heads(plan: &Plan) -> impl Iterator<Item = &'static str> {
    let heads = ["water a day", "hottest day"].into_iter();
    heads.zip(days(plan)).map(|(head, _)| head)
}

/// Every end in walking order from the tank, and what stands: number, name, height, pipe,
/// share of it, and the water of the days.
pub(in crate::output) fn water_ends(
    plan: &Plan,
    place: &dyn Fn(NodeId) -> String,
) -> Vec<Vec<String>> {
    let (map, units) = (&plan.water, plan.summary.units);
    let row = |number, name, height, pipe: Length, litres: &dyn Fn(&Day) -> f64| {
        let share = format!("{:.1} %", map.percent(pipe));
        let water = days(plan).map(|day| water_volume(litres(day), units));
        let row = [number, name, height, pipe.show(units), share];
        row.into_iter().chain(water).collect()
    };
    let ends = map.ends.iter().enumerate().map(|(at, end)| {
        let height = end.height.show(units);
        let name = end_name(end, place);
        let number = (at + 1).to_string();
        row(number, name, height, end.pipe, &|day| day.at_ends[at])
    });
    let mut rows: Vec<Vec<String>> = ends.collect();
    if !map.standing.is_empty() {
        let name = "nowhere: level pipe".to_owned();
        let length = map.standing.iter().map(|one| one.length).sum();
        let standing = &|day: &Day| day.standing;
        rows.push(row(String::new(), name, String::new(), length, standing));
    }
    rows
}

/// Where water may go either way; none where it does not.
pub(in crate::output) fn water_either_way(map: &WaterMap, units: Units) -> Option<String> {
    let ends = map.ends.iter().zip(1..);
    let as_well: Vec<String> = ends
        .filter(|(end, _)| end.at_risk > Length::ZERO)
        .map(|(end, number)| format!("to {number} that of {} more", end.at_risk.show(units)))
        .collect();
    (!as_well.is_empty()).then(|| {
        format!(
            "Where pipe falls away two ways, water is counted the way whose next place lies lower; it may come the other way as well: {}.",
            as_well.join(", ")
        )
    })
}

/// The heights of the main, a line for each way that is walked without a jump.
pub(in crate::output) fn water_profile(profile: &[Walked], units: Units) -> Vec<String> {
    let words = |way: &Walked| {
        let mut line = String::new();
        let mut before = None;
        for place in way {
            if let Some(before) = before {
                line += match place.height.cmp(&before) {
                    Ordering::Less => " > ",
                    Ordering::Greater => " < ",
                    Ordering::Equal => " = ",
                };
            }
            before = Some(place.height);
            // A height is read in one piece, so its line is not broken there.
            let here = format!("{} {}", place.name, place.height.show(units));
            line += &here.replace(' ', "\u{a0}");
        }
        line
    };
    profile.iter().map(words).collect()
}

/// What the air brings and where it stays, a sentence for each kind of day.
pub(in crate::output) fn water_days(amounts: &Amounts, units: Units) -> Vec<String> {
    let days = [
        ("The air brings", Some(&amounts.mean)),
        ("On the hottest day it brings", amounts.hottest.as_ref()),
        ("On the coldest day it brings", amounts.coldest.as_ref()),
    ];
    let volume = |litres| water_volume(litres, units);
    days.into_iter()
        .filter_map(|(brings, day)| {
            let day = day?;
            Some(format!(
                "{brings} {} a day as vapour: {} stay in the tank, {} leave with the air.",
                volume(day.taken_in),
                volume(day.in_tank),
                volume(day.leaves)
            ))
        })
        .collect()
}

/// An outlet, its air, its dew point, and what that means.
pub(in crate::output) fn arrival(air: &Arrival, units: Units) -> [String; 4] {
    let dew = air.dew_point.map(|dew| dew.show(units));
    let mut means = match air.dew_point {
        _ if air.saturated => "at its dew point: water falls out as it cools further".to_owned(),
        Some(dew) => format!("dry by {}", apart(air.air, dew, units)),
        None => "dry".to_owned(),
    };
    if air.saturated && air.paint {
        means += "; for paint, put a dryer in the main or at the outlet";
    }
    [
        air.outlet.clone(),
        air.air.show(units),
        dew.unwrap_or_else(|| "none".to_owned()),
        means,
    ]
}

/// How many degrees lie between.
fn apart(above: Temperature, below: Temperature, units: Units) -> String {
    match units {
        Units::Feet => format!("{:.1} F", above.fahrenheit() - below.fahrenheit()),
        Units::Metric => format!("{:.1} C", above.celsius() - below.celsius()),
    }
}

/// The word for what freezes, in JSON.
pub(in crate::output) const fn freezing_kind(freezing: &Freezing) -> &'static str {
    match freezing.kind {
        FreezingKind::Drain(_) => "drain",
        FreezingKind::LowPoint => "low-point",
        FreezingKind::Level(_) => "level",
    }
}
