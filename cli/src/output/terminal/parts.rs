use super::Column::{Figures, Points, Words};
use super::{clean, list, paragraph, table};
use crate::output::words;
use bom::quantity::Units;
use bom::summary::Summary;
use bom::takeoff::{Group, PartLine, Proof, Takeoff};
use std::io::{self, Write};

/// Prints the list of parts. Its line numbers are the places in
/// [`Takeoff::lines`], from 1.
///
/// # Errors
/// Those of `out`.
pub fn parts(
    summary: &Summary,
    takeoff: &Takeoff,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let units = summary.units;
    let revision = match summary.revision.as_str() {
        "" => String::new(),
        revision => format!(", revision {revision}"),
    };
    paragraph(out, width, &format!("{}{revision}", summary.title))?;
    let facts = format!(
        "{}; {} of main, {}",
        takeoff.system_title,
        summary.main_length.show_total(units),
        words::count(summary.outlets.len(), "outlet")
    );
    paragraph(out, width, &facts)?;
    writeln!(out)?;
    table(
        out,
        width,
        &[Figures, Points, Words, Words, Words],
        &["Line", "Quantity", "Unit", "Part", "Size"],
        rows(takeoff, units),
    )?;
    let joints = words::joints(&takeoff.joints);
    if !joints.is_empty() {
        writeln!(out)?;
        paragraph(out, width, &joints)?;
    }
    list(out, width, "Taken out", &words::taken_out(takeoff, units))?;
    list(out, width, "Assumptions", &takeoff.assumptions)?;
    list(out, width, "Cautions", &takeoff.cautions)
}

/// The rows of the list, by group; pipe has no line number.
pub(super) fn rows(takeoff: &Takeoff, units: Units) -> Vec<Vec<String>> {
    let row = |line: &str, quantity: &str, unit: &str, part: &str, size: &str| {
        [line, quantity, unit, part, size]
            .map(str::to_owned)
            .to_vec()
    };
    let mut rows = Vec::new();
    for group in Group::ALL {
        let start = rows.len();
        if group == Group::Pipe {
            for pipe in &takeoff.pipe {
                let length = pipe.end_to_end.show_total(units);
                let (figure, unit) = length.split_once(' ').unwrap_or((&length, ""));
                rows.push(row(
                    "",
                    figure,
                    unit,
                    &format!("{}, {}", pipe.words, words::pieces(pipe)),
                    &pipe.size.to_string(),
                ));
            }
        }
        for (at, line) in takeoff.lines.iter().enumerate() {
            if line.group == group {
                rows.push(row(
                    &(at + 1).to_string(),
                    &line.quantity.to_string(),
                    &line.unit,
                    &line.words,
                    &line.key.size.to_string(),
                ));
            }
        }
        if rows.len() > start {
            rows.insert(start, row("", "", "", &group.title().to_uppercase(), ""));
            rows.push(row("", "", "", "", ""));
        }
    }
    rows.pop();
    rows
}

/// Prints what was proved of the count.
///
/// # Errors
/// Those of `out`.
pub fn proofs(proofs: &[Proof], out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "\nProved of this count:")?;
    for proof in proofs {
        writeln!(out, "  {}", clean(proof.claim))?;
        for figure in &proof.figures {
            writeln!(out, "      {}", clean(figure))?;
        }
    }
    Ok(())
}

/// Prints why a line is on the list.
///
/// # Errors
/// Those of `out`.
pub fn why(line: &PartLine, reasons: &[String], out: &mut dyn Write) -> io::Result<()> {
    let part = format!("{} {} {}", line.quantity, line.words, line.key.size);
    writeln!(out, "{}", clean(&part))?;
    for reason in reasons {
        writeln!(out, "  {}", clean(reason))?;
    }
    Ok(())
}
