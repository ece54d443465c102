//! `[room.NAME]`: a room, which checks the walk.

use super::{HEIGHTS, air_temperature, length_within};
use crate::finding::Finding;
use crate::job::fields::{Entry, Fields};
use crate::job::read::Reader;
use crate::job::{OUTDOORS, Room};
use crate::quantity::{Length, QuantityError};

pub(in crate::job) fn room((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Room> {
    let title = format!("[room.{}]", name.value);
    let known = ["size", "eave", "coldest", "hottest"];
    let fields = Fields::of(title, value, &known, &mut r.findings)?;
    let outdoors = name.value == OUTDOORS;
    if !outdoors {
        fields.require(&[("size", "\"48-0 x 32-0\"")], &mut r.findings);
    }
    let units = r.units;
    let eave = |text: &str| length_within(text, units, &HEIGHTS, "height of an eave");
    let eave = fields.quantity("eave", eave, &mut r.findings);
    let coldest = fields.quantity("coldest", air_temperature, &mut r.findings);
    let hottest = fields.quantity("hottest", air_temperature, &mut r.findings);
    if let (Some(coldest), Some(hottest)) = (coldest, hottest)
        && coldest.value > hottest.value
    {
        r.findings.push(
            Finding::error(
                "temperatures-out-of-order",
                coldest.span,
                format!(
                    "the coldest is {} and the hottest {}",
                    coldest.value.show(r.units),
                    hottest.value.show(r.units)
                ),
                "write the lowest and the highest that it gets in the room",
            )
            .related(hottest.span, "the hottest"),
        );
    }
    let size = fields.quantity(
        "size",
        |text| {
            let (a, b) = text.split_once(['x', 'X', '×']).ok_or_else(|| {
                QuantityError::new(
                    format!("`{text}` is not a room's size"),
                    "write east-west x north-south, like \"48-0 x 32-0\"",
                )
            })?;
            Ok((Length::parse(a, units)?, Length::parse(b, units)?))
        },
        &mut r.findings,
    );
    // Only outdoors has no walls.
    let size = match size {
        None if outdoors => (Length::ZERO, Length::ZERO),
        size => size?.value,
    };
    Some(Room {
        name,
        east_west: size.0,
        north_south: size.1,
        eave,
        coldest: coldest.map(|temperature| temperature.value),
        hottest: hottest.map(|temperature| temperature.value),
    })
}
