//! The water map in the terminal.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::network::NodeId;
use bom::quantity::{Length, Units};
use bom::summary::Summary;
use bom::water::{Amounts, Walked, WaterMap};
use std::io::{self, Write};

/// Where the water goes, in walking order from the tank.
///
/// # Errors
/// What the writer says.
pub fn water(
    summary: &Summary,
    map: &WaterMap,
    amounts: Option<&Amounts>,
    profile: &[Walked],
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
    let at_risk = map.ends.iter().any(|end| end.at_risk > Length::ZERO);
    let row = |number: String, name, height, pipe: Length, more: Length, litres: Option<f64>| {
        let mut row = vec![
            number,
            name,
            height,
            pipe.show(units),
            format!("{:.1} %", map.percent(pipe)),
        ];
        if at_risk {
            row.push(match more {
                Length::ZERO => String::new(),
                more => more.show(units),
            });
        }
        row.extend(litres.map(|litres| a_day(litres, units)));
        row
    };
    let mut rows: Vec<Vec<String>> = map
        .ends
        .iter()
        .enumerate()
        .map(|(number, end)| {
            row(
                (number + 1).to_string(),
                words::end_name(end, place),
                end.height.show(units),
                end.pipe,
                end.at_risk,
                amounts.map(|amounts| amounts.at_ends[number]),
            )
        })
        .collect();
    if !map.standing.is_empty() {
        rows.push(row(
            String::new(),
            "nowhere: level pipe".to_owned(),
            String::new(),
            map.standing.iter().map(|one| one.length).sum(),
            Length::ZERO,
            amounts.map(|amounts| amounts.standing),
        ));
    }
    let mut columns = vec![
        (Column::Figures, ""),
        (Column::Words, "ends in"),
        (Column::Figures, "above floor"),
        (Column::Figures, "pipe"),
        (Column::Points, "share"),
    ];
    columns.extend(at_risk.then_some((Column::Figures, "may come too")));
    columns.extend(amounts.map(|_| (Column::Points, "water a day")));
    let (columns, heads): (Vec<_>, Vec<_>) = columns.into_iter().unzip();
    table(out, width, &columns, &heads, rows)?;
    if at_risk {
        writeln!(out)?;
        paragraph(
            out,
            width,
            "Where pipe falls away two ways, water is counted the way that is walked first; it may come to the other as well.",
        )?;
    }
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
    let heading = "The main from the side (> falls, < rises, = level)";
    list(out, width, heading, &words::water_profile(profile, units))?;
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
