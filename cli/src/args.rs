//! The command line's words.

use bom::drawing::{DRAWINGS, SIGNS};
use bom::quantity::{Length, Units};
use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;
use pricing::money::Currency;
use std::path::PathBuf;

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
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<F>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// The paper of a PDF, or of a workbook that is printed
    #[arg(long, value_enum, default_value = "letter")]
    pub(crate) paper: Paper,
    /// The day on the paper; today if left out
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(crate) date: Option<Date>,
}

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
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<ReadBackFormat>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

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
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<CountFormat>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// The paper of a workbook that is printed
    #[arg(long, value_enum, default_value = "letter", conflicts_with = "why")]
    pub(crate) paper: Paper,
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

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum TextOrSchema {
    /// Text for people
    Text,
    /// JSON Schema, draft 7
    Schema,
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
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<TextOrJson>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
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
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<PartsFormat>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
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
    /// Your price list (CSV, XLSX, or a mapping in TOML), that the job was priced with;
    /// may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Rates (TOML) that the job was priced with
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
    /// The pipe systems of `compare`, with commas between them
    #[arg(
        long,
        value_name = "NAME,NAME",
        value_delimiter = ',',
        requires = "rates"
    )]
    pub(crate) systems: Vec<String>,
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
    /// Price lists (CSV) to choose and compare sizes by; the mass of metal if left out
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Rates (TOML) whose work counts with the prices
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
    /// What a kWh costs in your currency, for the cost of a year
    #[arg(long, value_name = "PRICE", value_parser = energy_price)]
    pub(crate) energy_price: Option<f64>,
    /// What a hole of this size lets out in a year, like 1/16in or 2mm
    #[arg(long, value_name = "LENGTH", value_parser = leak)]
    pub(crate) leak: Option<Length>,
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<PartsFormat>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) own: OwnData,
}

fn energy_price(text: &str) -> Result<f64, String> {
    let price = text.trim().parse().ok();
    price
        .filter(|price: &f64| (0.0..=1_000.0).contains(price))
        .ok_or_else(|| "give the price of one kWh as a plain number, like 0.15".to_owned())
}

fn leak(text: &str) -> Result<Length, String> {
    let hole = Length::parse(text, Units::Metric).map_err(|error| error.to_string())?;
    if hole <= Length::ZERO || hole > Length::from_mm(25) {
        return Err("a leak is a hole of up to 1 in, or 25 mm".to_owned());
    }
    Ok(hole)
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
    /// Your price list (CSV), for what is bought in place of parts that it lacks
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Rates (TOML) that the job was priced with
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form<CrewFormat>,
}

fn kerf(text: &str) -> Result<Length, String> {
    let kerf = Length::parse(text, Units::Metric).map_err(|error| error.to_string())?;
    if kerf > Length::from_mm(25) {
        return Err("no saw takes more than 25 mm".to_owned());
    }
    Ok(kerf)
}

/// A job with its prices and rates.
#[derive(Debug, Args)]
pub(crate) struct Priced {
    /// The job file
    pub(crate) job: PathBuf,
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms
    #[arg(long, value_name = "FILE")]
    pub(crate) rates: PathBuf,
    #[command(flatten)]
    pub(crate) buying: Buying,
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
    /// Your price list (CSV); may be given several times
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms
    #[arg(long, value_name = "FILE")]
    pub(crate) rates: PathBuf,
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
    pub(crate) buying: Buying,
    #[command(flatten)]
    pub(crate) own: OwnData,
    #[command(flatten)]
    pub(crate) form: Form,
}

/// What a reason takes on paper.
const LONGEST_REASON: usize = 300;

fn reason(text: &str) -> Result<String, String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match text.chars().count() {
        0 => Err(
            "say why the job changes: \"customer wish\", \"found on site\", \"our error\", or in your own words"
                .to_owned(),
        ),
        1..=LONGEST_REASON => Ok(text),
        _ => Err(format!("keep it under {LONGEST_REASON} letters")),
    }
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

fn choice(text: &str) -> Result<(String, String), String> {
    let named = text
        .split_once('=')
        .map(|(name, of)| (name.trim(), of.trim()));
    match named {
        Some((name, system)) if !name.is_empty() && !system.is_empty() => {
            Ok((name.to_owned(), system.to_owned()))
        }
        _ => Err("give a name and a pipe system, like \"A=black-iron\"".to_owned()),
    }
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
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE", required = true)]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms
    #[arg(long, value_name = "FILE")]
    pub(crate) rates: PathBuf,
    #[command(flatten)]
    pub(crate) buying: Buying,
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
    #[arg(long, conflicts_with_all = ["readings", "sheet", "rule", "energy_price", "format"])]
    pub(crate) blank_readings: bool,
    /// Write over an empty record's file that is there already
    #[arg(long, requires = "blank_readings")]
    pub(crate) replace: bool,
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
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Your wages, hours, overhead, margin, tax and terms: they bring the estimate, and
    /// those of a contractor the quote
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
    /// How much of the prices the quote shows
    #[arg(long, value_enum, default_value = "lines")]
    pub(crate) level: ShowLevel,
    /// Pipe systems to compare, with commas between them
    #[arg(
        long,
        value_name = "NAME,NAME",
        value_delimiter = ',',
        requires = "rates"
    )]
    pub(crate) systems: Vec<String>,
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
    /// Your price list (CSV, XLSX, or a mapping in TOML); may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) catalog: Vec<PathBuf>,
    /// Rates (TOML) that the job was priced with: those of a contractor make it
    /// the crew's page, which shows no prices
    #[arg(long, value_name = "FILE", requires = "catalog")]
    pub(crate) rates: Option<PathBuf>,
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

#[derive(Debug, Args)]
pub(crate) struct Systems {
    /// The system to show, like black-iron; all of them if left out
    pub(crate) name: Option<String>,
    /// How to print; the ending of --out decides if it is left out
    #[arg(long, value_enum)]
    pub(crate) format: Option<TextOrJson>,
    /// Write to this file instead of the terminal
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) own: OwnSystems,
}

fn currency(text: &str) -> Result<Currency, String> {
    Currency::parse(text).map_err(|error| format!("{}: {}", error.message, error.help))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ShopBy {
    /// As things lie in the store
    Aisle,
    /// By who sells them
    Supplier,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum TextOrJson {
    /// For reading
    Text,
    /// For programs
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ReadBackFormat {
    /// For reading and writing on
    Text,
    /// For programs
    Json,
    /// The card alone, as tables for the end of the job file
    Toml,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PartsFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
    /// For paper
    Pdf,
}

/// The formats of what the crew gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum CrewFormat {
    /// The order of work, for reading
    Text,
    /// The same for programs
    Json,
    /// The whole set, for paper
    Pdf,
}

/// The formats of papers that are workbooks as well.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum BookFormat {
    /// For reading
    Text,
    /// For spreadsheets, without formulas
    Csv,
    /// For programs
    Json,
    /// For paper
    Pdf,
    /// A workbook with formulas
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum CountFormat {
    /// For reading
    Text,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
    /// A workbook
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetFormat {
    /// For spreadsheets
    Csv,
    /// A workbook
    Xlsx,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PageFormat {
    /// For the browser
    #[value(alias = "htm")]
    Html,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 x 297 mm
    A4,
    /// 8-1/2 x 11 in
    Letter,
}
