//! What `check` finds, in plain words.

use super::Report;
use super::pieces::Section;
use crate::output::words;
use bom::finding::{Finding, Severity};
use maud::{Markup, html};
use std::cmp::Reverse;

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let mut sorted: Vec<&Finding> = report.findings.iter().collect();
    // What the job accepts comes last; what is nearest to stopping it first.
    sorted.sort_by_key(|one| (one.accepted.is_some(), Reverse(one.severity), one.place()));
    let open = sorted.iter().filter(|one| one.accepted.is_none()).count();
    let said = match open {
        0 => "Nothing is open: the layout can be built, and breaks no rule of good practice."
            .to_owned(),
        open => format!(
            "The layout can be built. {} to look at first.",
            words::count(open, "thing")
        ),
    };
    Some(Section {
        id: "check",
        title: "What to look at",
        body: html! {
            p { (said) }
            @if !sorted.is_empty() {
                ul.findings { @for one in sorted { (finding(one, report)) } }
            }
        },
    })
}

fn finding(finding: &Finding, report: &Report<'_>) -> Markup {
    let (class, weight) = match finding.severity {
        _ if finding.accepted.is_some() => ("accepted", "Accepted"),
        Severity::Note => ("note", "Note"),
        Severity::Warning => ("warning", "Warning"),
        Severity::Error | Severity::Unreadable => ("error", "Error"),
    };
    let line = report.source.line(finding.place().start);
    html! {
        li class=(class) {
            p { strong.weight { (weight) } " " (words::system::capital(&finding.message)) "." }
            @match &finding.accepted {
                Some(reason) => p { "It stays so because: " (reason) },
                None => p { "What to do: " (finding.help) "." },
            }
            p.where { "Line " (line) " of the job, rule " code { (finding.rule) } }
        }
    }
}
