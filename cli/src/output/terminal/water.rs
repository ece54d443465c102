//! The water map in the terminal.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::network::NodeId;
use bom::quantity::Length;
use bom::summary::Summary;
use bom::water::WaterMap;
use std::io::{self, Write};

/// Where the water goes, in walking order from the tank.
///
/// # Errors
/// What the writer says.
pub fn water(
    summary: &Summary,
    map: &WaterMap,
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
    ];
    let heads = ["", "ends in", "above floor", "pipe", "share"];
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
        ]);
    }
    table(out, width, &columns, &heads, rows)?;
    let faults = words::water_faults(map, place, units);
    if faults.is_empty() {
        writeln!(out)?;
        return paragraph(
            out,
            width,
            "Every foot drains: nothing stands, and no outlet gets the water of the main.",
        );
    }
    list(out, width, "What to change", &faults)
}
