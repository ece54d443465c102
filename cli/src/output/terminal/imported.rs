//! What was read off a run sheet, in a few lines.

use crate::output::words::count;
use bom::survey::sheet::Read;
use std::io::{self, Write};
use std::path::Path;

/// Says what was read, what was assumed and what to do next.
///
/// # Errors
/// Those of `out`.
pub fn imported(
    read: &Read,
    sheet: &str,
    job: Option<&Path>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let survey = &read.survey;
    let counts = [
        (survey.legs.len(), "leg"),
        (survey.outlets.len(), "outlet"),
        (survey.drains.len(), "drain"),
        (survey.valves.len(), "line valve"),
    ];
    let said = counts.iter().filter(|(number, _)| *number > 0);
    let said: Vec<String> = said.map(|(number, word)| count(*number, word)).collect();
    let length = read.length.show_total(survey.units);
    writeln!(out, "{sheet}: {}; {length} of main", said.join(", "))?;
    if read.open > 0 {
        let straights = count(read.open, "straight");
        writeln!(out, "  and {straights} that nobody has measured yet")?;
    }
    if !read.assumed.is_empty() {
        writeln!(out, "taken, since the sheet does not say it:")?;
        for assumed in &read.assumed {
            writeln!(out, "  - {assumed}")?;
        }
    }
    let job = job.map_or("JOB.toml".into(), |job| job.display().to_string());
    writeln!(out, "next: dripleg check {job}")
}
