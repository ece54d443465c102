//! Where the water goes: what to drain, in walking order.

use super::Report;
use super::outlets::link;
use super::pieces::{Column, Row, Section, figures, list, table, words};
use crate::output::words as said;
use maud::html;

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let plan = report.plan;
    let (map, units) = (&plan.water, plan.summary.units);
    let place = |node| plan.network.place(node);
    let ends = said::water_ends(plan, &place).into_iter().map(end);
    let ends: Vec<Row> = ends.collect();
    let mut columns: Vec<Column<'_>> = vec![
        words("Ends in"),
        figures("Above floor"),
        figures("Pipe emptied"),
        figures("Share"),
    ];
    columns.extend(said::water_heads(plan).map(|head| match head {
        "water a day" => figures("Water a day"),
        _ => figures("Hottest day"),
    }));
    let amounts = plan.amounts.as_ref();
    let days = amounts.map_or_else(Vec::new, |amounts| said::water_days(amounts, units));
    let arrivals = amounts.map_or(&[][..], |amounts| &amounts.arrivals);
    let arrivals: Vec<Row> = arrivals
        .iter()
        .map(|air| {
            let [outlet, warm, dew, means] = said::arrival(air, units);
            let cells = [warm, dew, means].map(|cell| html! { (cell) });
            let outlet = link(report, &outlet);
            Row {
                id: None,
                cells: std::iter::once(outlet).chain(cells).collect(),
            }
        })
        .collect();
    let faults = said::water_faults(map, &place, units);
    let drains = match faults.is_empty() {
        true => "Every foot drains: nothing stands, and no outlet gets the water of the main.",
        false => "Not all of it drains: see below what to change.",
    };
    let freezing = said::freezing(plan, &place);
    Some(Section {
        id: "water",
        title: "Water and drains",
        body: html! {
            p { strong { (drains) } }
            (table("What to drain, in walking order from the tank", &columns, 0, &ends))
            @if let Some(text) = said::water_either_way(map, units) { p { (text) } }
            @for day in days { p { (day) } }
            (list("What to change", &faults))
            (list("What freezes when its room is coldest", &freezing))
            @if !arrivals.is_empty() {
                (table("The air at the outlets, at the pressure of the pipe", &ARRIVALS, 0, &arrivals))
            }
        },
    })
}

const ARRIVALS: [Column<'_>; 4] = [
    words("Outlet"),
    figures("Air"),
    figures("Dew point"),
    words("What that means"),
];

/// A row with its number before its name.
fn end(row: Vec<String>) -> Row {
    let mut cells = row.into_iter();
    let (number, name) = (cells.next(), cells.next());
    let name = html! {
        @if let Some(number) = number { span.number { (number) } "\u{a0}" }
        @if let Some(name) = name { (name) }
    };
    let cells = cells.map(|cell| html! { (cell) });
    Row {
        id: None,
        cells: std::iter::once(name).chain(cells).collect(),
    }
}
