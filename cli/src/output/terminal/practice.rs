//! The rules of good practice.

use super::{Column, paragraph, table};
use bom::finding::Severity;
use bom::practice::Rule;
use std::io::{self, Write};

/// Every rule and what it finds.
///
/// # Errors
/// What the writer says.
pub fn rules(rules: &[&Rule], width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = rules.iter().map(|rule| {
        let weight = weight(rule.severity).to_owned();
        vec![rule.name.to_owned(), weight, rule.finds.to_owned()]
    });
    let columns = [Column::Words, Column::Words, Column::Words];
    table(
        out,
        width,
        &columns,
        &["Rule", "Weight", "What it finds"],
        rows,
    )
}

/// One rule with its reason, its cure and its source.
///
/// # Errors
/// What the writer says.
pub fn rule(rule: &Rule, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = [
        ("Rule", rule.name),
        ("Weight", weight(rule.severity)),
        ("What it finds", rule.finds),
        ("Why it matters", rule.why),
        ("What to do", rule.cure),
        ("Source", rule.source),
    ];
    let rows = rows.map(|(head, text)| vec![head.to_owned(), text.to_owned()]);
    table(out, width, &[Column::Words, Column::Words], &[], rows)
}

fn weight(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "note",
        Severity::Warning => "warning",
        Severity::Error | Severity::Unreadable => "error",
    }
}

/// What every job is reminded of.
///
/// # Errors
/// What the writer says.
pub fn reminders(reminders: &[&str], width: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut reminders = reminders.iter();
    reminders.try_for_each(|reminder| paragraph(out, width, reminder))
}
