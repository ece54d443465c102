//! The command line of dripleg.

use std::io::{self, IsTerminal as _, Write};
use std::process::ExitCode;

fn main() -> ExitCode {
    let (mut out, mut err) = (anstream::stdout(), anstream::stderr());
    let mut io = dripleg::Io {
        out: &mut out,
        err: &mut err,
        at_terminal: io::stdin().is_terminal(),
        input: &mut io::stdin().lock(),
        width: dripleg::terminal_width(),
        today: dripleg::today,
    };
    let exit = dripleg::run(std::env::args_os(), &mut io);
    let flushed = out.flush();
    let exit = match flushed {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => dripleg::Exit::Outside,
        _ => exit,
    };
    ExitCode::from(exit.code())
}
