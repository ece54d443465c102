//! The water map in the terminal.

use super::{Column, list, paragraph, table};
use crate::output::words;
use bom::Plan;
use bom::network::NodeId;
use bom::quantity::Length;
use bom::water::{Day, Walked};
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
    // Of the mean day, and of the hottest if the job says how hot it gets.
    let of_days = |litres: &dyn Fn(&Day) -> f64| -> Vec<f64> {
        let days = amounts.map(|amounts| [Some(&amounts.mean), amounts.hottest.as_ref()]);
        days.into_iter().flatten().flatten().map(litres).collect()
    };
    let row = |number: String, name, height, pipe: Length, litres: Vec<f64>| {
        let mut row = vec![
            number,
            name,
            height,
            pipe.show(units),
            format!("{:.1} %", map.percent(pipe)),
        ];
        row.extend(
            litres
                .into_iter()
                .map(|litres| words::water_volume(litres, units)),
        );
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
                of_days(&|day| day.at_ends[number]),
            )
        })
        .collect();
    if !map.standing.is_empty() {
        rows.push(row(
            String::new(),
            "nowhere: level pipe".to_owned(),
            String::new(),
            map.standing.iter().map(|one| one.length).sum(),
            of_days(&|day| day.standing),
        ));
    }
    let mut columns = vec![
        (Column::Figures, ""),
        (Column::Words, "ends in"),
        (Column::Figures, "above floor"),
        (Column::Figures, "pipe"),
        (Column::Points, "share"),
    ];
    let of_water = ["water a day", "hottest day"];
    columns.extend(
        of_days(&|_| 0.0)
            .iter()
            .zip(of_water)
            .map(|(_, head)| (Column::Points, head)),
    );
    let (columns, heads): (Vec<_>, Vec<_>) = columns.into_iter().unzip();
    table(out, width, &columns, &heads, rows)?;
    let as_well: Vec<String> = map
        .ends
        .iter()
        .zip(1..)
        .filter(|(end, _)| end.at_risk > Length::ZERO)
        .map(|(end, number)| format!("to {number} that of {} more", end.at_risk.show(units)))
        .collect();
    if !as_well.is_empty() {
        writeln!(out)?;
        paragraph(
            out,
            width,
            &format!(
                "Where pipe falls away two ways, water is counted the way that is walked first; it may come the other way as well: {}.",
                as_well.join(", ")
            ),
        )?;
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
