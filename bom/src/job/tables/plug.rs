//! `[plug.NAME]`: a branch of the main, closed by a plug or a cap. It is new or stands as
//! its pipe does.

use super::main::system_named;
use crate::job::fields::{Entry, Fields, one_of};
use crate::job::read::Reader;
use crate::job::{Direction, Plug, PlugOf, State};
use crate::quantity::Size;

pub(in crate::job) fn plug((name, value): Entry<'_>, r: &mut Reader<'_>) -> Option<Plug> {
    let title = format!("[plug.{}]", name.value);
    let fields = Fields::of(title, value, &["way", "size", "system"], &mut r.findings)?;
    fields.require(&[("way", "\"up\"")], &mut r.findings);
    let way = fields
        .text("way", &mut r.findings)
        .and_then(|text| one_of("direction", text, &Direction::WORDS, &mut r.findings));
    let size = fields.quantity("size", Size::parse, &mut r.findings);
    let system = match fields.text("system", &mut r.findings) {
        Some(text) => system_named(text, r),
        None => None,
    };
    Some(Plug {
        place: name.value.clone(),
        name: name.value,
        span: Some(name.span),
        of: PlugOf::Leg(way?.value),
        size: size.map(|size| size.value),
        system,
        to_come: false,
        state: State::New,
    })
}
