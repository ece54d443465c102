//! The contractor's own figures: wage, hours, percentages, terms.

mod raw;
mod read;

use crate::money::{Currency, Money};
use crate::quote::Company;
use bom::finding::Finding;
use bom::quantity::Size;
use bom::source::Source;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Everything of `rates.toml`.
#[derive(Debug, Clone)]
pub struct Rates {
    /// Whether the figures are an invented sample.
    pub sample: bool,
    /// The block at the head of the quote.
    pub company: Company,
    /// The currency of every price.
    pub currency: Currency,
    /// What an hour of the crew costs.
    pub wage: Money,
    /// Hours of work.
    pub hours: Hours,
    /// Overhead in percent of cost.
    pub overhead: Decimal,
    /// Profit in percent of the price, not of the cost: 25 % margin is 33.3333 %
    /// on top of the cost.
    pub margin: Decimal,
    /// Tax and what it is taken on.
    pub tax: TaxRule,
    /// Days that the offer stands.
    pub validity_days: u16,
    /// Payment steps; their percentages add up to 100. May be empty.
    pub payment: Vec<PaymentShare>,
    /// What the quote does not include.
    pub exclusions: Vec<String>,
    /// Cautions besides those that always stand.
    pub cautions: Vec<String>,
    /// Other notes.
    pub notices: Vec<String>,
}

/// Hours for each piece of work.
#[derive(Debug, Clone)]
pub struct Hours {
    /// A made-up joint, by thread size.
    pub joint: BTreeMap<Size, Decimal>,
    /// Ten feet of pipe, by size.
    pub pipe_10ft: BTreeMap<Size, Decimal>,
    /// A hanger or bracket.
    pub support: Decimal,
    /// A valve, filter, regulator, coupler …
    pub device: Decimal,
    /// A drop, beyond its joints.
    pub drop: Decimal,
    /// A drain, beyond its joints.
    pub drain: Decimal,
    /// Getting there and clearing up, once a job.
    pub mobilisation: Decimal,
    /// The pressure test, once a job.
    pub pressure_test: Decimal,
}

/// How tax is taken.
#[derive(Debug, Clone)]
pub struct TaxRule {
    /// What it is called.
    pub label: String,
    /// Percent.
    pub percent: Decimal,
    /// What it is taken on.
    pub on: TaxOn,
}

/// What tax is taken on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TaxOn {
    /// Every line but labour.
    Materials,
    /// Every line.
    All,
    /// Nothing.
    None,
}

/// A payment as a share of the total.
#[derive(Debug, Clone)]
pub struct PaymentShare {
    /// The event that makes it due.
    pub when: String,
    /// Percent of the total.
    pub percent: Decimal,
}

impl Rates {
    /// Reads a rates file. There are rates only if no finding stops the job.
    #[must_use]
    pub fn read(source: &Source) -> (Option<Self>, Vec<Finding>) {
        read::rates(source)
    }
}

#[cfg(test)]
mod tests;
