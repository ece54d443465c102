//! The sheets of a handover.

use super::{Column, paragraph, table};
use bom::handover::{Part, Sheet};
use std::io::{self, Write};

/// A cell of a log, and its rows.
const LOG: usize = 20;
const LOG_ROWS: usize = 4;

/// Prints sheets one below the other.
///
/// # Errors
/// What the writer says.
pub fn handover(sheets: &[Sheet], width: usize, out: &mut dyn Write) -> io::Result<()> {
    for (number, sheet) in sheets.iter().enumerate() {
        if number > 0 {
            writeln!(out, "\n")?;
        }
        writeln!(out, "{}", sheet.title.to_uppercase())?;
        for part in &sheet.parts {
            print(part, width, out)?;
        }
    }
    Ok(())
}

fn print(part: &Part, width: usize, out: &mut dyn Write) -> io::Result<()> {
    match part {
        Part::Heading(words) => writeln!(out, "\n{words}"),
        Part::Note(words) => paragraph(out, width, words),
        Part::Caution(words) => paragraph(out, width, &format!("! {words}")),
        Part::Points(points) => list_of(out, width, "-", points),
        Part::Boxes(points) => list_of(out, width, "[ ]", points),
        Part::Table { columns, rows } => {
            let kinds: Vec<Column> = columns
                .iter()
                .map(|(_, figures)| {
                    if *figures {
                        Column::Figures
                    } else {
                        Column::Words
                    }
                })
                .collect();
            let heads: Vec<&str> = columns.iter().map(|(head, _)| head.as_str()).collect();
            if rows.is_empty() {
                return writeln!(out, "none");
            }
            table(out, width, &kinds, &heads, rows.iter().cloned())
        }
        Part::Blanks(rows) => {
            for blank in rows.iter().flatten() {
                let label = &blank.label;
                match blank.value.as_str() {
                    "" => writeln!(out, "{label}: ____________________")?,
                    value => paragraph(out, width, &format!("{label}: {value}"))?,
                }
            }
            Ok(())
        }
        Part::Log(heads) => {
            let kinds: Vec<Column> = heads.iter().map(|_| Column::Words).collect();
            let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
            let blank: Vec<String> = heads.iter().map(|_| "_".repeat(LOG)).collect();
            table(out, width, &kinds, &heads, vec![blank; LOG_ROWS])
        }
    }
}

fn list_of(out: &mut dyn Write, width: usize, sign: &str, points: &[String]) -> io::Result<()> {
    let rows = points
        .iter()
        .map(|point| vec![sign.to_owned(), point.clone()]);
    table(out, width, &[Column::Words, Column::Words], &[], rows)
}
