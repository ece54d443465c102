//! The face of dripleg: arguments in, papers and messages out.
//!
//! Everything that the outside world decides (arguments, streams, the date,
//! the width of the terminal) comes in through [`run`], so that a test can
//! call it twice and get the same thing twice.

mod args;
mod clock;
mod command;
mod exit;
mod files;
mod fingerprint;
pub mod output;
mod report;

pub use clock::today;
pub use exit::Exit;

use clap::Parser;
use jiff::civil::Date;
use std::ffi::OsString;
use std::io::{BufRead, Write};

/// The outside world.
pub struct Io<'a> {
    /// Where results go.
    pub out: &'a mut dyn Write,
    /// Where messages go.
    pub err: &'a mut dyn Write,
    /// Where answers come from.
    pub input: &'a mut dyn BufRead,
    /// Whether a person types them: then the end of the input is a way to leave.
    pub at_terminal: bool,
    /// Columns of the terminal.
    pub width: usize,
    /// The date, where the user gives none.
    pub today: fn() -> Date,
}

impl std::fmt::Debug for Io<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Io")
            .field("width", &self.width)
            .finish_non_exhaustive()
    }
}

/// Columns that results are laid out for where the terminal does not say.
const USUAL_WIDTH: usize = 100;

/// The width of the terminal, within what tables can be laid out in.
#[must_use]
pub fn terminal_width() -> usize {
    terminal_size::terminal_size()
        .map_or(USUAL_WIDTH, |(width, _)| usize::from(width.0))
        .clamp(60, 160)
}

/// Runs one command.
pub fn run(args: impl IntoIterator<Item = OsString>, io: &mut Io<'_>) -> Exit {
    match args::Cli::try_parse_from(args) {
        Ok(cli) => command::run(&cli.command, io).unwrap_or_else(|failure| failure.tell(io.err)),
        Err(error) => {
            let text = error.render();
            let told = if error.use_stderr() {
                write!(io.err, "{}", text.ansi())
            } else {
                write!(io.out, "{}", text.ansi())
            };
            match (told, error.use_stderr()) {
                (Err(error), _) => Exit::of_write(&error),
                (Ok(()), true) => Exit::Unreadable,
                (Ok(()), false) => Exit::Done,
            }
        }
    }
}
