//! `[together.NAME]`: outlets whose tools run at the same time.

use crate::job::fields::{Entry, Fields, text_of, unknown_name};
use crate::job::read::Reader;
use crate::job::{Outlet, Together};

pub(in crate::job) fn together(
    (name, value): Entry<'_>,
    names: &[String],
    outlets: &[Outlet],
    r: &mut Reader<'_>,
) -> Option<Together> {
    let table = format!("[together.{}]", name.value);
    let fields = Fields::of(&table, value, &["outlets"], &mut r.findings)?;
    fields.require(&[("outlets", "[\"bench\", \"spray\"]")], &mut r.findings);
    let mut together = Vec::new();
    for item in fields.list("outlets", &mut r.findings) {
        let Some(text) = text_of("outlets", item, &mut r.findings) else {
            continue;
        };
        let found = outlets
            .iter()
            .position(|outlet| outlet.name.value == text.value);
        match found {
            Some(index) if together.contains(&index) => {}
            Some(index) => together.push(index),
            // An outlet that could not be read has been said.
            None if names.iter().any(|name| name == text.value) => {}
            None => {
                let known: Vec<&str> = names.iter().map(String::as_str).collect();
                r.findings
                    .push(unknown_name("outlet", text.value, text.span, &known));
            }
        }
    }
    Some(Together {
        name,
        outlets: together,
    })
}
