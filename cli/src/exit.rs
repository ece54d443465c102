//! How a command ends.

use bom::finding::{Finding, Severity};
use std::io::{self, Write};

/// The exit code of the process.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// 0: done.
    Done,
    /// 1: something found stops the job.
    Stopped,
    /// 2: an input could not be read or understood.
    Unreadable,
    /// 3: the outside world failed: a disk, a permission.
    Outside,
}

impl Exit {
    /// The number that the shell sees.
    #[must_use]
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Stopped => 1,
            Self::Unreadable => 2,
            Self::Outside => 3,
        }
    }

    /// What the findings make of a command.
    pub(crate) fn of<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Self {
        findings
            .into_iter()
            .filter(|finding| finding.stops())
            .map(|finding| match finding.severity {
                Severity::Note | Severity::Warning => Self::Done,
                Severity::Error => Self::Stopped,
                Severity::Unreadable => Self::Unreadable,
            })
            .max()
            .unwrap_or(Self::Done)
    }

    /// What a failed write makes of a command: a reader that went away has
    /// read all it wanted.
    pub(crate) fn of_write(error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::Done,
            _ => Self::Outside,
        }
    }
}

/// A command that could not go on.
#[derive(Debug)]
pub(crate) enum Failure {
    /// It has been said already why.
    Told(Exit),
    /// Still to be said.
    Untold(Exit, String),
    /// Results could not be written.
    Write(io::Error),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Write(error)
    }
}

impl Failure {
    /// Says why, if nobody has, and gives the exit code.
    pub(crate) fn tell(self, err: &mut dyn Write) -> Exit {
        let (exit, message) = match self {
            Self::Told(exit) => return exit,
            Self::Untold(exit, message) => (exit, message),
            Self::Write(error) => match Exit::of_write(&error) {
                Exit::Done => return Exit::Done,
                exit => (exit, format!("the result could not be written: {error}")),
            },
        };
        match writeln!(err, "dripleg: {message}") {
            Ok(()) => exit,
            Err(error) => exit.max(Exit::of_write(&error)),
        }
    }
}
