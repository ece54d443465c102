//! `[room.NAME]`: a room, which checks the walk.

use crate::job::Room;
use crate::job::fields::{Entry, Fields};
use crate::job::read::Reader;
use crate::quantity::{Length, QuantityError};

pub(in crate::job) fn room((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Room> {
    let title = format!("[room.{}]", name.value);
    let fields = Fields::of(title, value, &["size", "eave"], &mut r.findings)?;
    fields.require(&[("size", "\"48-0 x 32-0\"")], &mut r.findings);
    let units = r.units;
    let eave = fields.quantity("eave", |text| Length::parse(text, units), &mut r.findings);
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
    })
}
