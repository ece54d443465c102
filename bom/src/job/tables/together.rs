//! `[together.NAME]`: outlets whose tools run at the same time.

use crate::finding::Finding;
use crate::job::fields::{Entry, Fields, text_of, unknown_name};
use crate::job::read::Reader;
use crate::job::{Outlet, Together};
use crate::source::Span;

pub(in crate::job) fn together(
    (name, value): Entry<'_>,
    names: &[String],
    outlets: &[Outlet],
    r: &mut Reader<'_>,
) -> Option<Together> {
    let table = format!("[together.{}]", name.value);
    let fields = Fields::of(&table, value, &["outlets"], &mut r.findings)?;
    fields.require(&[("outlets", "[\"bench\", \"spray\"]")], &mut r.findings);
    let before = r.findings.len();
    let mut together: Vec<(usize, Span)> = Vec::new();
    let mut whole = fields.value("outlets").is_some();
    for item in fields.list("outlets", &mut r.findings) {
        let Some(text) = text_of("outlets", item, &mut r.findings) else {
            continue;
        };
        let found = outlets
            .iter()
            .position(|outlet| outlet.name.value == text.value);
        let first = together.iter().find(|(index, _)| Some(*index) == found);
        match (found, first) {
            (Some(_), Some((_, first))) => r.findings.push(
                Finding::error(
                    "together-twice",
                    text.span,
                    format!("`{}` stands in {table} twice", text.value),
                    "name each outlet once: all tools of an outlet run then",
                )
                .related(*first, "the first"),
            ),
            (Some(index), None) => together.push((index, text.span)),
            // An outlet that could not be read has been said.
            (None, _) if names.iter().any(|name| name == text.value) => whole = false,
            (None, _) => {
                let known: Vec<&str> = names.iter().map(String::as_str).collect();
                r.findings
                    .push(unknown_name("outlet", text.value, text.span, &known));
            }
        }
    }
    let together: Vec<usize> = together.into_iter().map(|(index, _)| index).collect();
    if whole && r.findings.len() == before {
        r.findings
            .extend(of_one_tool(&table, &fields, &together, outlets));
    }
    Some(Together {
        name,
        outlets: together,
    })
}

/// Fewer than two tools do not run together: each runs in a case of its own anyway.
fn of_one_tool(
    table: &str,
    fields: &Fields<'_>,
    together: &[usize],
    outlets: &[Outlet],
) -> Option<Finding> {
    let tools: usize = together.iter().map(|at| outlets[*at].tools.len()).sum();
    let span = fields.value("outlets")?.span().into();
    let cure = "name all outlets whose tools run at the same time, each with its `tools`, or take the table out";
    match (together, tools) {
        ([], _) => Some(Finding::error(
            "together-empty",
            span,
            format!("{table} names no outlet"),
            cure,
        )),
        (_, 0 | 1) => {
            let found = match tools {
                0 => "no tool is named at them",
                _ => "only one tool is named at them",
            };
            Some(Finding::warning(
                "together-alone",
                span,
                format!("nothing runs together in {table}: {found}"),
                cure,
            ))
        }
        _ => None,
    }
}
