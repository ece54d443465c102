//! The water map in the terminal.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::network::NodeId;
use bom::quantity::{Length, Units};
use bom::summary::Summary;
use bom::water::{Amounts, WaterMap};
use std::io::{self, Write};

/// Where the water goes, in walking order from the tank.
///
/// # Errors
/// What the writer says.
pub fn water(
    summary: &Summary,
    map: &WaterMap,
    amounts: Option<&Amounts>,
    place: &dyn Fn(NodeId) -> String,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let units = summary.units;
    paragraph(
        out,
        width,
        &format!("Where the water goes: {}", summary.title),
    )?;
    let fall = match summary.fall.as_str() {
        "level" => "the main is level".to_owned(),
        fall => format!("the main falls {fall}"),
    };
    paragraph(
        out,
        width,
        &format!("{} of pipe; {fall}", map.all.show_total(units)),
    )?;
    writeln!(out)?;
    let columns = [
        Column::Figures,
        Column::Words,
        Column::Figures,
        Column::Figures,
        Column::Points,
        Column::Points,
    ];
    let heads = ["", "ends in", "above floor", "pipe", "share", "water a day"];
    let water = |litres: Option<f64>| litres.map_or_else(String::new, |one| a_day(one, units));
    let share = |pipe| format!("{:.1} %", map.percent(pipe));
    let mut rows: Vec<Vec<String>> = map
        .ends
        .iter()
        .enumerate()
        .map(|(number, end)| {
            vec![
                (number + 1).to_string(),
                words::end_name(end, place),
                end.height.show(units),
                end.pipe.show(units),
                share(end.pipe),
                water(amounts.map(|amounts| amounts.at_ends[number])),
            ]
        })
        .collect();
    if !map.standing.is_empty() {
        let standing: Length = map.standing.iter().map(|one| one.length).sum();
        rows.push(vec![
            String::new(),
            "nowhere: level pipe".to_owned(),
            String::new(),
            standing.show(units),
            share(standing),
            water(amounts.map(|amounts| amounts.standing)),
        ]);
    }
    table(out, width, &columns, &heads, rows)?;
    if let Some(amounts) = amounts {
        writeln!(out)?;
        let text = format!(
            "The air brings {} a day as vapour: {} stay in the tank, {} leave with the air.",
            a_day(amounts.taken_in, units),
            a_day(amounts.in_tank, units),
            a_day(amounts.leaves, units)
        );
        paragraph(out, width, &text)?;
    }
    let faults = words::water_faults(map, place, units);
    if faults.is_empty() {
        writeln!(out)?;
        paragraph(
            out,
            width,
            "Every foot drains: nothing stands, and no outlet gets the water of the main.",
        )?;
    }
    list(out, width, "What to change", &faults)?;
    let assumptions = amounts.map_or(&[][..], |amounts| &amounts.assumptions);
    list(out, width, "Taken for the water", assumptions)
}

/// Water in gallons or litres.
fn a_day(litres: f64, units: Units) -> String {
    const LITRES_PER_GAL: f64 = 3.785_411_784;
    match units {
        Units::Feet => format!("{:.3} gal", litres / LITRES_PER_GAL),
        Units::Metric => format!("{litres:.2} l"),
    }
}
