//! `[[leg]]`: a stretch of the walk, its straights and its marks.

use super::main::{size_choice, system_named};
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, one_of, read_quantity, text_of};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::unmeasured;
use crate::job::{Direction, Leg, Mark, PointTo, Straight, Wall};
use crate::quantity::{Fall, Length, QuantityError};
use crate::source::Spanned;
use toml::de::DeValue;

pub(in crate::job) fn leg(
    number: usize,
    value: &toml::Spanned<DeValue<'_>>,
    r: &mut Reader<'_>,
) -> Option<Leg> {
    const KNOWN: [&str; 13] = [
        "from", "go", "to_point", "to", "along", "room", "size", "system", "fall", "clear",
        "marks", "left", "state",
    ];
    let fields = Fields::of("[[leg]]", value, &KNOWN, &mut r.findings)?;
    let point = match fields.value("to_point") {
        Some(_) => Some(point(&fields, r)?),
        None => {
            fields.require(&[("go", "\"north 16-0\"")], &mut r.findings);
            None
        }
    };
    let units = r.units;
    let along = fields
        .text("along", &mut r.findings)
        .and_then(|text| one_of("wall", text, &Wall::WORDS, &mut r.findings));
    let room = fields.text("room", &mut r.findings).map(Reader::owned);
    let from = fields.text("from", &mut r.findings).map(Reader::owned);
    let to = fields.text("to", &mut r.findings).map(Reader::owned);
    let size = size_choice(&fields, "size", r);
    let system = match fields.text("system", &mut r.findings) {
        Some(text) => system_named(text, r).map(|system| Spanned::new(system, text.span)),
        None => None,
    };
    let state = state::read(&fields, &state::ANY, r);
    let fall = fields.quantity("fall", Fall::parse, &mut r.findings);
    let clear = fields.quantity("clear", |text| Length::parse(text, units), &mut r.findings);
    // A reading that was not taken checks nothing.
    let taped = |text: &Spanned<&str>| !text.value.trim().starts_with(['?', '~']);
    let left = fields
        .text_or_bare_number("left", &mut r.findings)
        .filter(taped)
        .and_then(|text| read_quantity(text, |text| Length::parse(text, units), &mut r.findings));
    let steps = fields.one_or_list("go");
    let straights: Vec<_> = steps
        .iter()
        .filter_map(|step| {
            let text = text_of("go", step, &mut r.findings)?;
            straight(text, r)
        })
        .collect();
    let marks = fields
        .entries("marks", &mut r.findings)
        .into_iter()
        .filter_map(|entry| mark(entry, r))
        .collect();
    // A leg with a straight that could not be read has no trustworthy length.
    if straights.len() < steps.len() || (straights.is_empty() && point.is_none()) {
        if steps.is_empty() && fields.value("go").is_some() {
            r.findings.push(Finding::unreadable(
                "empty-leg",
                fields.span,
                "the leg goes nowhere: `go` is empty",
                "write the way, like go = \"north 16-0\"",
            ));
        }
        return None;
    }
    Some(Leg {
        number,
        line: r.line(fields.span),
        span: fields.span,
        from,
        to,
        along,
        room,
        size,
        system,
        fall,
        clear,
        point,
        straights,
        marks,
        left,
        state,
    })
}

/// East, north and perhaps up from the corner of the room.
fn point(fields: &Fields<'_>, r: &mut Reader<'_>) -> Option<PointTo> {
    let value = fields.value("to_point")?;
    let span = value.span().into();
    if let Some(go) = fields.value("go") {
        r.findings.push(
            Finding::unreadable(
                "way-and-point",
                span,
                "the leg says where it goes twice: by `go` and by `to_point`",
                "take one of them out",
            )
            .related(go.span().into(), "the way"),
        );
        return None;
    }
    let found = figures(fields, "to_point", r)?;
    if !(2..=3).contains(&found.len()) {
        r.findings.push(Finding::unreadable(
            "point-figures",
            span,
            "a point has two figures, east and north of the south-west corner, or three with its height",
            "write it like to_point = [\"48-0\", \"32-0\"]",
        ));
        return None;
    }
    let [east, north, ..] = found[..] else {
        return None;
    };
    Some(PointTo {
        span,
        east,
        north,
        up: found.get(2).copied(),
    })
}

/// A list of lengths; those west, south or below may be less than nothing.
pub(super) fn figures(fields: &Fields<'_>, key: &str, r: &mut Reader<'_>) -> Option<Vec<Length>> {
    let units = r.units;
    let items = fields.list(key, &mut r.findings).into_iter();
    let figures: Vec<Option<Length>> = items
        .map(|item| {
            let text = text_of(key, item, &mut r.findings)?;
            let parse = |text: &str| match text.trim().strip_prefix('-') {
                Some(below) => Length::parse(below, units).map(|length| -length),
                None => Length::parse(text, units),
            };
            read_quantity(text, parse, &mut r.findings).map(|length| length.value)
        })
        .collect();
    figures.into_iter().collect()
}

fn straight(text: Spanned<&str>, r: &mut Reader<'_>) -> Option<Spanned<Straight>> {
    let written = text.value.trim();
    let Some((word, length)) = written.split_once(char::is_whitespace) else {
        r.findings.push(Finding::unreadable(
            "straight",
            text.span,
            format!("`{written}` is not a direction and a length"),
            "write it like \"north 16-0\" or \"up 2m\"",
        ));
        return None;
    };
    let direction = one_of(
        "direction",
        Spanned::new(word, text.span),
        &Direction::WORDS,
        &mut r.findings,
    );
    let units = r.units;
    let length = r.taped(
        Spanned::new(length, text.span),
        unmeasured::straight(units),
        |text| match Length::parse(text, units)? {
            Length::ZERO => Err(QuantityError::new(
                "a straight of no length",
                "leave it out, or give its length",
            )),
            length => Ok(length),
        },
    );
    Some(Spanned::new(
        Straight {
            direction: direction?.value,
            length: length?.value,
        },
        text.span,
    ))
}

fn mark((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Mark> {
    let text = match value.get_ref() {
        DeValue::Integer(number) => Spanned::new(number.as_str(), value.span().into()),
        DeValue::Float(number) => Spanned::new(number.as_str(), value.span().into()),
        _ => text_of(&name.value, value, &mut r.findings)?,
    };
    let (reading, back) = match text.value.trim().strip_suffix("back") {
        Some(reading) => (reading, true),
        None => (text.value, false),
    };
    let units = r.units;
    let reading = r.taped(Spanned::new(reading, text.span), Length::ZERO, |text| {
        Length::parse(text, units)
    })?;
    Some(Mark {
        name,
        reading,
        back,
    })
}
