//! A job said back in the terminal.

use super::Column::{Figures, Words};
use super::{list, paragraph, table};
use bom::readback::ReadBack;
use std::io::{self, Write};

/// Room to write on.
const BLANK: &str = "____________";
/// As many signs have a line of their own.
const MOST_LINES: usize = 30;

/// The walk in words, the shop from above, and the card for a second walk.
///
/// # Errors
/// Those of `out`.
pub fn readback(back: &ReadBack, width: usize, out: &mut dyn Write) -> io::Result<()> {
    paragraph(out, width, &format!("Your walk, said back: {}", back.title))?;
    writeln!(out)?;
    let walk = back.walk.iter();
    let legs = walk.map(|one| vec![format!("{:3}", one.leg), one.words.clone()]);
    table(out, width, &[Figures, Words], &[], legs)?;
    if let Some((column, line)) = back.sketch.scale {
        let (column, line) = (column.show(back.units), line.show(back.units));
        let head = format!(
            "The shop from above; a column stands for {column}, a line for {line}. Is it turned or mirrored?"
        );
        writeln!(out)?;
        paragraph(out, width, &head)?;
        for line in &back.sketch.lines {
            writeln!(out, "{line}")?;
        }
        writeln!(out)?;
        legend(&back.sketch.legend, width, out)?;
    }
    list(out, width, "Not measured yet", &back.card.unmeasured)?;
    if back.card.lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nCard for a second walk with the tape")?;
    paragraph(
        out,
        width,
        "Leave your first notes behind: these lengths were not typed, and each hangs on some that were. Heights are of the pipe's centre, everything else is level.",
    )?;
    writeln!(out)?;
    let lines = back.card.lines.iter().zip(1_usize..);
    let rows =
        lines.map(|(line, number)| vec![format!("{number:3}"), line.words(), BLANK.to_owned()]);
    table(out, width, &[Figures, Words, Words], &[], rows)?;
    list(
        out,
        width,
        "On no line of the card, and to be measured once more",
        &back.card.unchecked,
    )?;
    writeln!(out)?;
    paragraph(
        out,
        width,
        "Then `dripleg readback JOB --format toml` writes these lines as tables for the end of the job file; put your readings in, and `dripleg check JOB` says which of the first do not fit.",
    )
}

/// What the signs are: a line each, or one after the other where there are many.
fn legend(signs: &[(String, String)], width: usize, out: &mut dyn Write) -> io::Result<()> {
    if signs.len() <= MOST_LINES {
        let rows = signs.iter();
        let rows = rows.map(|(sign, words)| vec![format!("  {sign}"), words.clone()]);
        return table(out, width, &[Words, Words], &[], rows);
    }
    let signs = signs.iter().map(|(sign, words)| format!("{sign} {words}"));
    let signs: Vec<String> = signs.collect();
    paragraph(out, width, &signs.join("; "))
}
