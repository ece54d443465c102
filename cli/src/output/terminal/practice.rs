//! The rules of good practice.

use super::{Column, table};
use bom::practice::Rule;
use std::io::{self, Write};

/// Every rule and what it finds.
///
/// # Errors
/// What the writer says.
pub fn rules(rules: &[&Rule], width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = rules
        .iter()
        .map(|rule| vec![rule.name.to_owned(), rule.finds.to_owned()]);
    let columns = [Column::Words, Column::Words];
    table(out, width, &columns, &["Rule", "What it finds"], rows)
}

/// One rule with its reason, its cure and its source.
///
/// # Errors
/// What the writer says.
pub fn rule(rule: &Rule, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let rows = [
        ("Rule", rule.name),
        ("What it finds", rule.finds),
        ("Why it matters", rule.why),
        ("What to do", rule.cure),
        ("Source", rule.source),
    ];
    let rows = rows.map(|(head, text)| vec![head.to_owned(), text.to_owned()]);
    table(out, width, &[Column::Words, Column::Words], &[], rows)
}
