//! `[obstacle.NAME]`: what stands in the pipe's way.

use super::leg::figures;
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, one_of, unknown_name};
use crate::job::obstacle::{Obstacle, along_wall};
use crate::job::read::Reader;
use crate::job::{Room, Wall};
use crate::quantity::Length;
use crate::source::Span;

/// What stays free around an obstacle where the job does not say: room for a fitting and
/// a wrench. Common practice, no source.
const USUAL_CLEAR: Length = Length::from_64ths(2 * 64);

pub(in crate::job) fn obstacle(
    (name, value): Entry<'_>,
    rooms: &[Room],
    r: &mut Reader<'_>,
) -> Option<Obstacle> {
    const KNOWN: [&str; 9] = [
        "what", "room", "from", "to", "wall", "depth", "bottom", "top", "clear",
    ];
    let title = format!("[obstacle.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    let what = fields.text("what", &mut r.findings);
    let what = what
        .map_or(name.value.as_str(), |what| what.value.trim())
        .to_owned();
    let units = r.units;
    let length = |text: &str| Length::parse(text, units);
    let clear = fields.quantity("clear", length, &mut r.findings);
    let room = match fields.text("room", &mut r.findings) {
        Some(text) => {
            let at = rooms
                .iter()
                .position(|room| room.name.value == text.value.trim());
            if at.is_none() {
                let known: Vec<&str> = rooms.iter().map(|room| room.name.value.as_str()).collect();
                r.findings
                    .push(unknown_name("room", text.value, text.span, &known));
            }
            Some(at?)
        }
        None => (!rooms.is_empty()).then_some(0),
    };
    let (low, high) = match fields.value("wall") {
        Some(_) => by_wall(&fields, room.and_then(|room| rooms.get(room)), r)?,
        None => corners(&fields, r)?,
    };
    if low.iter().zip(&high).any(|(low, high)| low >= high) {
        r.findings.push(Finding::unreadable(
            "obstacle-without-size",
            fields.span,
            format!(
                "`{}` is a box that ends where it begins, or before",
                name.value
            ),
            "let each figure of `to`, and `top`, be more than that of `from`, and `bottom`",
        ));
        return None;
    }
    Some(Obstacle {
        name,
        what,
        room,
        low,
        high,
        clear: clear.map_or(USUAL_CLEAR, |clear| clear.value),
    })
}

type Corners = ([Length; 3], [Length; 3]);

/// The box by two of its corners.
fn corners(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<Corners> {
    let example = "[\"10-0\", \"0-0\", \"9-0\"], east, north and up; or give `wall`";
    fields.require(&[("from", example), ("to", example)], &mut r.findings);
    let [low, high] = ["from", "to"].map(|key| {
        let span: Span = fields.value(key)?.span().into();
        let found = figures(fields, key, r)?;
        let three = <[Length; 3]>::try_from(found).ok();
        if three.is_none() {
            r.findings.push(Finding::unreadable(
                "obstacle-figures",
                span,
                "a corner of a box has three figures: east and north of the south-west corner, and up",
                "write it like [\"10-0\", \"0-0\", \"9-0\"]",
            ));
        }
        three
    });
    Some((low?, high?))
}

/// The box by its place along a wall.
fn by_wall(fields: &Fields<'_>, room: Option<&Room>, r: &mut Reader<'_>) -> Option<Corners> {
    let wanted = [
        (
            "from",
            "\"12-0\", along the wall from its west or south end",
        ),
        ("to", "\"22-0\""),
        ("depth", "\"1-0\", from the wall into the room"),
        ("bottom", "\"9-0\", above the floor"),
        ("top", "\"10-0\""),
    ];
    fields.require(&wanted, &mut r.findings);
    let text = fields.text("wall", &mut r.findings)?;
    let wall = one_of("wall", text, &Wall::WORDS, &mut r.findings);
    let units = r.units;
    let mut length = |key: &str| {
        let parse = |text: &str| Length::parse(text, units);
        let length = fields.quantity(key, parse, &mut r.findings);
        length.map(|length| length.value)
    };
    let [from, to, depth, bottom, top] = ["from", "to", "depth", "bottom", "top"].map(&mut length);
    let Some(room) = room.filter(|room| room.east_west > Length::ZERO) else {
        r.findings.push(Finding::unreadable(
            "wall-without-room",
            text.span,
            "nothing says whose wall this is",
            "add a [room.NAME] with its size; where there are several, say `room = \"NAME\"`",
        ));
        return None;
    };
    let size = (room.east_west, room.north_south);
    let (low, high) = along_wall(wall?.value, (from?, to?, depth?), size);
    let (bottom, top) = (bottom?, top?);
    Some(([low[0], low[1], bottom], [high[0], high[1], top]))
}
