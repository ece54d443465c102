//! The list of what is on a plan.

use super::super::shape::At;
use super::super::tags::Tags;
use super::super::{Column, Scene, table};
use super::foot::wrapped;
use super::level::Level;
use crate::network::{NodeKind, Owner, Point};
use crate::quantity::Length;

/// The list of outlets, valves and drains of a level: its columns and rows.
pub(super) fn list(
    scene: &Scene<'_>,
    level: &Level,
    tags: &Tags,
) -> (Vec<Column>, Vec<Vec<String>>) {
    let plan = scene.plan;
    let network = &plan.network;
    let units = network.units;
    let mut columns = vec![
        Column::words("No."),
        Column::words("Name"),
        Column::words("What"),
        Column::figures("Height"),
        Column::figures("East"),
        Column::figures("North"),
        Column::words("For"),
    ];
    let from = super::origin(level);
    let place = |at: Point, height: Length| {
        let off = |length: Length, back: &str| match length < Length::ZERO {
            true => format!("{} {back}", length.abs().show(units)),
            false => length.show(units),
        };
        vec![
            height.show(units),
            off(at.east - from.east, "west"),
            off(at.north - from.north, "south"),
        ]
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut row = |tag: &str, name: &str, what: String, place: Vec<String>, tools: String| {
        let mut cells = vec![
            vec![tag.to_owned()],
            wrapped(&[name.to_owned()], 38.0),
            wrapped(&[what], 38.0),
        ];
        cells.extend(place.into_iter().map(|cell| vec![cell]));
        cells.push(wrapped(&[tools], 44.0));
        let lines = cells.iter().map(Vec::len).max().unwrap_or_default();
        for line in 0..lines {
            let cell = |cell: &Vec<String>| cell.get(line).cloned().unwrap_or_default();
            rows.push(cells.iter().map(cell).collect());
        }
    };
    for (foot, number, name) in &tags.outlets {
        let drop = network.drops.iter().find(|drop| drop.foot_at == *foot);
        let Some(drop) = drop.filter(|drop| level.has(plan, drop.take_off_at)) else {
            continue;
        };
        let outlet = plan
            .job
            .outlets
            .iter()
            .find(|outlet| outlet.name.value == *name);
        let tools = outlet.map_or_else(Vec::new, |outlet| {
            outlet
                .tools
                .iter()
                .map(|tool| tool.words().to_owned())
                .collect()
        });
        let what = format!("drop {} {}", drop.kind, drop.size);
        let at = network.node(drop.take_off_at).at;
        row(
            &number.to_string(),
            name,
            what,
            place(at, drop.height),
            together(&tools),
        );
    }
    for (id, tag, name) in &tags.valves {
        let node = network.node(*id);
        let shown = match node.origin.owner {
            Owner::Supply(supply) => level.has_supply(plan, supply),
            _ => level.has(plan, *id),
        };
        if let (true, NodeKind::Device { size, .. }) = (shown, &node.kind) {
            let what = format!("ball valve {size}");
            row(tag, name, what, place(node.at, node.at.up), String::new());
        }
    }
    for (id, tag, name) in &tags.drains {
        let drain = network.drains.iter().find(|drain| drain.at == *id);
        if let Some(drain) = drain.filter(|_| level.has(plan, *id)) {
            let at = network.node(*id).at;
            let what = format!("drain {}", drain.valve);
            row(tag, name, what, place(at, at.up), String::new());
        }
    }
    if rows
        .iter()
        .all(|row| row.last().is_none_or(String::is_empty))
    {
        columns.pop();
        for row in &mut rows {
            row.pop();
        }
    }
    (columns, rows)
}

/// Tools in words, equal ones together.
fn together(tools: &[String]) -> String {
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for tool in tools {
        match counted.iter_mut().find(|(name, _)| name == tool) {
            Some((_, count)) => *count += 1,
            None => counted.push((tool, 1)),
        }
    }
    let words = counted.into_iter().map(|(name, count)| match count {
        1 => name.to_owned(),
        _ => format!("{count} x {name}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// The list in pages, as many as it takes: `first` is left on the first, `down` on
/// the others.
pub(super) fn pages(
    rows: &[Vec<String>],
    first: f64,
    down: f64,
    columns: &[Column],
) -> Vec<Vec<Vec<String>>> {
    let height = |rows: &[Vec<String>]| table(columns, rows, At::default()).2;
    let mut pages = Vec::new();
    let (mut rest, mut left) = (rows, first);
    while !rest.is_empty() {
        let fits = (1..=rest.len())
            .rev()
            .find(|count| height(&rest[..*count]) <= left);
        let (page, more) = rest.split_at(match (fits, pages.is_empty()) {
            (Some(count), _) => count,
            (None, true) => 0,
            (None, false) => 1,
        });
        pages.push(page.to_vec());
        (rest, left) = (more, down);
    }
    pages
}
