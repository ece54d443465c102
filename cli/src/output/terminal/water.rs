//! The water map in the terminal.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::Plan;
use bom::network::NodeId;
use bom::water::Walked;
use std::io::{self, Write};

/// Where the water goes, in walking order from the tank.
///
/// # Errors
/// What the writer says.
pub fn water(
    plan: &Plan,
    profile: &[Walked],
    place: &dyn Fn(NodeId) -> String,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let (summary, map, amounts) = (&plan.summary, &plan.water, plan.amounts.as_ref());
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
    let rows = words::water_ends(plan, place);
    let mut columns = vec![
        (Column::Figures, ""),
        (Column::Words, "ends in"),
        (Column::Figures, "above floor"),
        (Column::Figures, "pipe"),
        (Column::Points, "share"),
    ];
    columns.extend(words::water_heads(plan).map(|head| (Column::Points, head)));
    let (columns, heads): (Vec<_>, Vec<_>) = columns.into_iter().unzip();
    table(out, width, &columns, &heads, rows)?;
    if let Some(text) = words::water_either_way(map, units) {
        writeln!(out)?;
        paragraph(out, width, &text)?;
    }
    if let Some(amounts) = amounts {
        writeln!(out)?;
        for text in words::water_days(amounts, units) {
            paragraph(out, width, &text)?;
        }
    }
    let arrivals = amounts.map_or(&[][..], |amounts| &amounts.arrivals);
    if !arrivals.is_empty() {
        writeln!(out, "\nThe air at the outlets, at the pressure of the pipe")?;
        let columns = [
            Column::Words,
            Column::Figures,
            Column::Figures,
            Column::Words,
        ];
        let heads = ["outlet", "air", "dew point", "what that means"];
        let rows = arrivals.iter().map(|air| words::arrival(air, units));
        table(out, width, &columns, &heads, rows.map(Vec::from))?;
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
    let places = words::freezing(plan, place);
    list(out, width, "What freezes when its room is coldest", &places)?;
    let heading = "The main from the side (> falls, < rises, = level)";
    list(out, width, heading, &words::water_profile(profile, units))?;
    let assumptions = amounts.map_or(&[][..], |amounts| &amounts.assumptions);
    list(out, width, "Taken for the water", assumptions)
}
