//! One command each.

mod check;
mod parts;
mod quote;

use crate::Io;
use crate::args::Command;
use crate::exit::{Exit, Failure};
use crate::{files, report};
use bom::Plan;
use bom::finding::Finding;
use bom::library::Library;
use bom::source::Source;
use clap::ValueEnum;
use std::io::{self, Write};
use std::path::Path;

/// Runs a command.
pub(crate) fn run(command: &Command, io: &mut Io<'_>) -> Result<Exit, Failure> {
    match command {
        Command::Check(args) => check::run(args, io),
        Command::Parts(args) => parts::run(args, io),
        Command::Quote(args) => quote::run(args, io),
    }
}

fn library() -> Result<Library, Failure> {
    Library::shipped().map_err(|error| {
        Failure::Untold(
            Exit::Outside,
            format!("the shipped data is broken: {error}"),
        )
    })
}

/// Reads and counts a job, and tells what was found.
fn plan(source: &Source, library: &Library, io: &mut Io<'_>) -> Result<Plan, Failure> {
    let (plan, findings) = bom::plan(source, library);
    report::print(&findings, source, io.err)?;
    plan.ok_or_else(|| stopped(&findings, "nothing was counted"))
}

/// The end of a command that findings stopped.
fn stopped(findings: &[Finding], outcome: &str) -> Failure {
    let stopping = findings
        .iter()
        .filter(|finding| Exit::of([*finding]) > Exit::Done)
        .count();
    let problems = if stopping == 1 {
        "1 problem"
    } else {
        &format!("{stopping} problems")
    };
    Failure::Untold(Exit::of(findings), format!("{problems}: {outcome}"))
}

/// The format that was asked for: by name, by the ending of the file, or text.
fn format_of<F: ValueEnum>(format: Option<F>, out: Option<&Path>, text: F) -> Result<F, Failure> {
    if let Some(format) = format {
        return Ok(format);
    }
    let Some(ending) = out.and_then(Path::extension) else {
        return Ok(text);
    };
    let ending = ending.to_string_lossy().to_lowercase();
    if ending == "txt" {
        return Ok(text);
    }
    F::from_str(&ending, true).map_err(|_| {
        let known: Vec<String> = F::value_variants()
            .iter()
            .filter_map(ValueEnum::to_possible_value)
            .map(|value| value.get_name().to_owned())
            .collect();
        Failure::Untold(
            Exit::Unreadable,
            format!(
                "a file ending in `.{ending}` cannot be written here; the formats are {} (or name one with --format)",
                known.join(", ")
            ),
        )
    })
}

/// Writes a result to its file, or to the terminal.
fn deliver(
    out: Option<&Path>,
    io: &mut Io<'_>,
    content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), Failure> {
    match out {
        Some(path) => {
            files::write(path, content)?;
            writeln!(io.err, "wrote {}", path.display())?;
        }
        None => content(io.out)?,
    }
    Ok(())
}
