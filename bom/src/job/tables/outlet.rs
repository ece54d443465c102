//! `[outlet.NAME]`: an outlet.

use super::device::{REGULATOR, set_without_regulator};
use super::{HEIGHTS, length_within, tool};
use crate::job::fields::{Entry, Fields, one_of, unknown_name};
use crate::job::read::Reader;
use crate::job::state;
use crate::job::unmeasured;
use crate::job::{DropKind, Outlet, Quality};
use crate::quantity::Pressure;

/// `declared` are the kinds of drops that the file defines, `read` those that
/// could be read: an outlet of a broken kind has no drop, and no finding.
pub(in crate::job) fn outlet(
    (name, value): Entry<'_>,
    declared: &[&str],
    read: &[DropKind],
    r: &mut Reader<'_>,
) -> Option<Outlet> {
    const KNOWN: [&str; 7] = ["drop", "height", "quality", "set", "tools", "head", "state"];
    let title = format!("[outlet.{}]", name.value);
    let fields = Fields::of(title, value, &KNOWN, &mut r.findings)?;
    fields.require(&[("drop", "\"…\""), ("height", "\"4-0\"")], &mut r.findings);
    let units = r.units;
    let height = |text: &str| length_within(text, units, &HEIGHTS, "height of an outlet");
    let height = fields
        .text_or_bare_number("height", &mut r.findings)
        .and_then(|text| r.taped(text, unmeasured::height(units, unmeasured::OUTLET), height));
    let drop = fields.text("drop", &mut r.findings).and_then(|text| {
        if !declared.contains(&text.value) {
            r.findings.push(unknown_name(
                "kind of drop",
                text.value,
                text.span,
                declared,
            ));
        }
        read.iter().position(|drop| drop.name.value == text.value)
    });
    let quality = fields.text("quality", &mut r.findings).and_then(|text| {
        let words = [("general", Quality::General), ("paint", Quality::Paint)];
        one_of("quality of air", text, &words, &mut r.findings)
    });
    let set = fields.quantity("set", Pressure::parse, &mut r.findings);
    let kind = drop.map(|drop| &read[drop]);
    if let (Some(set), Some(kind)) = (&set, kind) {
        let devices = r.library.devices();
        let mut used = kind.sides.iter().flatten();
        if !used.any(|used| devices[used.value.device].name == REGULATOR) {
            let what = format!("`{}` has no regulator and", name.value);
            r.findings.push(set_without_regulator(set.span, &what));
        }
    }
    let head = fields.text("head", &mut r.findings).and_then(|text| {
        let words = [("valve", true), ("none", false)];
        one_of("head of a drop", text, &words, &mut r.findings)
    });
    let state = state::read(&fields, &state::ANY, r);
    let tools = tool::tools(&fields, kind, r);
    Some(Outlet {
        quality,
        set,
        tools,
        head: head.map(|head| head.value),
        state,
        line: r.line(name.span),
        name,
        drop,
        height: height?,
    })
}
