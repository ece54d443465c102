//! What is written out. Every renderer reads a finished model and prints it;
//! none of them computes a sum.

pub mod csv;
pub mod frozen;
pub mod html;
pub mod json;
pub mod pdf;
pub mod svg;
pub mod terminal;
pub mod tidy;
pub mod toml;
pub(crate) mod words;
pub mod xlsx;

use bom::Plan;
use bom::air::answer::yearly::Yearly;
use bom::air::answer::{Air, Room};
use bom::air::sizes::MainIn;
use bom::finding::Finding;
use bom::takeoff::Takeoff;
use jiff::civil::Date;
use pricing::catalog::check::Held;
use pricing::change::Worst;
use pricing::money::{Currency, Money};
use pricing::quote::MissingPrice;
use std::path::Path;

/// What the paper on air is made of.
#[derive(Debug)]
pub struct AirPaper<'a> {
    /// The job and its layout.
    pub plan: &'a Plan,
    /// The answer.
    pub air: &'a Air,
    /// How much more air there is room for at each outlet.
    pub rooms: &'a [Room],
    /// The tool whose way is shown, by its number in the demand.
    pub shown: Option<usize>,
    /// What a year takes, if it was asked for.
    pub yearly: Option<&'a Yearly>,
    /// The main in several sizes, if it was asked for.
    pub mains: &'a [MainIn],
    /// The currency of what they cost.
    pub currency: Option<Currency>,
    /// Why something has its size, if it was asked for.
    pub why_size: Option<String>,
}

/// What is known of a job a minute after it was begun.
#[derive(Debug)]
pub struct FirstSheet {
    /// The job's title.
    pub title: String,
    /// Whether there is air enough, in sentences.
    pub verdict: Vec<String>,
    /// Parts, pipe and joints.
    pub totals: Vec<String>,
    /// What was taken for granted.
    pub assumed: Vec<String>,
    /// What is to be measured or read off.
    pub confirm: Vec<String>,
    /// The next commands, and what each is for.
    pub next: Vec<(String, String)>,
}

/// What the paper on one more drop is made of.
#[derive(Debug)]
pub struct AddDropPaper<'a> {
    /// The new outlet.
    pub name: &'a str,
    /// The job with it.
    pub plan: &'a Plan,
    /// What it takes.
    pub takeoff: &'a Takeoff,
    /// Where it leaves the main.
    pub place: String,
    /// The valves that shut off that part of the main.
    pub shut: Vec<String>,
    /// Whether a tank stands in that part, or no valve shuts it off.
    pub at_tank: bool,
    /// The outlets without air meanwhile.
    pub dead: Vec<String>,
    /// Whether a plugged tee stands there.
    pub plugged: bool,
    /// The tool that is worst off without it.
    pub before: Option<Worst>,
    /// The same with it.
    pub after: Option<Worst>,
    /// What it costs, where prices and rates are given.
    pub price: Option<AddedPrice>,
}

/// What one more drop costs.
#[derive(Debug)]
pub struct AddedPrice {
    /// Hours of work.
    pub hours: String,
    /// Days on site, if they are known.
    pub days: Option<String>,
    /// Price and tax; none while a price or hours are missing.
    pub total: Option<Money>,
    /// Whether the work is the owner's own.
    pub owner: bool,
}

/// What the check of price lists says.
#[derive(Debug)]
pub struct CatalogPaper<'a> {
    /// What each list holds.
    pub held: &'a [Held],
    /// What was found, with the number of the list.
    pub findings: &'a [(usize, Finding)],
    /// What a job lacks, if one was asked about.
    pub missing: Option<&'a [MissingPrice]>,
    /// That job's file.
    pub job: Option<&'a Path>,
    /// After how many days a price is old.
    pub older_than: u32,
    /// The day of the check.
    pub date: Date,
}

/// Which job and which state of it a set of drawings is of.
#[derive(Debug, Clone, Copy)]
pub struct DrawingHead<'a> {
    /// The job's title.
    pub job: &'a str,
    /// Its revision, if it has one.
    pub revision: &'a str,
    /// The mark of its layout.
    pub fingerprint: &'a str,
    /// The day on the paper.
    pub date: Date,
}

#[cfg(test)]
mod fixture;
