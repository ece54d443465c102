//! Rows that stand for themselves: the job, its compressor, its room, heights and tools.

use super::columns::{Column, plain};
use super::kind::{Fact, Kind};
use super::length;
use super::walk::{Row, Walk};
use crate::finding::Finding;
use crate::job::Direction;
use crate::survey::{Room, Supply, Tool};

/// Takes in such a row. One that is printed and not filled in says nothing.
pub(super) fn read(walk: &mut Walk<'_>, row: &Row<'_>) {
    match row.kind {
        Kind::Fact(fact) => of_job(walk, row, fact),
        Kind::Start => start(walk, row),
        Kind::Main => {
            let height = row.length.as_ref().map(|reading| reading.text.clone());
            walk.survey.main.height = height.or(walk.survey.main.height.take());
        }
        Kind::Room => room(walk, row),
        Kind::Height => height(walk, row),
        Kind::Tool => tool(walk, row),
        Kind::From | Kind::Leg | Kind::Mark(_) | Kind::Left => {}
    }
}

fn of_job(walk: &mut Walk<'_>, row: &Row<'_>, fact: Fact) {
    let Some(cell) = walk.cell(row, Column::Name) else {
        return;
    };
    if let Err(error) = fact.check(&cell.text) {
        let place = length::place(walk.source, cell, Column::Name);
        walk.findings.push(Finding::unreadable(
            "sheet-fact",
            cell.span,
            format!("{place}{}", error.message),
            error.help,
        ));
        return;
    }
    let text = Some(cell.text.clone());
    match fact {
        Fact::Title => walk.survey.title = text,
        Fact::Customer => walk.survey.customer = text,
        Fact::Air => walk.supply().free_air = text,
        Fact::CutIn => walk.supply().cut_in = text,
        Fact::CutOut => walk.supply().cut_out = text,
        Fact::Relief => walk.supply().relief = text,
        Fact::Tank => walk.supply().tank = text,
        Fact::Port => walk.supply().port = text,
    }
}

impl Walk<'_> {
    /// The compressor that facts are said of: the one whose start stands above.
    fn supply(&mut self) -> &mut Supply {
        if self.survey.supplies.is_empty() {
            self.survey.supplies.push(Supply::default());
        }
        let last = self.survey.supplies.len() - 1;
        &mut self.survey.supplies[last]
    }
}

/// What a compressor is called that has no name.
const COMPRESSOR: &str = "compressor";

fn start(walk: &mut Walk<'_>, row: &Row<'_>) {
    let cell = walk.cell(row, Column::Name);
    let name = cell.map_or(COMPRESSOR, |cell| &cell.text);
    let span = cell.map_or(row.span, |cell| cell.span);
    if walk.names.known(name).is_some() {
        let message = format!("`{name}` stands twice");
        let help = "give each compressor and each thing along the main a name of its own";
        walk.wrong("sheet-name-twice", span, message, help);
        return;
    }
    let name = walk.names.place(name, span);
    // What was said of a compressor before its start is said of the first.
    let started = |supply: &Supply| !supply.name.is_empty();
    if walk.survey.supplies.last().is_some_and(started) {
        walk.survey.supplies.push(Supply::default());
    }
    let height = row.length.clone();
    let remark = walk.text(row, Column::Remark);
    if walk.starts.is_empty() {
        walk.starts.clone_from(&name);
        walk.port = height.clone();
    }
    let supply = walk.supply();
    supply.name = name;
    supply.height = height.map(|reading| reading.text);
    supply.remark = remark;
}

fn room(walk: &mut Walk<'_>, row: &Row<'_>) {
    let Some(reading) = row.length.clone() else {
        return;
    };
    let Some(way) = walk.way(row) else { return };
    let last = walk.survey.rooms.last().map(|room| room.name.clone());
    let name = walk.text(row, Column::Name).or(last);
    let name = name.unwrap_or_else(|| "shop".to_owned());
    let known = walk
        .survey
        .rooms
        .iter()
        .position(|room| plain(&room.name) == plain(&name));
    let at = known.unwrap_or(walk.survey.rooms.len());
    if known.is_none() {
        walk.survey.rooms.push(Room {
            name,
            ..Room::default()
        });
        walk.sides.push((None, None));
    }
    match way {
        Direction::East | Direction::West => walk.sides[at].0 = Some(reading),
        Direction::North | Direction::South => walk.sides[at].1 = Some(reading),
        Direction::Up if reading.measured => walk.survey.rooms[at].eave = Some(reading.text),
        Direction::Up => {}
        _ => walk.wrong(
            "sheet-room-way",
            row.span,
            "a room is measured from wall to wall, and up to its eave",
            "write east, north or up under `way`",
        ),
    }
}

/// The height of the outlet above, or of all that have none of their own.
fn height(walk: &mut Walk<'_>, row: &Row<'_>) {
    let height = row.length.as_ref().map(|reading| reading.text.clone());
    let Some(height) = height else { return };
    match walk.survey.outlets.last_mut() {
        Some(outlet) => outlet.height = Some(height),
        None => walk.heights = Some(height),
    }
}

fn tool(walk: &mut Walk<'_>, row: &Row<'_>) {
    let Some(cell) = walk.cell(row, Column::Name) else {
        return;
    };
    let remark = walk.text(row, Column::Remark);
    let known = walk.library.tool_called(&cell.text);
    if known.is_none() {
        let kinds = walk.library.tools().iter();
        let names: Vec<&str> = kinds
            .flat_map(|kind| std::iter::once(&kind.name).chain(&kind.also))
            .map(String::as_str)
            .collect();
        walk.unknown("tool", cell, Column::Name, &names);
        if let Some(finding) = walk.findings.last_mut() {
            finding.help.push_str(
                "\nor take the row out, and say in the job file what it takes: tools = [{ air = \"14 cfm\" }]",
            );
        }
        return;
    }
    let tool = Tool {
        tool: Some(cell.text.clone()),
        note: remark,
        ..Tool::default()
    };
    match walk.survey.outlets.last_mut() {
        Some(outlet) => outlet.tools.push(tool),
        None => walk.wrong(
            "sheet-tool-without-drop",
            row.span,
            "no drop stands above this tool",
            "write each tool below the drop that it hangs on",
        ),
    }
}
