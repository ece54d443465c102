//! Commands that answer what follows from the layout.

use super::formats::{CountFormat, CrewFormat, PartsFormat, TextOrJson};
use super::shared::{Buying, Compared, Form, OwnData, Paper, Prices, Print};
use super::values::{currency, energy_price, kerf, leak};
use bom::drawing::{DRAWINGS, SIGNS};
use bom::quantity::Length;
use clap::Args;
use clap::builder::PossibleValuesParser;
use jiff::civil::Date;
use pricing::money::Currency;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct Parts {
    /// The job file
    pub(crate) job: PathBuf,
    /// Say why each part of one line is there: its number in the list, or its
    /// part's name
    #[arg(long, value_name = "LINE", conflicts_with_all = ["format", "out"])]
    pub(crate) why: Option<String>,
    /// Print the proofs of the count below it
    #[arg(long, conflicts_with_all = ["format", "why"])]
    pub(crate) proof: bool,
    #[command(flatten)]
    pub(crate) print: Print<CountFormat>,
    /// The paper of a workbook that is printed
    #[arg(long, value_enum, default_value = "letter", conflicts_with = "why")]
    pub(crate) paper: Paper,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct AddDrop {
    /// The job file, all of which is taken to stand
    pub(crate) job: PathBuf,
    /// What the new outlet is called; the name of one that the job says is to come
    /// later takes its place and its kind from there
    #[arg(long, value_name = "NAME")]
    pub(crate) name: String,
    /// The leg that it leaves: its number, "leg 3", or its wall, "north wall"; the
    /// longest free level pipe if left out
    #[arg(long, value_name = "LEG")]
    pub(crate) on: Option<String>,
    /// How far along that leg, from its start: "12-6"; "4-0 back" from its end
    #[arg(long, value_name = "LENGTH")]
    pub(crate) at: Option<String>,
    /// The kind of drop, as the job names it; the commonest if left out
    #[arg(long, value_name = "KIND")]
    pub(crate) drop: Option<String>,
    /// How high the outlet is above the floor; the usual height of its kind if left out
    #[arg(long, value_name = "LENGTH")]
    pub(crate) height: Option<String>,
    /// The tool that hangs on it, from the list of tools
    #[arg(long, value_name = "TOOL")]
    pub(crate) tool: Option<String>,
    /// Your price list; may be given several times
    #[arg(long, value_name = "FILE", requires = "rates")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) buying: Buying,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) print: Print<TextOrJson>,
    /// The day on which prices are judged old; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
}

#[derive(Debug, Args)]
pub(crate) struct Water {
    /// The job file
    pub(crate) job: PathBuf,
    /// List every hanger of the main as well, with its height
    #[arg(long)]
    pub(crate) hangers: bool,
    #[command(flatten)]
    pub(crate) print: Print<PartsFormat>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

/// Every drawing of the job.
pub(crate) const ALL_DRAWINGS: &str = "all";

fn drawings() -> impl Iterator<Item = &'static str> {
    let words = DRAWINGS.iter().map(|drawing| drawing.word);
    words.chain(["cut", "compare", SIGNS.word, ALL_DRAWINGS])
}

#[derive(Debug, Args)]
pub(crate) struct Draw {
    /// The job file
    pub(crate) job: PathBuf,
    /// What to draw; several with commas between them
    #[arg(
        long,
        value_name = "NAME,NAME",
        value_delimiter = ',',
        default_value = ALL_DRAWINGS,
        value_parser = PossibleValuesParser::new(drawings())
    )]
    pub(crate) sheet: Vec<String>,
    /// Write to this file (SVG for one sheet, PDF for any number), or to this folder,
    /// an SVG for each sheet; without it the sheets are listed
    #[arg(long, value_name = "FILE|FOLDER")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) prices: Prices,
    #[command(flatten)]
    pub(crate) compared: Compared,
    #[command(flatten)]
    pub(crate) buying: Buying,
    /// The paper of a PDF
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    /// The day on the drawings; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Air {
    /// The job file
    pub(crate) job: PathBuf,
    /// Show the way to this outlet; to the tool that is worst off if left out
    #[arg(long, value_name = "NAME")]
    pub(crate) outlet: Option<String>,
    /// Set the main a size smaller and a size larger beside it
    #[arg(long)]
    pub(crate) sizes: bool,
    /// Say why a leg (its number) or the drop of an outlet (its name) has its size
    #[arg(long, value_name = "LEG|OUTLET")]
    pub(crate) why_size: Option<String>,
    #[command(flatten)]
    pub(crate) prices: Prices,
    /// What a kWh costs in your currency, for the cost of a year
    #[arg(long, value_name = "PRICE", value_parser = energy_price)]
    pub(crate) energy_price: Option<f64>,
    /// What a hole of this size lets out in a year, like 1/16in or 2mm
    #[arg(long, value_name = "LENGTH", value_parser = leak)]
    pub(crate) leak: Option<Length>,
    #[command(flatten)]
    pub(crate) print: Print<PartsFormat>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

#[derive(Debug, Args)]
pub(crate) struct Cut {
    /// The job file
    #[arg(required_unless_present = "pieces", conflicts_with = "pieces")]
    pub(crate) job: Option<PathBuf>,
    /// Cut this list instead of a job (CSV: length,quantity,label)
    #[arg(
        long,
        value_name = "FILE",
        requires = "stock",
        conflicts_with_all = ["system_file", "tool_file"]
    )]
    pub(crate) pieces: Option<PathBuf>,
    /// The sticks for --pieces (CSV: length,price,quantity)
    #[arg(long, value_name = "FILE", requires = "pieces")]
    pub(crate) stock: Option<PathBuf>,
    /// Your price list (CSV), for the cheapest mix of sticks; without it, as
    /// few sticks of the usual length as can be
    #[arg(long, value_name = "FILE", conflicts_with = "pieces")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your own offcuts, used first (CSV: size,length,quantity,system)
    #[arg(long, value_name = "FILE", conflicts_with = "pieces")]
    pub(crate) offcuts: Option<PathBuf>,
    /// What the saw takes, like 3mm or 1/8in; that of the pipe system if left
    /// out
    #[arg(long, value_name = "LENGTH", value_parser = kerf)]
    pub(crate) kerf: Option<Length>,
    /// The currency of your prices; that of the price list if left out, or USD
    /// if it names none
    #[arg(long, value_name = "CODE", value_parser = currency)]
    pub(crate) currency: Option<Currency>,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form,
}

#[derive(Debug, Args)]
pub(crate) struct Crew {
    /// The job file
    pub(crate) job: PathBuf,
    #[command(flatten)]
    pub(crate) prices: Prices,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form<CrewFormat>,
}
