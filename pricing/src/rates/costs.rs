//! What a job costs beside materials, hired tools and work: travel, a lift,
//! disposal, a permit, freight.

use crate::money::Money;
use bom::quantity::Length;
use rust_decimal::Decimal;

/// One such cost.
#[derive(Debug, Clone)]
pub struct Cost {
    /// What it is, as the customer reads it.
    pub text: String,
    /// How it is reckoned.
    pub basis: Basis,
    /// Only where the job has pipe above this height; always if none.
    pub above: Option<Length>,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}

/// How a cost is reckoned.
#[derive(Debug, Clone)]
pub enum Basis {
    /// A price for each of something.
    Each {
        /// Of one.
        price: Money,
        /// How many each time; more than none.
        quantity: Decimal,
        /// Of what: `mile`, `day`.
        unit: String,
        /// How many times.
        per: Per,
    },
    /// So many percent of what the materials cost, from 0 to 100.
    OfMaterials(Decimal),
}

/// How many times a cost arises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Per {
    /// Once.
    Job,
    /// On each day that is begun on site.
    Day,
    /// On each such day for each of the crew.
    PersonDay,
}

impl Per {
    /// The word in the rates file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Day => "day",
            Self::PersonDay => "person-day",
        }
    }
}
