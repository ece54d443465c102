//! What is bought for each counted part by itself: whole packs, mixed as is
//! cheapest. A part that no offer fits is reported with its reason and the
//! catalog row to add. What a whole purchase costs, with its suppliers' charges,
//! is worked out by [`crate::buying`].

pub(crate) mod asked;
mod bundle;
mod packs;
mod pipe;
pub(crate) mod sources;
pub(crate) mod sticks;

pub(crate) use asked::Asked;
pub(crate) use bundle::Bundle;

use crate::catalog::{Catalog, Offer, Unit};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::MissingPrice;
use bom::quantity::Units;
use bom::takeoff::{PartLine, PipeLine, Takeoff};
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// What became of a counted part.
#[derive(Debug, Clone)]
pub enum Match {
    /// It is bought.
    Bought(Bought),
    /// No offer fits.
    Missing(MissingPrice),
}

/// What is bought for one line of the count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bought {
    /// One or several purchases, the largest packs first; none for a line of
    /// nothing.
    pub purchases: Vec<Purchase>,
    /// What they cost.
    pub cost: Money,
    /// What is bought beyond what is needed, in pieces, sticks, feet or metres.
    /// Offcuts of sticks are not counted.
    pub surplus: Decimal,
    /// The part of the cost that falls on the surplus.
    pub surplus_cost: Money,
}

/// What is bought, and from whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// How many packs; by length also tenths of a metre.
    pub quantity: Decimal,
    /// What a pack is: `each`, `pack of 10`, `stick 21 ft`.
    pub unit: String,
    /// What is sold.
    pub sold: Unit,
    /// How many of it are in a pack.
    pub pack: u64,
    /// Price of one pack.
    pub unit_price: Money,
    /// Quantity × price.
    pub cost: Money,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The supplier's order number; may be empty.
    pub code: String,
    /// Where it lies in the store; may be empty.
    pub aisle: String,
    /// The day of the price.
    pub priced_on: Option<Date>,
}

impl Match {
    /// What it costs; none without a price.
    #[must_use]
    pub const fn cost(&self) -> Option<Money> {
        match self {
            Self::Bought(bought) => Some(bought.cost),
            Self::Missing(_) => None,
        }
    }
}

/// Buys counted parts.
///
/// # Errors
/// A cost with too many digits.
pub fn part(line: &PartLine, catalog: &Catalog, currency: Currency) -> Result<Match, MoneyError> {
    Asked::part(line, catalog, currency).cheapest()
}

/// Buys pipe: sticks of one or several lengths as the pieces are cut out of
/// them, or the pieces' total length, whatever costs least.
///
/// # Errors
/// A cost with too many digits.
pub fn pipe(
    line: &PipeLine,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Match, MoneyError> {
    Asked::pipe(line, units, catalog, currency).cheapest()
}

/// What all parts and pipe of a count cost, each line by itself; none if one
/// has no price.
///
/// # Errors
/// A cost with too many digits.
pub fn whole(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Option<Money>, MoneyError> {
    let mut costs = Vec::new();
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        costs.push(pipe(line, units, catalog, currency)?.cost());
    }
    for line in &takeoff.lines {
        costs.push(part(line, catalog, currency)?.cost());
    }
    let costs: Option<Vec<Money>> = costs.into_iter().collect();
    costs.map(|costs| Money::sum(currency, costs)).transpose()
}

/// The parts and pipe of a count that have no price.
///
/// # Errors
/// A cost with too many digits.
pub fn missing(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Vec<MissingPrice>, MoneyError> {
    let mut matches = Vec::new();
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        matches.push(pipe(line, units, catalog, currency)?);
    }
    for line in &takeoff.lines {
        matches.push(part(line, catalog, currency)?);
    }
    let missing = matches.into_iter().filter_map(|matched| match matched {
        Match::Missing(missing) => Some(missing),
        Match::Bought(_) => None,
    });
    Ok(missing.collect())
}

/// The lowest price first, then by what the row says.
fn rank_of(offer: &Offer) -> impl Ord + '_ {
    (offer.price.map(|price| price.amount()), says(offer))
}

/// What a row says; its place comes last, so that the order of the rows
/// changes nothing.
fn says(offer: &Offer) -> impl Ord + '_ {
    (
        &offer.supplier,
        &offer.code,
        offer.unit,
        offer.pack,
        Reverse(offer.priced_on),
        &offer.place,
    )
}

#[cfg(test)]
mod tests;
