//! What suppliers ask beyond their prices.

use crate::catalog::Catalog;
use crate::money::Money;
use bom::finding::{Finding, did_you_mean};
use bom::source::Span;
use rust_decimal::Decimal;
use std::collections::BTreeSet;

/// Suppliers that may have terms: each is a bit of a set.
pub const MOST_SUPPLIERS: usize = 60;

/// From whom one buys, and on what terms.
#[derive(Debug, Clone, Default)]
pub struct Terms {
    /// The terms of each supplier that has some.
    pub suppliers: Vec<SupplierTerms>,
    /// The only suppliers to buy from; everyone if empty.
    pub buy_from: Vec<Named>,
}

/// A supplier as a file names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The name, as the price lists have it.
    pub name: String,
    /// Where it stands.
    pub span: Span,
}

/// The terms of one supplier.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SupplierTerms {
    /// Who it is.
    pub supplier: Named,
    /// What one delivery costs; may be nought.
    pub delivery: Money,
    /// Goods of so much are delivered free.
    pub free_from: Option<Money>,
    /// An order of less is made up to this sum.
    pub least_order: Option<Money>,
    /// Preferred where the whole purchase costs no more than so many percent more.
    pub preferred: Option<Decimal>,
}

impl Terms {
    /// The terms of a supplier, if it has some.
    pub(super) fn of(&self, name: &str) -> Option<&SupplierTerms> {
        self.suppliers.iter().find(|one| one.supplier.name == name)
    }

    /// A warning for each supplier that is named here and sells nothing.
    #[must_use]
    pub fn strangers(&self, catalog: &Catalog) -> Vec<Finding> {
        let known: BTreeSet<&str> = catalog.suppliers().collect();
        let named = self.suppliers.iter().map(|one| &one.supplier);
        let named = named.chain(&self.buy_from);
        let strangers = named.filter(|named| !known.contains(named.name.as_str()));
        strangers
            .map(|named| {
                let help = did_you_mean(&named.name, known.iter().copied()).map_or_else(
                    || "write the name as the price list has it".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                let message = format!("no price list has the supplier `{}`", named.name);
                Finding::warning("rates-supplier", named.span, message, help)
            })
            .collect()
    }
}

impl SupplierTerms {
    /// In the minor unit, for the search.
    pub(super) fn charge(&self) -> Charge {
        let minor = |sum: Option<Money>| sum.map_or(0, |sum| sum.minor());
        Charge {
            delivery: self.delivery.minor(),
            free_from: self.free_from.map(|sum| sum.minor()),
            least: minor(self.least_order),
        }
    }
}

/// What a supplier charges, in the minor unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Charge {
    pub(super) delivery: i128,
    pub(super) free_from: Option<i128>,
    pub(super) least: i128,
}

impl Charge {
    /// The delivery of an order of so much.
    pub(super) fn delivery_of(&self, goods: i128) -> i128 {
        match self.free_from {
            Some(sum) if goods >= sum => 0,
            Some(_) | None => self.delivery,
        }
    }

    /// What is lacking to the least order.
    pub(super) fn made_up(&self, goods: i128) -> i128 {
        (self.least - goods).max(0)
    }

    /// Both: what an order costs beyond its goods. It never grows with them.
    pub(super) fn beyond(&self, goods: i128) -> i128 {
        self.delivery_of(goods) + self.made_up(goods)
    }

    /// Whether it asks for anything at all.
    pub(super) fn is_some(&self) -> bool {
        self.delivery > 0 || self.least > 0
    }

    /// Whether it matters how much is ordered.
    pub(super) fn has_step(&self) -> bool {
        self.least > 0 || (self.delivery > 0 && self.free_from.is_some())
    }

    /// From what sum of goods nothing more is charged than at any higher one.
    pub(super) fn last_step(&self) -> i128 {
        self.least.max(self.free_from.unwrap_or(0))
    }
}
