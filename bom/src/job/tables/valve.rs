//! `[valve.NAME]`: a valve in the main itself.

use super::device::{device_named, is_made_in, plain, standing};
use crate::job::fields::{Entry, Fields};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::{DeviceUse, LineValve};
use crate::library::Station;
use crate::quantity::Size;

pub(in crate::job) fn line_valve(
    (name, value): Entry<'_>,
    r: &mut Reader<'_>,
) -> Option<LineValve> {
    const KNOWN: [&str; 3] = ["kind", "size", "state"];
    let title = format!("[valve.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    let state = state::read(&fields, &state::STANDS, r);
    let size = fields.quantity("size", Size::parse, &mut r.findings);
    let device = match fields.text("kind", &mut r.findings) {
        Some(kind) => standing(kind.value, kind.span, Station::Line, r)?,
        None => device_named("valve", r)?,
    };
    if let Some(size) = size {
        is_made_in(device, size, r);
    }
    Some(LineValve {
        line: r.line(name.span),
        name,
        state,
        device: DeviceUse {
            size: size.map(|size| size.value),
            ..plain(device)
        },
    })
}
