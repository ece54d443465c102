//! The command line's words.

mod begin;
mod formats;
mod layout;
mod money;
mod papers;
mod shared;
mod values;

pub(crate) use begin::*;
pub(crate) use formats::*;
pub(crate) use layout::*;
pub(crate) use money::*;
pub(crate) use papers::*;
pub(crate) use shared::*;

use clap::{Parser, Subcommand};

/// Count, check and price compressed-air pipework from tape measurements.
#[derive(Debug, Parser)]
#[command(
    name = "dripleg",
    version,
    after_help = "Exit codes: 0 done, 1 something found stops the job, 2 an input could not be \
                  read, 3 a file could not be written or another outside failure.\n\n\
                  Compressed air can hurt people. Local codes and licensed practice come first."
)]
pub(crate) struct Cli {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Begin a job: by a few questions, or from a ready-made start
    New(New),
    /// Make a job file of the run sheet that was filled in on a walk
    Import(Import),
    /// Read a job and say what is wrong with it
    Check(Check),
    /// Say back what was typed: the walk in words, a small plan, and a card to measure again
    #[command(name = "readback")]
    ReadBack(ReadBack),
    /// Count every part that a job needs
    Parts(Parts),
    /// Say which piece is cut from which stick
    Cut(Cut),
    /// Say in which order a job is put together; as PDF, the whole set for the crew
    Crew(Crew),
    /// Price a job and write the customer's quote
    Quote(Quote),
    /// Work out what a job costs you and what it leaves, for your own eyes
    Estimate(Priced),
    /// Write the change order between two revisions of a job
    Change(Change),
    /// Price the same layout in several pipe systems, side by side
    Compare(Compare),
    /// Check price lists, or write the sheet that asks suppliers for prices
    #[command(subcommand)]
    Catalog(Catalog),
    /// List what to buy, by the aisles of the store or by supplier
    Shop(Shop),
    /// Test, record, keep up: the sheets that end a job
    Handover(Handover),
    /// Write every paper of a job into one folder
    Papers(Papers),
    /// Write the whole job on one page to read in a browser, with boxes to tick
    Report(Report),
    /// List the pipe systems, or show one with all its figures
    Systems(Systems),
    /// Draw a job: plan, pipe, drops, sticks
    Draw(Draw),
    /// Say whether every tool gets its air and its pressure
    Air(Air),
    /// Say where the water of the pipe goes
    Water(Water),
    /// List what a job file may say, or write its schema for an editor
    Keys(Keys),
    /// Lay a job file out evenly; its comments stay
    Tidy(Tidy),
    /// Write what a shell completes words by
    Completions(Completions),
    /// Write the manual's pages into a folder
    Manual(Manual),
    /// Say what one more drop takes on pipe that stands: what to shut, parts, price, air
    AddDrop(AddDrop),
    /// Say what a rule of good practice finds, and why; without a name, list them
    Explain(Explain),
}
