//! `[outlet.NAME]`: an outlet.

use crate::job::fields::{Entry, Fields, unknown_name};
use crate::job::read::Reader;
use crate::job::{DropKind, Outlet};
use crate::quantity::Length;

/// `declared` are the kinds of drops that the file defines, `read` those that
/// could be read: an outlet of a broken kind has no drop, and no finding.
pub(in crate::job) fn outlet(
    (name, value): Entry<'_>,
    declared: &[&str],
    read: &[DropKind],
    r: &mut Reader<'_>,
) -> Option<Outlet> {
    let title = format!("[outlet.{}]", name.value);
    let fields = Fields::of(title, value, &["drop", "height"], &mut r.findings)?;
    fields.require(&[("drop", "\"…\""), ("height", "\"4-0\"")], &mut r.findings);
    let units = r.units;
    let height = fields.quantity("height", |text| Length::parse(text, units), &mut r.findings);
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
    Some(Outlet {
        line: r.line(name.span),
        name,
        drop,
        height: height?,
    })
}
