//! How a price is made of a cost, and below what it should not fall.

use super::Rates;
use crate::money::{Money, MoneyError};
use rust_decimal::Decimal;

/// Where prices are rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rounding {
    /// Every line to the smallest coin, and no sum.
    Lines,
    /// The price of the whole job as well, to so many whole units of the currency.
    Total(u32),
}

/// Below what a price is told of; nothing stops.
#[derive(Debug, Clone, Copy, Default)]
pub struct Floor {
    /// The least margin in percent of the price; under 100.
    pub margin: Option<Decimal>,
    /// The least price before tax.
    pub price: Option<Money>,
}

impl Rates {
    /// The price at which a cost carries its overhead and its contingency and
    /// leaves the margin: cost × (100 + overhead + contingency) / (100 − margin),
    /// rounded once. Every line is raised by this one rule.
    ///
    /// # Errors
    /// Too many digits.
    pub fn selling(&self, cost: Money) -> Result<Money, MoneyError> {
        cost.scaled(
            Decimal::ONE_HUNDRED + self.overhead + self.contingency,
            Decimal::ONE_HUNDRED - self.margin,
        )
    }
}
