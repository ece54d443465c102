//! The count: every part, the reason for each one of them, and what was taken as
//! given.

use super::book::{self, About};
use super::notes;
use super::sheet::{Cell, Column, Look, Sheet};
use crate::output::pdf::Paper;
use crate::output::words::{self, joined};
use bom::quantity::Units;
use bom::summary::Summary;
use bom::takeoff::{Because, Group, Takeoff};
use std::io::{self, Write};

const COLUMNS: &[Column] = &[
    Column::right("Line", 6.0),
    Column::right("Quantity", 10.0),
    Column::left("Unit", 9.0),
    Column::left("Part", 42.0),
    Column::left("Size", 16.0),
    Column::left("System", 20.0),
];
const REASONS: &[Column] = &[
    Column::right("Line", 6.0),
    Column::left("Part", 34.0),
    Column::left("Size", 16.0),
    Column::left("Because", 64.0),
];

/// What is counted, and of which state of the job.
#[derive(Debug, Clone, Copy)]
pub struct Counted<'a> {
    /// The layout in a few facts.
    pub summary: &'a Summary,
    /// The count.
    pub takeoff: &'a Takeoff,
    /// Fingerprint of the layout.
    pub fingerprint: &'a str,
}

/// Writes the count as a workbook.
///
/// # Errors
/// Those of `out`.
pub fn parts(
    counted: Counted<'_>,
    reason: &dyn Fn(Because) -> String,
    paper: Paper,
    out: &mut dyn Write,
) -> io::Result<()> {
    let Counted {
        summary,
        takeoff,
        fingerprint,
    } = counted;
    let mut sheet = Sheet::new("Parts", COLUMNS, None)?;
    sheet.heads()?;
    for group in Group::ALL {
        self::group(&mut sheet, group, takeoff, summary.units)?;
    }
    let mut more = notes::front("Notes", None, &[])?;
    more.row(
        Look::Strong,
        [Cell::text("Parts"), Cell::text(&summary.title)],
    )?;
    let made = words::joints(&takeoff.joints);
    notes::facts(
        &mut more,
        &[
            ("For", &summary.customer),
            ("Revision", &summary.revision),
            ("Fingerprint", fingerprint),
            ("Joints", &made),
        ],
    )?;
    notes::list(&mut more, "Assumptions", &takeoff.assumptions)?;
    notes::list(&mut more, "Cautions", &takeoff.cautions)?;
    let about = About {
        title: &joined(&["Parts", summary.title.trim()], ": "),
        author: "",
        revision: &summary.revision,
        fingerprint,
        date: None,
        warning: None,
        paper,
    };
    book::write(&about, vec![sheet, reasons(takeoff, reason)?, more], out)
}

fn group(sheet: &mut Sheet, group: Group, takeoff: &Takeoff, units: Units) -> io::Result<()> {
    let mut rows = Vec::new();
    if group == Group::Pipe {
        for pipe in &takeoff.pipe {
            let length = pipe.end_to_end.show_total(units);
            let (figure, unit) = length.split_once(' ').unwrap_or((&length, ""));
            rows.push([
                Cell::Blank,
                Cell::Number(figure.to_owned()),
                Cell::text(unit),
                Cell::text(format!("{}, {}", pipe.words, words::pieces(pipe))),
                Cell::text(pipe.size.to_string()),
                Cell::text(pipe.key.system.as_str()),
            ]);
        }
    }
    for (at, line) in takeoff.lines.iter().enumerate() {
        if line.group == group {
            rows.push([
                Cell::Number((at + 1).to_string()),
                Cell::Number(line.quantity.to_string()),
                Cell::text(&line.unit),
                Cell::text(&line.words),
                Cell::text(line.key.size.to_string()),
                Cell::text(line.key.system.as_str()),
            ]);
        }
    }
    if rows.is_empty() {
        return Ok(());
    }
    let title = [
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
        Cell::text(group.title()),
    ];
    sheet.row(Look::Strong, title)?;
    for row in rows {
        sheet.row(Look::Plain, row)?;
    }
    sheet.skip();
    Ok(())
}

/// A row for each part that is counted singly.
fn reasons(takeoff: &Takeoff, reason: &dyn Fn(Because) -> String) -> io::Result<Sheet> {
    let mut sheet = Sheet::new("Reasons", REASONS, None)?;
    sheet.lying();
    sheet.heads()?;
    for (at, line) in takeoff.lines.iter().enumerate() {
        for because in &line.because {
            let row = [
                Cell::Number((at + 1).to_string()),
                Cell::text(&line.words),
                Cell::text(line.key.size.to_string()),
                Cell::text(reason(*because)),
            ];
            sheet.row(Look::Plain, row)?;
        }
    }
    Ok(sheet)
}
