//! What a price holds that is settled later.

use crate::money::Money;
use rust_decimal::Decimal;

/// What is put on the price for lengths that are not confirmed. It is a cost like
/// others: overhead, contingency and margin go on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Allowance {
    /// What it is, as the customer reads it.
    pub text: String,
    /// How much.
    pub of: AllowanceOf,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}

/// How much an allowance is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AllowanceOf {
    /// So many percent of what materials, hired tools, other costs and labour cost;
    /// from 0 to 100.
    Cost(Decimal),
    /// A sum.
    Sum(Money),
}

/// A sum that stands for work whose price is not known, and is settled after it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Provisional {
    /// What it is for, as the customer reads it.
    pub text: String,
    /// What the customer reads: nothing is put on it.
    pub price: Money,
    /// Whether it is in the total.
    pub in_total: bool,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}
