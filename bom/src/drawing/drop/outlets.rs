//! The table of the outlets whose drop is built alike: what differs from one to the
//! next.

use super::super::table::Column;
use super::super::{List, Row};
use super::built::{Built, Cut};
use super::words::number;
use crate::Plan;
use crate::library::Library;
use crate::network::Drop;
use crate::takeoff::Why;

/// A table of all of them, `across` wide at most.
pub(super) fn outlets(
    plan: &Plan,
    library: &Library,
    members: &[(&Drop, &Built)],
    across: f64,
) -> List {
    let units = plan.network.units;
    let others = members.iter().any(|(_, built)| !built.pieces.is_empty());
    let more: Vec<String> = members.iter().map(|(_, built)| with(plan, built)).collect();
    let differ = more.iter().any(|one| *one != more[0]);
    let rows = members.iter().zip(&more).map(|((drop, built), more)| {
        let number = number(plan, &drop.name);
        let mut cells = vec![
            number.to_string(),
            drop.name.clone(),
            drop.height.show(units),
            plan.network.node(drop.take_off_at).at.up.show(units),
            drop.down.show(units),
            cut(plan, built),
        ];
        if others {
            cells.push(labels(&built.pieces));
        }
        if differ {
            cells.push(more.clone());
        }
        if !tools(plan, library, drop).is_empty() {
            cells.push(tools(plan, library, drop));
        }
        Row {
            named: Some((
                format!("outlet-{number}"),
                format!("Outlet {number}, {}", drop.name),
            )),
            cells,
        }
    });
    let mut columns = vec![
        (Column::figures("No."), 10.0),
        (Column::words("Outlet"), 24.0),
        (Column::figures("Height H"), 20.0),
        (Column::figures("Main at"), 20.0),
        (Column::figures("Down D"), 20.0),
        (Column::words("Cut to (label)"), 30.0),
    ];
    if others {
        columns.push((Column::words("Other pieces"), 24.0));
    }
    if differ {
        columns.push((Column::words("Down pipe has"), 26.0));
    }
    let rows: Vec<Row> = rows.collect();
    let used = List {
        columns: columns.clone(),
        rows: rows.clone(),
    }
    .width();
    let tools = rows.iter().any(|row| row.cells.len() > columns.len());
    if tools {
        columns.push((Column::words("Tools"), (across - used - 4.0).max(16.0)));
    }
    List { columns, rows }
}

/// `6'-3 1/2" (12.1)`, or the ready lengths of which the down pipe is made.
fn cut(plan: &Plan, built: &Built) -> String {
    let units = plan.network.units;
    let pieces = built.down.iter();
    let mut said: Vec<String> = pieces
        .map(|cut| format!("{} ({})", cut.piece.length.show(units), cut.piece.label()))
        .collect();
    let ready = built.parts.iter();
    let ready = ready.filter(|part| part.why == Why::Spans && built.is_of_down(part));
    said.extend(ready.map(|part| plan.takeoff.lines[part.line].key.size.to_string()));
    said.join(", ")
}

/// What else the down pipe has: couplings and hangers.
fn with(plan: &Plan, built: &Built) -> String {
    let mut said: Vec<(usize, usize)> = Vec::new();
    let on_main = built.on_main.iter();
    let parts = built.parts.iter().chain(on_main);
    for part in parts.filter(|part| part.why != Why::Spans && built.is_of_down(part)) {
        match said.iter_mut().find(|(line, _)| *line == part.line) {
            Some((_, count)) => *count += 1,
            None => said.push((part.line, 1)),
        }
    }
    let words = said.iter().map(|(line, count)| {
        let words = &plan.takeoff.lines[*line].words;
        format!("{count} {words}")
    });
    words.collect::<Vec<_>>().join(", ")
}

/// The labels of pieces in order, a row of straights in short: `12.1 to 15.1`.
fn labels(pieces: &[Cut]) -> String {
    let mut rows: Vec<(usize, usize)> = Vec::new();
    let mut said: Vec<String> = Vec::new();
    for (index, cut) in pieces.iter().enumerate() {
        let straight = cut.piece.straight;
        match rows.last_mut() {
            Some((_, to)) if cut.piece.number == 1 && *to + 1 == straight => *to = straight,
            _ => rows.push((straight, straight)),
        }
        let goes_on = pieces
            .get(index + 1)
            .is_some_and(|next| next.piece.number == 1 && next.piece.straight == straight + 1);
        if !goes_on && let Some((from, to)) = rows.last() {
            said.push(match to - from {
                0 => cut.piece.label(),
                1 => format!("{from}.1, {to}.1"),
                _ => format!("{from}.1 to {to}.1"),
            });
        }
    }
    said.join(", ")
}

/// Names, and how many there are of each.
type Counts<'a> = Vec<(&'a str, usize)>;

/// The tools of an outlet, with their sides where there are two.
fn tools(plan: &Plan, library: &Library, drop: &Drop) -> String {
    let mut outlets = plan.job.outlets.iter();
    let Some(outlet) = outlets.find(|outlet| outlet.name.value == drop.name) else {
        return String::new();
    };
    let Some(kind) = outlet.drop.and_then(|kind| plan.job.drops.get(kind)) else {
        return String::new();
    };
    let mut said: Vec<(Option<usize>, Counts<'_>)> = Vec::new();
    for tool in &outlet.tools {
        let side = kind.side_of(tool, library).filter(|_| kind.sides.len() > 1);
        if !said.iter().any(|(known, _)| *known == side) {
            said.push((side, Vec::new()));
        }
        for (_, tools) in said.iter_mut().filter(|(known, _)| *known == side) {
            match tools.iter_mut().find(|(name, _)| *name == tool.words()) {
                Some((_, count)) => *count += 1,
                None => tools.push((tool.words(), 1)),
            }
        }
    }
    let words = said.iter().map(|(side, tools)| {
        let tools = tools.iter().map(|(name, count)| match count {
            1 => (*name).to_owned(),
            count => format!("{count} x {name}"),
        });
        let tools = tools.collect::<Vec<_>>().join(", ");
        match side {
            Some(side) => format!("side {}: {tools}", side + 1),
            None => tools,
        }
    });
    words.collect::<Vec<_>>().join("; ")
}
