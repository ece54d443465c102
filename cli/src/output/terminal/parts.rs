use super::Column::{Figures, Points, Words};
use super::{clean, list, table};
use bom::quantity::Units;
use bom::takeoff::{Group, PartLine, Takeoff};
use std::io::{self, Write};

/// Prints the list of parts. Its line numbers are the places in
/// [`Takeoff::lines`], from 1.
///
/// # Errors
/// Those of `out`.
pub fn parts(takeoff: &Takeoff, units: Units, width: usize, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}\n", clean(&takeoff.system_title))?;
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
                let pieces = match pipe.pieces.len() {
                    1 => "1 piece".to_owned(),
                    count => format!("{count} pieces"),
                };
                let length = pipe.end_to_end.show_total(units);
                let (figure, unit) = length.split_once(' ').unwrap_or((&length, ""));
                rows.push(row(
                    "",
                    figure,
                    unit,
                    &format!("{}, {pieces}", pipe.words),
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
    let columns = [Figures, Points, Words, Words, Words];
    let heads = ["Line", "Quantity", "Unit", "Part", "Size"];
    table(out, width, &columns, &heads, rows)?;

    let joints: Vec<_> = takeoff
        .joints
        .iter()
        .map(|joint| format!("{} of {}", joint.count, joint.size))
        .collect();
    if !joints.is_empty() {
        writeln!(out, "\nJoints to make: {}", joints.join(", "))?;
    }
    list(out, width, "Assumptions", &takeoff.assumptions)
}

/// Prints why a line is on the list, a reason for each of its parts.
///
/// # Errors
/// Those of `out`.
pub fn why(
    line: &PartLine,
    reasons: &[String],
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    let part = format!("{} {}", line.words, line.key.size);
    let heading = format!("{} {} {}", line.quantity, line.unit, part.trim_end());
    writeln!(out, "{}", clean(&heading))?;
    let rows = reasons
        .iter()
        .enumerate()
        .map(|(at, reason)| vec![(at + 1).to_string(), reason.clone()]);
    table(out, width, &[Figures, Words], &[], rows)
}
