//! `[[check]]`: what a second walk read.

use crate::finding::Finding;
use crate::job::fields::{Fields, unknown_name};
use crate::job::read::Reader;
use crate::job::reading::{Reading, Spot};
use crate::job::{Leg, Room};
use crate::quantity::Length;
use crate::source::{Span, Spanned};
use toml::de::DeValue;

/// What a reading may name.
pub(in crate::job) struct Known<'a> {
    pub(in crate::job) legs: &'a [Leg],
    pub(in crate::job) rooms: &'a [Room],
    /// The names of the supplies.
    pub(in crate::job) supplies: &'a [String],
}

/// None if it could not be read, or if nothing was read there.
pub(in crate::job) fn check(
    value: &toml::Spanned<DeValue<'_>>,
    known: &Known<'_>,
    r: &mut Reader<'_>,
) -> Option<Reading> {
    const KEYS: [&str; 4] = ["from", "to", "room", "read"];
    let fields = Fields::of("[[check]]", value, &KEYS, &mut r.findings)?;
    let wanted = [
        ("from", "\"bench\""),
        ("to", "\"north-east corner\""),
        ("read", "\"20-6\""),
    ];
    fields.require(&wanted, &mut r.findings);
    let [from, to] = ["from", "to"].map(|key| {
        let text = fields.text(key, &mut r.findings)?;
        spot(text, known, r)
    });
    let named = fields.text("room", &mut r.findings);
    let units = r.units;
    // What was paced or not read at all checks nothing.
    let read = fields.text_or_bare_number("read", &mut r.findings)?;
    if read.value.trim().starts_with(['?', '~']) {
        return None;
    }
    let parse = |text: &str| Length::parse(text, units);
    let read = fields.quantity("read", parse, &mut r.findings);
    let (from, to, read) = (from?, to?, read?);
    measurable(&from, &to, known, fields.span, r)?;
    let needs_room = from.value.is_of_room() || to.value.is_of_room();
    let room = match needs_room {
        true => Some(room(named, &from, &to, known, fields.span, r)?),
        false => None,
    };
    Some(Reading {
        span: fields.span,
        from,
        to,
        room,
        read,
    })
}

fn spot(text: Spanned<&str>, known: &Known<'_>, r: &mut Reader<'_>) -> Option<Spanned<Spot>> {
    let written = text.value.trim();
    let marks = known.legs.iter().flat_map(Leg::names);
    let mut names: Vec<&str> = marks.map(|name| name.value.as_str()).collect();
    names.extend(known.supplies.iter().map(String::as_str));
    let spot = match names.contains(&written) {
        true => Some(Spot::Place(written.to_owned())),
        false => Spot::parse(written),
    };
    if spot.is_none() {
        let fixed = ["north-east corner", "north wall", "floor", "eave", "main"];
        names.extend(fixed);
        r.findings
            .push(unknown_name("place", written, text.span, &names));
    }
    spot.map(|spot| Spanned::new(spot, text.span))
}

/// A tape runs level between places, corners and walls, or upright.
fn measurable(
    from: &Spanned<Spot>,
    to: &Spanned<Spot>,
    known: &Known<'_>,
    span: Span,
    r: &mut Reader<'_>,
) -> Option<()> {
    let supply = |name: &String| known.supplies.contains(name);
    let fits = |one: &Spot, other: &Spot| match (one, other) {
        (Spot::Place(a), Spot::Place(b)) => a != b,
        (Spot::Place(_), Spot::Corner(..) | Spot::Wall(_)) => true,
        (Spot::Corner(..), Spot::Corner(..)) => one != other,
        (Spot::Floor | Spot::Eave, Spot::Main) => true,
        (Spot::Floor | Spot::Eave, Spot::Place(name)) => supply(name),
        _ => false,
    };
    if fits(&from.value, &to.value) || fits(&to.value, &from.value) {
        return Some(());
    }
    r.findings.push(Finding::unreadable(
        "check-measures-nothing",
        span,
        format!(
            "no tape runs from {} to {}",
            from.value.words(),
            to.value.words()
        ),
        "level: from a mark to another, to a corner or to a wall, or from corner to corner; upright: from the floor or the eave to the compressor or to `main`",
    ));
    None
}

/// The room that is named, else the only one that has walls.
fn room(
    named: Option<Spanned<&str>>,
    from: &Spanned<Spot>,
    to: &Spanned<Spot>,
    known: &Known<'_>,
    span: Span,
    r: &mut Reader<'_>,
) -> Option<usize> {
    let rooms = known.rooms.iter().enumerate();
    let walled: Vec<(usize, &Room)> = rooms
        .filter(|(_, room)| room.east_west > Length::ZERO)
        .collect();
    let found = match (named, &walled[..]) {
        (Some(name), _) => {
            let mut walled = walled.iter();
            let found = walled.find(|(_, room)| room.name.value == name.value.trim());
            if found.is_none() {
                let names = known.rooms.iter().map(|room| room.name.value.as_str());
                let names: Vec<&str> = names.collect();
                r.findings.push(unknown_name(
                    "room with walls",
                    name.value,
                    name.span,
                    &names,
                ));
            }
            found.copied()
        }
        (None, [only]) => Some(*only),
        (None, _) => {
            r.findings.push(Finding::unreadable(
                "check-without-room",
                span,
                format!(
                    "nothing says of which room {} is",
                    if from.value.is_of_room() { from } else { to }.value.words()
                ),
                "add a [room.NAME] with its size; where there are several, add `room = \"NAME\"` to the check",
            ));
            None
        }
    };
    let (index, room) = found?;
    if room.eave.is_none() && [from, to].iter().any(|spot| spot.value == Spot::Eave) {
        r.findings.push(Finding::unreadable(
            "check-without-eave",
            span,
            format!("`{}` has no eave to measure from", room.name.value),
            "add `eave = \"14-0\"` to the room, or measure from the floor",
        ));
        return None;
    }
    Some(index)
}
