//! The drain round: which drain after which, and how often.

use crate::drawing::page::Block;
use crate::drawing::{Column, Scene, tags};
use crate::water::{Drained, Stop, round, volume};

/// Common practice, no source: a tank and the low points of a main are drained every
/// day that air is used, drip legs of drops once a week, and what opens by itself is
/// looked at as often.
const SAID: &str = "From the tank always on to the nearest drain that is left, as one walks over the floor. Open each valve slowly until air comes without water. How often: common practice; more often where much water comes, in damp and hot weather, and before every shut-down where it freezes.";

/// Less water in litres a day prints as none.
const TRACE: f64 = 0.005;

pub(super) fn blocks(scene: &Scene<'_>) -> Vec<Block> {
    let plan = scene.plan;
    let stops = round(&plan.network, scene.library, &plan.water);
    let mut columns = vec![
        Column::figures("stop"),
        Column::words("tag"),
        Column::words("place"),
        Column::words("valve"),
        Column::figures("empties"),
        Column::words("how often"),
    ];
    if let Some(amounts) = &plan.amounts {
        columns.push(Column::figures("water a day"));
        if amounts.hottest.is_some() {
            columns.push(Column::figures("hottest day"));
        }
    }
    let rows: Vec<Vec<String>> = stops
        .iter()
        .zip(1_usize..)
        .map(|(stop, number)| row(scene, stop, number))
        .collect();
    Block::headed("Drain round", SAID, &columns, &rows, scene.field)
}

fn row(scene: &Scene<'_>, stop: &Stop, number: usize) -> Vec<String> {
    let plan = scene.plan;
    let network = &plan.network;
    let units = plan.summary.units;
    let (tag, place, valve) = match stop.what {
        Drained::Tank(supply) => (
            "tank".to_owned(),
            network.supplies[supply].0.clone(),
            "at its foot".to_owned(),
        ),
        Drained::Main(drain) => {
            let drain = &network.drains[drain];
            let tag = tags(plan).drain_at(drain.at).unwrap_or_default().to_owned();
            (
                tag,
                drain.name.clone(),
                format!("drain valve {}", drain.valve),
            )
        }
        Drained::Drop(drop) => {
            let drop = &network.drops[drop];
            let number = tags(plan).outlet(&drop.name);
            let valve = drop.drain.clone().unwrap_or_default();
            (
                format!("outlet {number}"),
                format!("drip leg of {}", drop.name),
                valve,
            )
        }
    };
    let often = match (stop.what, stop.automatic) {
        (_, true) => "by itself; look weekly",
        (Drained::Tank(_) | Drained::Main(_), false) => "daily",
        (Drained::Drop(_), false) => "weekly",
    };
    let end = stop.end.and_then(|end| plan.water.ends.get(end));
    let mut row = vec![
        number.to_string(),
        tag,
        place,
        valve,
        end.map_or_else(String::new, |end| end.pipe.show_total(units)),
        often.to_owned(),
    ];
    if let Some(amounts) = &plan.amounts {
        for day in std::iter::once(&amounts.mean).chain(&amounts.hottest) {
            row.push(match day.at_stop(stop) {
                Some(litres) if litres < TRACE => "trace".to_owned(),
                Some(litres) => volume(litres, units),
                None => "with the first".to_owned(),
            });
        }
    }
    row
}
