//! The first page: what is built, what to mind, what to bring.

use super::CrewSet;
use crate::output::pdf::blocks;
use crate::output::pdf::lists::list;
use crate::output::pdf::page::Sheets;
use crate::output::pdf::table::{Align, Row, Table};
use crate::output::words;

pub(super) fn draw(sheets: &mut Sheets, set: &CrewSet<'_>) {
    sheets.advance(2.0);
    list(
        sheets,
        "What is built",
        &words::crew_facts(set.summary, set.takeoff),
    );
    list(sheets, "Mind first", &set.assembly.cautions);
    list(sheets, "Bring", &set.assembly.tools);
    list(sheets, "In this set", &contents(set));
    outlets(sheets, set);
}

fn contents(set: &CrewSet<'_>) -> Vec<String> {
    let mut contents: Vec<String> = Vec::new();
    if !set.drawings.is_empty() {
        let drawings = words::count(set.drawings.len(), "drawing");
        contents.push(format!("{drawings}, with their signs."));
    }
    let steps: usize = set
        .assembly
        .groups
        .iter()
        .map(|group| group.steps.len())
        .sum();
    contents
        .push("The cut sheet: which piece comes from which stick, and where it goes.".to_owned());
    contents.push(format!(
        "The order of work in {}: pieces are named as on the cut sheet.",
        words::count(steps, "step")
    ));
    contents.push("The record of the joints, to be filled in; the test is recorded on the sheets of the handover.".to_owned());
    contents
}

fn outlets(sheets: &mut Sheets, set: &CrewSet<'_>) {
    let units = set.summary.units;
    if set.summary.outlets.is_empty() {
        return;
    }
    let columns = [
        ("No.", Align::Right),
        ("Outlet", Align::Left),
        ("Above the floor", Align::Right),
        ("Drop", Align::Left),
        ("Leaves the main", Align::Left),
        ("A line for each side", Align::Left),
        ("Drain", Align::Left),
    ];
    let rows = set.summary.outlets.iter().map(|outlet| {
        Row::Line(vec![
            outlet.number.to_string(),
            outlet.name.clone(),
            outlet.height.show(units),
            format!("{} {}", outlet.drop, outlet.size),
            format!("from the {}", outlet.take_off),
            outlet.sides.join("\n"),
            outlet.drain.clone(),
        ])
    });
    let table = Table {
        columns: &columns,
        rows: rows.collect(),
        ruled: true,
    };
    sheets.together(|sheets| blocks::table(sheets, "Outlets", &table));
}
