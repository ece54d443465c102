//! Commands that begin a job, read it, and keep it in order.

use super::formats::{ReadBackFormat, TextOrJson, TextOrSchema};
use super::shared::{OwnData, OwnSystems, Paper, Print};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct New {
    /// The job file to write
    #[arg(default_value = "my-shop.toml")]
    pub(crate) job: PathBuf,
    /// Begin with this ready-made start instead of the questions
    #[arg(long, value_name = "NAME")]
    pub(crate) like: Option<String>,
    /// List the ready-made starts
    #[arg(long, conflicts_with = "like")]
    pub(crate) list: bool,
    /// Write over a job file that is there already
    #[arg(long)]
    pub(crate) replace: bool,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Import {
    /// The run sheet (CSV or XLSX)
    #[arg(required_unless_present = "blank", conflicts_with = "blank")]
    pub(crate) sheet: Option<PathBuf>,
    /// Write an empty run sheet instead
    #[arg(long)]
    pub(crate) blank: bool,
    /// The empty sheet in millimetres
    #[arg(long, requires = "blank")]
    pub(crate) metric: bool,
    /// Write to this file instead of the terminal: the job (TOML), or the empty sheet
    /// (CSV or XLSX)
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    pub(crate) replace: bool,
    /// The paper of an empty workbook
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Check {
    /// The job file
    pub(crate) job: PathBuf,
    /// List what every part may carry, weakest first, with its source
    #[arg(long)]
    pub(crate) ratings: bool,
    /// How to print
    #[arg(long, value_enum, default_value = "text")]
    pub(crate) format: TextOrJson,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct ReadBack {
    /// The job file
    pub(crate) job: PathBuf,
    #[command(flatten)]
    pub(crate) print: Print<ReadBackFormat>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// The rule, as a finding names it
    pub(crate) rule: Option<String>,
}

#[derive(Debug, Args)]
pub(crate) struct Keys {
    /// Only this table, like `leg`
    pub(crate) table: Option<String>,
    /// How to write: to read, or as JSON Schema, by which an editor completes and checks
    #[arg(long, value_enum, default_value = "text", conflicts_with = "table")]
    pub(crate) format: TextOrSchema,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Tidy {
    /// The job file
    pub(crate) job: PathBuf,
    /// Write it back to the same file
    #[arg(long, conflicts_with = "out")]
    pub(crate) in_place: bool,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell
    #[arg(value_enum)]
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
pub(crate) struct Manual {
    /// The folder to write into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
}

#[derive(Debug, Args)]
pub(crate) struct Systems {
    /// The system to show, like black-iron; all of them if left out
    pub(crate) name: Option<String>,
    #[command(flatten)]
    pub(crate) print: Print<TextOrJson>,
    #[command(flatten)]
    pub(crate) own: OwnSystems,
}
