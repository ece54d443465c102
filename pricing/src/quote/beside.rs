//! What a quote offers beside the job itself. Every price is the difference of two
//! totals, tax and rounding as printed.

use crate::money::Money;
use rust_decimal::Decimal;

/// What one more drop would add to the total.
#[derive(Debug, Clone)]
pub struct Added {
    /// Each kind that the job has, in the order of its outlets.
    pub drops: Vec<AddedDrop>,
    /// How it is meant.
    pub basis: Vec<String>,
}

/// One more drop of a kind.
#[derive(Debug, Clone)]
pub struct AddedDrop {
    /// The kind of drop.
    pub kind: String,
    /// What it would be: `like bench: 3/4in, top, 4'-0" above the floor`.
    pub text: String,
    /// What it would add, or why that is not known.
    pub price: Result<Money, String>,
}

/// Outlets that are not in the total.
#[derive(Debug, Clone)]
pub struct QuoteAlternate {
    /// Its name.
    pub name: String,
    /// What the contractor says of it; may be empty.
    pub text: String,
    /// Its outlets, a line each.
    pub outlets: Vec<String>,
    /// What it would add, or why that is not known.
    pub price: Result<Money, String>,
}

/// The same work in several ways.
#[derive(Debug, Clone)]
pub struct Options {
    /// What they have in common.
    pub scope: String,
    /// The options in the order of the file.
    pub options: Vec<QuoteOption>,
}

/// One of several ways.
#[derive(Debug, Clone)]
pub struct QuoteOption {
    /// What it is called.
    pub name: String,
    /// Whether it is the work that the rest of the quote describes.
    pub described: bool,
    /// The pipe of its main, with its sizes; empty if it cannot be built.
    pub pipe: String,
    /// The outlets that it leaves out.
    pub left_out: Vec<String>,
    /// What must be said of its pipe and not of that of the work described.
    pub cautions: Vec<String>,
    /// What the customer pays, or why that is not known.
    pub total: Result<Money, String>,
    /// How much more that is than for the work described; none if either is not known.
    pub difference: Option<Money>,
    /// Days on site; none if the rates name no crew, or hours are missing.
    pub days: Option<Decimal>,
}
