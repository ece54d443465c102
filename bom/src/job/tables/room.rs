//! `[room.NAME]`: a room, which checks the walk.

use crate::finding::Finding;
use crate::job::Room;
use crate::job::fields::{Entry, Fields};
use crate::job::read::Reader;
use crate::quantity::{Length, QuantityError, Temperature};

pub(in crate::job) fn room((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Room> {
    let title = format!("[room.{}]", name.value);
    let known = ["size", "eave", "coldest", "hottest"];
    let fields = Fields::of(title, value, &known, &mut r.findings)?;
    fields.require(&[("size", "\"48-0 x 32-0\"")], &mut r.findings);
    let units = r.units;
    let eave = fields.quantity("eave", |text| Length::parse(text, units), &mut r.findings);
    let coldest = fields.quantity("coldest", Temperature::parse, &mut r.findings);
    let hottest = fields.quantity("hottest", Temperature::parse, &mut r.findings);
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
    )?;
    Some(Room {
        name,
        east_west: size.value.0,
        north_south: size.value.1,
        eave,
        coldest: coldest.map(|temperature| temperature.value),
        hottest: hottest.map(|temperature| temperature.value),
    })
}
