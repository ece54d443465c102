//! Tables of the job file, to be filled in.

use bom::readback::Card;
use std::io::{self, Write};

/// The card as `[[check]]` tables whose readings are still open.
///
/// # Errors
/// What the writer says.
pub fn checks(card: &Card, out: &mut dyn Write) -> io::Result<()> {
    writeln!(
        out,
        "# The second walk: put what the tape reads in place of each ?, like \"20-6\".\n\
         # What stays ? checks nothing."
    )?;
    for line in &card.lines {
        writeln!(out, "\n[[check]]")?;
        writeln!(out, "from = {}", text(&line.from.written()))?;
        writeln!(out, "to   = {}", text(&line.to.written()))?;
        if let Some((_, Some(room))) = &line.room {
            writeln!(out, "room = {}", text(room))?;
        }
        writeln!(out, "read = \"?\"")?;
    }
    Ok(())
}

/// A text in quotes: what JSON escapes, TOML reads.
fn text(words: &str) -> String {
    serde_json::Value::from(words).to_string()
}
