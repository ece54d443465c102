//! Commands that write the papers of a whole job.

use super::formats::{CrewFormat, PageFormat};
use super::money::ShowLevel;
use super::shared::{Buying, Compared, Form, OwnData, Paper, Prices};
use super::values::{currency, energy_price};
use clap::Args;
use clap::builder::PossibleValuesParser;
use jiff::civil::Date;
use pricing::money::Currency;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct Handover {
    /// The job file
    pub(crate) job: PathBuf,
    /// Only these sheets; several with commas between them
    #[arg(
        long,
        value_name = "NAME,NAME",
        value_delimiter = ',',
        value_parser = PossibleValuesParser::new(bom::handover::sheet_names())
    )]
    pub(crate) sheet: Vec<String>,
    /// The rule of the pressure test that was agreed on; without it the rules are listed
    /// with their sources
    #[arg(long, value_name = "NAME")]
    pub(crate) rule: Option<String>,
    /// What a kWh costs in your currency, for what a hole costs in a year
    #[arg(long, value_name = "PRICE", value_parser = energy_price)]
    pub(crate) energy_price: Option<f64>,
    /// What was read on site (TOML), worked out on its sheets
    #[arg(long, value_name = "FILE")]
    pub(crate) readings: Option<PathBuf>,
    /// Write the empty record of this job instead, to be filled in on site
    #[arg(long, conflicts_with_all = ["readings", "sheet", "rule", "energy_price", "as_built", "format"])]
    pub(crate) blank_readings: bool,
    /// Write over an empty record's file that is there already
    #[arg(long, requires = "blank_readings")]
    pub(crate) replace: bool,
    /// Freeze the job as it was built: a new folder with the job from which the next visit
    /// starts, its data, all papers and a list of checksums
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["sheet", "format", "out"])]
    pub(crate) as_built: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) prices: Prices,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form<CrewFormat>,
}

#[derive(Debug, Args)]
pub(crate) struct Papers {
    /// The job file
    pub(crate) job: PathBuf,
    /// The folder to write into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
    #[command(flatten)]
    pub(crate) prices: Prices,
    /// How much of the prices the quote shows
    #[arg(long, value_enum, default_value = "lines")]
    pub(crate) level: ShowLevel,
    /// The rule of the pressure test that was agreed on, for the handover
    #[arg(long, value_name = "NAME")]
    pub(crate) rule: Option<String>,
    /// What a kWh costs in your currency, for what a hole costs in a year
    #[arg(long, value_name = "PRICE", value_parser = energy_price)]
    pub(crate) energy_price: Option<f64>,
    #[command(flatten)]
    pub(crate) compared: Compared,
    #[command(flatten)]
    pub(crate) buying: Buying,
    #[command(flatten)]
    pub(crate) own: OwnData,
    /// The paper of the PDFs
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    /// The day on the papers; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
}

#[derive(Debug, Args)]
pub(crate) struct Report {
    /// The job file
    pub(crate) job: PathBuf,
    #[command(flatten)]
    pub(crate) prices: Prices,
    #[command(flatten)]
    pub(crate) buying: Buying,
    /// The currency of your prices; that of the price list if left out, or USD
    /// if it names none
    #[arg(long, value_name = "CODE", value_parser = currency, conflicts_with = "rates")]
    pub(crate) currency: Option<Currency>,
    #[command(flatten)]
    pub(crate) own: OwnData,
    /// How to write; a page to read in a browser is the only form
    #[arg(long, value_enum)]
    pub(crate) format: Option<PageFormat>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// The day on the page; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
}
