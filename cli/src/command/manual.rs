//! `manual` and `completions`: what systems keep of a command besides the command.

use super::deliver;
use crate::args::{Cli, Completions, Manual};
use crate::exit::{Exit, Failure};
use crate::{Io, files};
use clap::{Command, CommandFactory};
use clap_mangen::Man;

/// The name that it is called by.
const NAME: &str = "dripleg";

pub(super) fn completions(args: &Completions, io: &mut Io<'_>) -> Result<Exit, Failure> {
    // Its own writer cannot say that a pipe was closed.
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), NAME, &mut text);
    deliver(None, &[], io, |out| out.write_all(&text))?;
    Ok(Exit::Done)
}

pub(super) fn run(args: &Manual, io: &mut Io<'_>) -> Result<Exit, Failure> {
    files::folder(&args.out)?;
    let mut whole = Cli::command();
    whole.build();
    for command in pages(&whole) {
        let name = command.get_display_name().unwrap_or(NAME);
        let out = args.out.join(format!("{name}.1"));
        let page = Man::new(command.clone());
        deliver(Some(&out), &[], io, |out| page.render(out))?;
    }
    Ok(Exit::Done)
}

/// A command and all below it.
fn pages(command: &Command) -> Vec<&Command> {
    let below = command.get_subcommands();
    let below = below.filter(|below| below.get_name() != "help");
    std::iter::once(command)
        .chain(below.flat_map(pages))
        .collect()
}
