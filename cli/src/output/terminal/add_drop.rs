//! One more drop in the terminal.

use super::Column::{Figures, Points, Words};
use super::parts::rows;
use super::{list, paragraph, table};
use crate::output::AddDropPaper;
use crate::output::words;
use std::io::{self, Write};

/// What one more drop takes.
///
/// # Errors
/// Those of `out`.
pub fn add_drop(paper: &AddDropPaper<'_>, width: usize, out: &mut dyn Write) -> io::Result<()> {
    let units = paper.plan.summary.units;
    paragraph(
        out,
        width,
        &format!(
            "One more drop: {}, {}",
            paper.name, paper.plan.summary.title
        ),
    )?;
    for text in words::add_drop(paper) {
        writeln!(out)?;
        paragraph(out, width, &text)?;
    }
    writeln!(out)?;
    table(
        out,
        width,
        &[Figures, Points, Words, Words, Words],
        &["Line", "Quantity", "Unit", "Part", "Size"],
        rows(paper.takeoff, units),
    )?;
    let joints = words::joints(&paper.takeoff.joints);
    if !joints.is_empty() {
        writeln!(out)?;
        paragraph(out, width, &joints)?;
    }
    list(out, width, "Assumptions", &paper.takeoff.assumptions)
}
