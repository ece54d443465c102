//! The cheapest whole purchase: every line of the count bought, with what the
//! suppliers charge for delivery and small orders.
//!
//! What is found is the least sum of goods and charges over every choice of a
//! way for each line, a way being the cheapest mix of packs by some of the
//! line's offers (of pipe, and of a line with more than eight offers: by some of
//! its suppliers). No line is split to reach a sum, and nothing is bought for
//! that alone. The answer is proven where it equals its `bound`: with up to six
//! suppliers that charge something always, unless hundreds of choices come
//! within a hair of a sum from which an order costs less; with more suppliers
//! never.

mod alone;
mod pay;
mod reach;
mod sets;
mod terms;
#[cfg(test)]
mod tests;
mod ways;
mod words;

pub use terms::{MOST_SUPPLIERS, Named, SupplierTerms, Terms};

use crate::catalog::Catalog;
use crate::matching::{Asked, Match};
use crate::money::{Currency, Money, MoneyError};
use bom::quantity::Units;
use bom::takeoff::Takeoff;

/// A whole purchase.
#[derive(Debug, Clone)]
pub struct Buying {
    /// What became of each line, in the order in which they were asked for.
    pub lines: Vec<Match>,
    /// What each supplier gets, by name.
    pub orders: Vec<Order>,
    /// What all goods cost.
    pub goods: Money,
    /// What deliveries cost, and what small orders are made up by.
    pub charges: Money,
    /// Both.
    pub total: Money,
    /// No purchase of these goods by the same rules costs less.
    pub bound: Money,
    /// Whether the cheapest purchase meets that bound.
    pub proven: bool,
    /// The part of the goods' cost that falls on what is bought beyond the need.
    pub surplus_cost: Money,
    /// What one supplier alone would cost: those that lack the fewest lines
    /// first, then the cheapest.
    pub alone: Vec<Alone>,
    /// What this purchase saves against the cheapest supplier that has every
    /// line; none if no supplier has, or if only one sells. Below nought where
    /// a supplier is preferred.
    pub saved: Option<Money>,
    /// The supplier that is preferred to the cheapest purchase, and how much
    /// more that costs.
    pub preferred: Option<(String, Money)>,
}

/// What one supplier gets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// The name in the catalog; may be empty.
    pub supplier: String,
    /// How many lines are bought there, in whole or in part.
    pub lines: usize,
    /// What its goods cost.
    pub goods: Money,
    /// What it charges for the delivery.
    pub delivery: Money,
    /// What is lacking to its least order.
    pub made_up: Money,
    /// All three.
    pub total: Money,
}

/// What everything would cost at one supplier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alone {
    /// Who.
    pub supplier: String,
    /// How many lines it lacks.
    pub lacks: usize,
    /// What it costs with its charges; none if it lacks a line.
    pub total: Option<Money>,
}

impl Buying {
    /// Nothing bought.
    pub(crate) fn nothing(currency: Currency) -> Self {
        let none = Money::zero(currency);
        Self {
            lines: Vec::new(),
            orders: Vec::new(),
            goods: none,
            charges: none,
            total: none,
            bound: none,
            proven: true,
            surplus_cost: none,
            alone: Vec::new(),
            saved: None,
            preferred: None,
        }
    }
}

/// Buys a count: its pipe, without ready lengths, then its parts.
///
/// # Errors
/// A sum with too many digits.
pub fn buy(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    terms: &Terms,
    currency: Currency,
) -> Result<Buying, MoneyError> {
    let pipe = takeoff.pipe.iter().filter(|line| !line.ready);
    let pipe = pipe.map(|line| Asked::pipe(line, units, catalog, currency));
    let parts = takeoff.lines.iter();
    let parts = parts.map(|line| Asked::part(line, catalog, currency));
    let asked: Vec<Asked<'_>> = pipe.chain(parts).collect();
    pay::buy(&asked, terms, currency)
}
