//! Options that several commands have.

use super::formats::PaperFormat;
use clap::{Args, ValueEnum};
use jiff::civil::Date;
use std::path::PathBuf;

/// Pipe systems beside the shipped ones.
#[derive(Debug, Args)]
pub(crate) struct OwnSystems {
    /// A pipe system of your own (TOML); may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) system_file: Vec<PathBuf>,
}

/// What the user has of their own beside the shipped data.
#[derive(Debug, Args)]
pub(crate) struct OwnData {
    #[command(flatten)]
    pub(crate) systems: OwnSystems,
    /// A list of tools of your own (CSV); may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) tool_file: Vec<PathBuf>,
}

impl OwnData {
    /// All of its files.
    pub(crate) fn files(&self) -> impl Iterator<Item = &PathBuf> {
        self.systems.system_file.iter().chain(&self.tool_file)
    }
}

/// Whom one buys from.
#[derive(Debug, Default, Args)]
pub(crate) struct Buying {
    /// Buy from this supplier only, as the price list names it; may be given
    /// several times, and goes before `buy_from` of the rates
    #[arg(long, value_name = "NAME")]
    pub(crate) only_from: Vec<String>,
}

/// How a paper comes out.
#[derive(Debug, Args)]
pub(crate) struct Form<F = PaperFormat>
where
    F: ValueEnum + Send + Sync + 'static,
{
    #[command(flatten)]
    pub(crate) print: Print<F>,
    /// The paper of a PDF, or of a workbook that is printed
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    /// The day on the paper; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 x 297 mm
    A4,
    /// 8-1/2 x 11 in
    Letter,
}

/// How an answer comes out.
#[derive(Debug, Args)]
pub(crate) struct Print<F>
where
    F: ValueEnum + Send + Sync + 'static,
{
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<F>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// What a job is priced with, where it need not be.
#[derive(Debug, Args)]
pub(crate) struct Prices {
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms (TOML)
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
}

/// Pipe systems beside each other.
#[derive(Debug, Args)]
pub(crate) struct Compared {
    /// The pipe systems of `compare`, with commas between them
    #[arg(
        long,
        value_name = "NAME,NAME",
        value_delimiter = ',',
        requires = "rates"
    )]
    pub(crate) systems: Vec<String>,
}

/// What a job is priced with, where it has to be.
#[derive(Debug, Args)]
pub(crate) struct Rated {
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms
    #[arg(long, value_name = "FILE")]
    pub(crate) rates: PathBuf,
    #[command(flatten)]
    pub(crate) buying: Buying,
}
