//! What the customer sees. Every line is rounded once, every sum is a sum of
//! printed lines, and no cost or margin is in it.

mod beside;
mod level;

pub use beside::{Added, AddedDrop, Options, QuoteAlternate, QuoteOption};
pub use level::{Level, Prices, ShownLine, ShownSection};

use crate::money::Money;
use crate::rates::{Provisional, TaxOn};
use bom::takeoff::PartKey;
use jiff::civil::Date;
use rust_decimal::Decimal;

/// A finished quote: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct Quote {
    /// Who makes the offer.
    pub company: Company,
    /// Who it is for.
    pub customer: String,
    /// The job's title.
    pub title: String,
    /// The job file's revision.
    pub revision: String,
    /// Fingerprint of the layout and of the prices: `4F2A-91C0`.
    pub fingerprint: String,
    /// The day of the offer.
    pub date: Date,
    /// The last day on which it can be accepted.
    pub valid_until: Date,
    /// The scope in words, a paragraph each.
    pub scope: Vec<String>,
    /// The outlet table.
    pub outlets: Vec<OutletRow>,
    /// The itemised lines, whatever the level: renderers print [`Quote::prices`].
    pub sections: Vec<Section>,
    /// How much of them is shown.
    pub level: Level,
    /// Lines of materials under this are gathered where lines are shown.
    pub small_items: Option<Money>,
    /// From the sum of the sections to the price; none where no sum is rounded.
    pub rounding: Option<Money>,
    /// Sums that are settled after the work, those in the total and others.
    pub provisional: Vec<Provisional>,
    /// Sum of the sections, the rounding and the provisional sums in the total.
    pub subtotal: Money,
    /// Tax on its stated base.
    pub tax: Tax,
    /// Subtotal and tax; none while a price is missing.
    pub total: Option<Money>,
    /// Parts that no catalog row prices.
    pub missing: Vec<MissingPrice>,
    /// Work for which the rates have no hours, and the entry to add.
    pub unrated: Vec<String>,
    /// Payment steps with their sums; they add up to the total. Empty if none are set.
    pub payment: Vec<PaymentStep>,
    /// What one more drop of each kind would add; none if it was not asked for.
    pub added: Option<Added>,
    /// What is offered besides, and what each would add.
    pub alternates: Vec<QuoteAlternate>,
    /// The same work in other ways; none if there is no choice.
    pub options: Option<Options>,
    /// The contractor's own words on warranty, changes and dates.
    pub terms: Vec<Term>,
    /// What was taken as given.
    pub assumptions: Vec<String>,
    /// What is not included.
    pub exclusions: Vec<String>,
    /// Hazards and the duties of others.
    pub cautions: Vec<String>,
    /// Whether prices or rates come from invented samples, and which.
    pub notices: Vec<String>,
}

/// The block at the head of the quote.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Company {
    /// The firm's name.
    pub name: String,
    /// Address, telephone, licence number …, a line each.
    pub lines: Vec<String>,
}

/// One outlet of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutletRow {
    /// 1, 2, 3 …
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Height above the floor, printed in the job's units.
    pub height: String,
    /// Drop pipe size and how it leaves the main: `3/4in, top`.
    pub drop: String,
    /// What hangs on each side: `valve, coupler`.
    pub sides: Vec<String>,
    /// How it drains.
    pub drain: String,
}

/// A section of the itemised lines.
#[derive(Debug, Clone)]
pub struct Section {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<QuoteLine>,
    /// Sum of the printed amounts.
    pub subtotal: Money,
}

/// One printed line.
#[derive(Debug, Clone)]
pub struct QuoteLine {
    /// What it is, in shelf words with its size.
    pub text: String,
    /// How many, as printed: `12`, `8`, `41.5`.
    pub quantity: Decimal,
    /// Of what: `each`, `stick 21 ft`, `hour`.
    pub unit: String,
    /// Price of one; none if the catalog has no price.
    pub unit_price: Option<Money>,
    /// Quantity × unit price, rounded once; none if the catalog has no price.
    pub amount: Option<Money>,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}

/// Tax, on its stated base.
#[derive(Debug, Clone)]
pub struct Tax {
    /// What it is called: `Sales tax on materials`.
    pub label: String,
    /// Percent, as printed.
    pub percent: Decimal,
    /// Which lines it is taken on.
    pub on: TaxOn,
    /// What it is taken on.
    pub base: Money,
    /// The tax itself.
    pub amount: Money,
}

/// A part without a price: a loud hole.
#[derive(Debug, Clone)]
pub struct MissingPrice {
    /// The part.
    pub key: PartKey,
    /// The part in shelf words.
    pub words: String,
    /// How many are needed, as printed.
    pub quantity: Decimal,
    /// Of what.
    pub unit: String,
    /// Why nothing fits, if rows came near.
    pub reason: String,
    /// The catalog row to add, price left open.
    pub row: String,
}

/// What the contractor says of one matter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// The matter: `Warranty on the work`.
    pub label: &'static str,
    /// What is said of it.
    pub text: String,
}

/// One payment.
#[derive(Debug, Clone)]
pub struct PaymentStep {
    /// The event that makes it due.
    pub when: String,
    /// How much.
    pub amount: Money,
}
