//! The contractor's own paper: both sides of every line, and the way from the
//! costs to the price. It never goes to a customer.

use super::Estimate;
use crate::cut_sheet::Heading;
use crate::money::Money;
use crate::quote::{PaymentStep, Tax};

/// A finished estimate: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct EstimateSheet {
    /// What stands over it.
    pub heading: Heading,
    /// Who the job is for.
    pub customer: String,
    /// Whether the work is the owner's own.
    pub owner: bool,
    /// The estimate.
    pub estimate: Estimate,
    /// Tax on its stated base.
    pub tax: Tax,
    /// Price and tax; none while a price or hours are missing.
    pub total: Option<Money>,
    /// What the customer pays when.
    pub payment: Vec<PaymentStep>,
    /// Work for which the rates have no hours, and the entry to add.
    pub unrated: Vec<String>,
    /// What was taken as given.
    pub assumptions: Vec<String>,
    /// Whether prices or rates come from invented samples, and which.
    pub notices: Vec<String>,
}
