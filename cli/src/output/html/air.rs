//! Whether every tool gets its air and its pressure.

use super::Report;
use super::outlets::link;
use super::pieces::{Column, Row, Section, bare_list, figures, list, table, words};
use crate::output::AirPaper;
use crate::output::words::air as said;
use bom::air::answer::State;
use maud::{Markup, html};

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let (plan, air) = (report.plan, report.air);
    let units = plan.summary.units;
    let paper = AirPaper {
        plan,
        air,
        rooms: &[],
        shown: None,
        yearly: None,
        mains: &[],
        currency: None,
        why_size: None,
    };
    let tools = said::tool_rows(&paper, units);
    let tools = tools.into_iter().map(|row| {
        let mut row = linked(report, row);
        if let Some(cell) = row.cells.get_mut(VERDICT) {
            *cell = verdict(cell);
        }
        row
    });
    let tools: Vec<Row> = tools.collect();
    let demand = said::demand(&paper, units);
    let demand: Vec<Row> = demand.into_iter().map(|row| linked(report, row)).collect();
    let remarks = [&air.supply.remarks[..], &air.supply.missing].concat();
    let pressure = format!(
        "What each tool gets at its inlet, {}",
        said::pressure_unit(units)
    );
    let flow = format!(
        "What the tools take, {} of free air",
        said::flow_unit(units)
    );
    Some(Section {
        id: "air",
        title: "Air and pressure",
        body: html! {
            (bare_list(&air.sentences))
            @if !tools.is_empty() {
                (table(&pressure, &TOOLS, 1, &tools))
                p.hint { (said::NEW_AND_WORN) }
                (table(&flow, &DEMAND, 0, &demand))
            }
            (list("More of the compressor", &remarks))
        },
    })
}

const TOOLS: [Column<'_>; 9] = [
    words("Outlet"),
    words("Tool"),
    figures("Least"),
    figures("Best"),
    figures("New"),
    figures("Worn"),
    words("Verdict"),
    figures("Spare"),
    words("Takes most"),
];

/// Where the verdict stands.
const VERDICT: usize = 6;

/// A verdict, which stands out where it is none to build by.
fn verdict(said: &Markup) -> Markup {
    match said.0 == State::Enough.word() {
        true => said.clone(),
        false => html! { strong { (said) } },
    }
}

const DEMAND: [Column<'_>; 4] = [
    words("Outlet"),
    figures("All at once"),
    figures("Likely peak"),
    figures("Average"),
];

/// A row whose first cell leads to the outlet that it names.
fn linked(report: &Report<'_>, row: Vec<String>) -> Row {
    let cells = row.into_iter().enumerate().map(|(at, cell)| match at {
        0 => link(report, &cell),
        _ => html! { (cell) },
    });
    let cells: Vec<Markup> = cells.collect();
    Row { id: None, cells }
}
