//! The water map for programs: lengths in millimetres, water in litres a day.

use super::{millimetres, number, print};
use crate::output::words;
use bom::Plan;
use bom::network::NodeId;
use bom::quantity::Temperature;
use bom::takeoff::Hanger;
use bom::water::{Arrival, Day, End, EndKind, FreezingKind};
use serde_json::{Value, json};
use std::io::{self, Write};

/// Where the water goes. `place` puts places into words.
///
/// # Errors
/// What the writer says.
pub fn water(
    plan: &Plan,
    hangers: &[Hanger],
    place: &dyn Fn(NodeId) -> String,
    out: &mut dyn Write,
) -> io::Result<()> {
    let (map, amounts) = (&plan.water, plan.amounts.as_ref());
    let litres = |litres: f64| number(format!("{litres:.3}"));
    let hottest = amounts.and_then(|amounts| amounts.hottest.as_ref());
    let end = |(number, end): (usize, &End)| {
        json!({
            "name": match &end.kind {
                EndKind::Drain(name) => name.clone(),
                _ => words::end_name(end, place),
            },
            "kind": words::end_kind(end),
            "where": place(end.at),
            "height_mm": millimetres(end.height),
            "drains_mm": millimetres(end.pipe),
            "at_risk_mm": millimetres(end.at_risk),
            "litres_per_day": amounts.map(|amounts| litres(amounts.mean.at_ends[number])),
            "litres_hottest_day": hottest.map(|day| litres(day.at_ends[number])),
        })
    };
    let is_drain = |(_, end): &(usize, &End)| matches!(end.kind, EndKind::Drain(_));
    let ends = || map.ends.iter().enumerate();
    let drains: Vec<Value> = ends().filter(is_drain).map(end).collect();
    let others: Vec<Value> = ends().filter(|one| !is_drain(one)).map(end).collect();
    let of_day = |day: &Day| {
        json!({
            "taken_in_litres": litres(day.taken_in),
            "in_tank_litres": litres(day.in_tank),
            "standing_litres": litres(day.standing),
            "leaves_litres": litres(day.leaves),
        })
    };
    let day = amounts.map(|amounts| {
        let mut day = of_day(&amounts.mean);
        day["coldest"] = amounts.coldest.as_ref().map(of_day).into();
        day["hottest"] = amounts.hottest.as_ref().map(of_day).into();
        day["assumptions"] = amounts.assumptions.clone().into();
        day
    });
    let celsius = |one: Temperature| number(format!("{:.2}", one.celsius()));
    let outlets: Option<Vec<Value>> = amounts.map(|amounts| {
        let outlet = |air: &Arrival| {
            json!({
                "name": air.outlet,
                "air_c": celsius(air.air),
                "pressure_dew_point_c": air.dew_point.map(celsius),
                "saturated": air.saturated,
            })
        };
        amounts.arrivals.iter().map(outlet).collect()
    });
    let freezes: Vec<Value> = plan
        .freezing
        .iter()
        .map(|one| {
            json!({
                "kind": words::freezing_kind(one),
                "where": place(one.at),
                "to": match one.kind {
                    FreezingKind::Level(to) => Some(place(to)),
                    FreezingKind::Drain(_) | FreezingKind::LowPoint => None,
                },
                "room": one.room,
                "coldest_c": celsius(one.coldest),
                "pipe_mm": millimetres(one.pipe),
            })
        })
        .collect();
    let undrained: Vec<Value> = map
        .standing
        .iter()
        .map(|one| {
            json!({
                "from": place(one.from),
                "to": place(one.to),
                "length_mm": millimetres(one.length),
            })
        })
        .collect();
    let wet: Vec<Value> = map
        .wet
        .iter()
        .map(|wet| {
            json!({
                "outlet": wet.outlet,
                "how": words::wet_kind(wet),
                "from_mm": millimetres(wet.from),
            })
        })
        .collect();
    let hangers: Vec<Value> = hangers
        .iter()
        .map(|hanger| {
            json!({
                "from": place(hanger.from),
                "to": place(hanger.to),
                "along_mm": millimetres(hanger.along),
                "height_mm": millimetres(hanger.height),
                "size": hanger.size.to_string(),
            })
        })
        .collect();
    print(
        &json!({
            "drains": drains,
            "hangers": hangers,
            "other_ends": others,
            "undrained": undrained,
            "wet_outlets": wet,
            "day": day,
            "outlets": outlets,
            "freezing": freezes,
            "pipe_mm": millimetres(map.all),
        }),
        out,
    )
}
