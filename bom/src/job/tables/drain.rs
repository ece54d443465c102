//! `[drain.NAME]`: a drain of the main.

use super::device::{device_named, is_made_in, usual_size};
use super::{OFFSETS, USUAL_DRIP_LEG, length_within};
use crate::job::fields::{Entry, Fields, one_of};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::{DeviceUse, MainDrain};
use crate::quantity::Size;

pub(in crate::job) fn main_drain(
    (name, value): Entry<'_>,
    r: &mut Reader<'_>,
) -> Option<MainDrain> {
    const KNOWN: [&str; 5] = ["valve", "kind", "size", "drip_leg", "state"];
    let title = format!("[drain.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    let valve_size = fields.quantity("valve", Size::parse, &mut r.findings);
    let size = fields.quantity("size", Size::parse, &mut r.findings);
    let state = state::read(&fields, &state::ANY, r);
    let units = r.units;
    let drip_leg = fields.quantity(
        "drip_leg",
        |text| length_within(text, units, &OFFSETS, "drip leg"),
        &mut r.findings,
    );
    let low_point = match fields.text("kind", &mut r.findings) {
        Some(text) => {
            let kinds = [("low-point", true), ("drip-leg", false)];
            one_of("kind of drain", text, &kinds, &mut r.findings)?.value
        }
        None => true,
    };
    let drip_leg = drip_leg.map_or_else(
        || {
            r.assumptions.push(format!(
                "The drain at {} gets a drip leg of {} (common practice, no source).",
                name.value,
                USUAL_DRIP_LEG.show(units)
            ));
            USUAL_DRIP_LEG
        },
        |length| length.value,
    );
    let device = device_named("drain-valve", r)?;
    match valve_size {
        Some(size) => is_made_in(device, size, r),
        None => usual_size(device, r),
    }
    Some(MainDrain {
        line: r.line(name.span),
        name,
        valve: DeviceUse {
            device,
            size: valve_size.map(|size| size.value),
            length: None,
            set: None,
        },
        drip_leg,
        size: size.map(|size| size.value),
        low_point,
        state,
    })
}
