//! Commands that price a job, and those of price lists.

use super::formats::{BookFormat, TextOrJson};
use super::shared::{Buying, Form, OwnData, Paper, Rated};
use super::values::{choice, currency, reason};
use clap::{Args, Subcommand, ValueEnum};
use jiff::civil::Date;
use pricing::money::Currency;
use std::path::PathBuf;

/// A job with its prices and rates.
#[derive(Debug, Args)]
pub(crate) struct Priced {
    /// The job file
    pub(crate) job: PathBuf,
    #[command(flatten)]
    pub(crate) by: Rated,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form<BookFormat>,
}

#[derive(Debug, Args)]
pub(crate) struct Change {
    /// The job file that was agreed on
    pub(crate) old: PathBuf,
    /// The job file as it is now
    pub(crate) new: PathBuf,
    #[command(flatten)]
    pub(crate) by: Rated,
    /// The price list (CSV) of the old revision, if it had another; may be given
    /// several times
    #[arg(long, value_name = "FILE")]
    pub(crate) old_catalog: Vec<PathBuf>,
    /// The rates of the old revision, if it had others
    #[arg(long, value_name = "FILE")]
    pub(crate) old_rates: Option<PathBuf>,
    /// Why the job changes: customer wish, found on site, our error, or your own words
    #[arg(long, value_name = "WORDS", value_parser = reason)]
    pub(crate) reason: String,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form,
}

#[derive(Debug, Args)]
pub(crate) struct Quote {
    #[command(flatten)]
    pub(crate) priced: Priced,
    /// How much of the prices to show
    #[arg(long, value_enum, default_value = "lines")]
    pub(crate) level: ShowLevel,
    /// Offer the job in this pipe system too; may be given several times, in place of
    /// the job's own options
    #[arg(long, value_name = "NAME=SYSTEM", value_parser = choice)]
    pub(crate) option: Vec<(String, String)>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ShowLevel {
    /// One sum
    Sum,
    /// A sum for each section
    Sections,
    /// Every line
    Lines,
}

#[derive(Debug, Args)]
pub(crate) struct Compare {
    /// The job file
    pub(crate) job: PathBuf,
    /// The pipe systems, with commas between them
    #[arg(long, value_name = "NAME,NAME", required = true, value_delimiter = ',')]
    pub(crate) systems: Vec<String>,
    #[command(flatten)]
    pub(crate) by: Rated,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Catalog {
    /// Say what is wrong with price lists, and what a job lacks in them
    Check(CatalogCheck),
    /// Write the request for prices: every part that a job needs, prices empty
    Blank(CatalogBlank),
}

#[derive(Debug, Args)]
pub(crate) struct CatalogCheck {
    /// Price lists (CSV or XLSX), or mappings of suppliers' sheets (TOML)
    #[arg(required = true)]
    pub(crate) catalogs: Vec<PathBuf>,
    /// Say which parts of this job have no price in them
    #[arg(long, value_name = "JOB")]
    pub(crate) job: Option<PathBuf>,
    /// Prices older than this are old
    #[arg(long, value_name = "DAYS", default_value_t = pricing::catalog::OLD_AFTER)]
    pub(crate) older_than: u32,
    /// The day of the check; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
    /// How to print
    #[arg(long, value_enum, default_value = "text")]
    pub(crate) format: TextOrJson,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct CatalogBlank {
    /// The job file
    pub(crate) job: PathBuf,
    /// Your price lists, for a sheet to each of their suppliers with its packs
    /// and order numbers
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Ask this supplier alone
    #[arg(long, value_name = "NAME")]
    pub(crate) supplier: Option<String>,
    /// The currency to answer in; that of the price lists if left out
    #[arg(long, value_name = "CODE", value_parser = currency)]
    pub(crate) currency: Option<Currency>,
    /// Write to this file (CSV or XLSX); for several suppliers each gets one with
    /// its name in it
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// The paper of a workbook
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Shop {
    /// The job file
    pub(crate) job: PathBuf,
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) catalog: Vec<PathBuf>,
    /// Rates (TOML) with your suppliers' charges and their currency; without
    /// them you collect at the counter
    #[arg(long, value_name = "FILE", conflicts_with = "currency")]
    pub(crate) rates: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) buying: Buying,
    /// How to group the list
    #[arg(long, value_enum, default_value = "aisle")]
    pub(crate) by: ShopBy,
    /// The currency of your prices; that of the price list if left out, or USD
    /// if it names none
    #[arg(long, value_name = "CODE", value_parser = currency)]
    pub(crate) currency: Option<Currency>,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form<BookFormat>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ShopBy {
    /// As things lie in the store
    Aisle,
    /// By who sells them
    Supplier,
}
