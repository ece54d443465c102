//! The outlets, each with its place in the plan.

use super::Report;
use super::drawings::of_outlet;
use super::pieces::{Row, Section, figures, table, words};
use maud::{Markup, html};

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let summary = &report.plan.summary;
    let rows = summary.outlets.iter().map(|outlet| {
        let text = |text: &str| html! { (text) };
        Row {
            id: Some(row(outlet.number)),
            cells: vec![
                in_plan(report, outlet.number, &outlet.name),
                text(&outlet.height.show(summary.units)),
                text(&format!(
                    "{}, {} from the {}",
                    outlet.drop, outlet.size, outlet.take_off
                )),
                html! { @for side in &outlet.sides { span.line { (side) } } },
                text(&outlet.drain),
            ],
        }
    });
    let rows: Vec<Row> = rows.collect();
    (!rows.is_empty()).then(|| Section {
        id: "outlets",
        title: "Outlets",
        body: table(
            "Every outlet in walking order from the tank",
            &[
                words("Outlet"),
                figures("Above floor"),
                words("Drop"),
                words("What hangs there"),
                words("Drain"),
            ],
            0,
            &rows,
        ),
    })
}

/// The anchor of an outlet's row, to which the plan leads back.
fn row(number: usize) -> String {
    format!("outlet-{number}")
}

/// The number and the name, leading to the outlet in the plan where a drawing shows it.
fn in_plan(report: &Report<'_>, number: usize, name: &str) -> Markup {
    html! {
        span.number { (number) } "\u{a0}"
        @match of_outlet(report, number) {
            Some(id) => a href={ "#" (id) } { (name) },
            None => (name),
        }
    }
}

/// The name of the job's outlet, leading to its row.
pub(super) fn link(report: &Report<'_>, name: &str) -> Markup {
    let outlets = &report.plan.summary.outlets;
    html! {
        @match outlets.iter().find(|outlet| outlet.name == name) {
            Some(outlet) => a href={ "#" (row(outlet.number)) } { (name) },
            None => (name),
        }
    }
}
