//! Numbers the parts of a drawing, lists them, and puts each number beside its part.

use super::super::shape::{Area, Fill, Shape, Stroke};
use super::super::table::Column;
use super::super::text::width as text_width;
use super::super::{At, Board, Label, Layer, Mark, Text, TextSize};
use super::super::{List, Row};
use super::built::Built;
use super::ink::{Callout, Ink, Item};
use crate::Plan;

/// The ring of a number in a row.
pub(super) const RING: f64 = 2.61;

/// The items of a drawing from top to bottom: the first is number 1.
pub(super) fn items(ink: &Ink) -> Vec<Item> {
    let mut callouts: Vec<&Callout> = ink.callouts.iter().collect();
    callouts.sort_by(|a, b| a.at.y.total_cmp(&b.at.y));
    let mut items: Vec<Item> = Vec::new();
    for callout in callouts {
        if !items.contains(&callout.item) {
            items.push(callout.item);
        }
    }
    items
}

/// The list of what one is built of. `members` are alike but for their down pipes.
pub(super) fn list(plan: &Plan, items: &[Item], members: &[&Built], across: f64) -> List {
    let rows = items.iter().zip(1..).map(|(item, number)| {
        let (words, size) = words(plan, *item, members);
        let counts: Vec<usize> = members.iter().map(|one| count(one, *item)).collect();
        let first = counts.first().copied().unwrap_or(0);
        let quantity = match item {
            Item::OnMain(_) => "main".to_owned(),
            _ if counts.iter().all(|count| *count == first) => first.to_string(),
            _ => "table".to_owned(),
        };
        Row::of(vec![format!("{number}"), words, size, quantity])
    });
    let rows: Vec<Row> = rows.collect();
    let small = |cell: &String| text_width(cell, TextSize::Small, false);
    let size = rows
        .iter()
        .map(|row| small(&row.cells[2]))
        .fold(10.0, f64::max)
        .min(36.0);
    List {
        columns: vec![
            (Column::figures("No."), 8.0),
            (Column::words("Part"), (across - size - 27.0).max(24.0)),
            (Column::words("Size"), size + 0.1),
            (Column::figures("Qty"), 12.0),
        ],
        rows,
    }
}

/// How many of an item one has.
fn count(built: &Built, item: Item) -> usize {
    let of = |parts: &[super::built::Placed], line: usize| {
        parts.iter().filter(|part| part.line == line).count()
    };
    match item {
        Item::Part(line) => of(&built.parts, line),
        Item::OnMain(line) => of(&built.on_main, line),
        Item::Piece(line, length) => {
            let same = |cut: &&super::built::Cut| cut.line == line && cut.piece.length == length;
            built.pieces.iter().filter(same).count()
        }
        Item::Down(line) => {
            let down = built.down.iter();
            down.filter(|cut| cut.line == line).count()
        }
    }
}

fn words(plan: &Plan, item: Item, members: &[&Built]) -> (String, String) {
    let units = plan.network.units;
    match item {
        Item::Part(line) | Item::OnMain(line) => {
            let line = &plan.takeoff.lines[line];
            (line.words.clone(), line.key.size.to_string())
        }
        Item::Piece(line, length) => {
            let pipe = &plan.takeoff.pipe[line];
            let words = format!("{}, cut", pipe.words);
            (words, format!("{} x {}", pipe.size, length.show(units)))
        }
        Item::Down(line) => {
            let pipe = &plan.takeoff.pipe[line];
            let words = format!("{}, down pipe", pipe.words);
            let cut = match members {
                [one] => {
                    let lengths = one.down.iter();
                    let lengths: Vec<String> =
                        lengths.map(|cut| cut.piece.length.show(units)).collect();
                    lengths.join(" + ")
                }
                _ => return (words, format!("{}, see table", pipe.size)),
            };
            (words, format!("{} x {cut}", pipe.size))
        }
    }
}

/// Draws every number: those in rows where they belong, all others where there is
/// room. Blocked areas stay free.
pub(super) fn draw(ink: &Ink, items: &[Item], area: Area, blocked: &[Area]) -> Vec<Mark> {
    let mut board = Board::new(area);
    for area in blocked {
        board.block_area(*area);
    }
    let shapes: Vec<Shape> = ink.shapes.iter().map(|(_, shape)| shape.clone()).collect();
    board.block(&shapes);
    let number = |item: Item| items.iter().position(|one| *one == item).unwrap_or(0) + 1;
    let mut marks = Vec::new();
    for callout in &ink.callouts {
        let Some(off) = callout.off else { continue };
        let shapes = in_row(callout, off, number(callout.item));
        board.block(&shapes);
        let (x, y) = callout.towards;
        let middle = callout.at.by(x * off, y * off);
        board.block_area(Area::of(middle, middle).grown(RING));
        marks.push(Mark::new(Layer::Label, shapes));
    }
    for callout in ink.callouts.iter().filter(|one| one.off.is_none()) {
        let mut label = Label::new(callout.at, number(callout.item).to_string());
        label.ringed = true;
        label.towards = callout.towards;
        label.gap = 3.2;
        if let Some(mut shapes) = board.place(&label) {
            // Its own leader leads from the place itself, however near the number is.
            shapes.retain(|shape| !matches!(shape, Shape::Path { .. }));
            let line = leader(callout.at, &shapes);
            board.block(&line);
            shapes.extend(line);
            marks.push(Mark::new(Layer::Label, shapes));
        }
    }
    marks
}

/// The line from a place to the ring of its number.
fn leader(from: At, shapes: &[Shape]) -> Vec<Shape> {
    let rings = shapes.iter().filter_map(|shape| match shape {
        Shape::Disc { centre, radius, .. } => Some((*centre, *radius)),
        Shape::Path { .. } | Shape::Text(_) => None,
    });
    let line = |(centre, radius): (At, f64)| {
        let far = from.distance(centre).max(0.1);
        Shape::line(
            Stroke::NARROW,
            vec![from, centre.towards(from, radius / far)],
        )
    };
    rings.map(line).collect()
}

fn in_row(callout: &Callout, off: f64, number: usize) -> Vec<Shape> {
    let (x, y) = callout.towards;
    let at = |by: f64| callout.at.by(x * by, y * by);
    let middle: At = at(off);
    vec![
        Shape::line(Stroke::NARROW, vec![at(callout.from), at(off - RING)]),
        Shape::circle(Stroke::NARROW, Fill::Open, middle, RING),
        Shape::Text(Text::centred(middle, TextSize::Small, number.to_string())),
    ]
}
