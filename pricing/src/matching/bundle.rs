//! Packs that together cover a line.

use super::Purchase;
use super::packs::{self, Row};
use crate::catalog::Offer;
use crate::money::{Currency, Money, MoneyError};
use rust_decimal::Decimal;

/// So many packs of an offer.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Taken<'a> {
    pub(crate) offer: &'a Offer,
    price: Money,
    packs: Decimal,
    pub(crate) cost: Money,
}

/// What covers a line.
#[derive(Debug, Clone)]
pub(crate) struct Bundle<'a> {
    pub(crate) taken: Vec<Taken<'a>>,
    pub(crate) cost: Money,
    pub(super) surplus: Decimal,
    pub(super) surplus_cost: Money,
}

impl<'a> Taken<'a> {
    /// None for an offer without a price.
    pub(super) fn new(offer: &'a Offer, packs: Decimal) -> Option<Result<Self, MoneyError>> {
        let price = offer.price?;
        Some(price.times(packs).map(|cost| Self {
            offer,
            price,
            packs,
            cost,
        }))
    }

    /// As it stands on paper.
    pub(super) fn purchase(&self, each: &str) -> Purchase {
        let offer = self.offer;
        Purchase {
            quantity: self.packs,
            unit: offer.unit.words(offer.pack, each),
            sold: offer.unit,
            pack: offer.pack,
            unit_price: self.price,
            cost: self.cost,
            supplier: offer.supplier.clone(),
            code: offer.code.clone(),
            aisle: offer.aisle.clone(),
            priced_on: offer.priced_on,
        }
    }
}

impl<'a> Bundle<'a> {
    /// What is taken for so many units of one kind.
    pub(super) fn new(
        taken: Vec<Taken<'a>>,
        needed: Decimal,
        currency: Currency,
    ) -> Result<Self, MoneyError> {
        let cost = Money::sum(currency, taken.iter().map(|taken| taken.cost))?;
        let mut units = Decimal::ZERO;
        for taken in &taken {
            let packs = taken.packs.checked_mul(Decimal::from(taken.offer.pack));
            let sum = packs.and_then(|packs| units.checked_add(packs));
            units = sum.ok_or(MoneyError::TooLarge)?;
        }
        let surplus = (units - needed).max(Decimal::ZERO).normalize();
        let surplus_cost = if surplus.is_zero() {
            Money::zero(currency)
        } else {
            cost.scaled(surplus, units)?
        };
        Ok(Self {
            taken,
            cost,
            surplus,
            surplus_cost,
        })
    }

    /// Two for one line: sticks of two lengths.
    pub(super) fn and(mut self, other: Self) -> Result<Self, MoneyError> {
        self.taken.extend(other.taken);
        self.cost = self.cost.plus(other.cost)?;
        self.surplus = self.surplus.saturating_add(other.surplus);
        self.surplus_cost = self.surplus_cost.plus(other.surplus_cost)?;
        Ok(self)
    }
}

/// So many units by offers of one kind, packs mixed; none without an offer.
pub(super) fn cover<'a>(
    needed: u64,
    offers: &[&'a Offer],
    currency: Currency,
) -> Result<Option<Bundle<'a>>, MoneyError> {
    let mut rows = Vec::new();
    let mut priced = Vec::new();
    for offer in offers {
        if let Some(price) = offer.price {
            let price = price.minor_units().ok_or(MoneyError::TooLarge)?;
            rows.push(Row::new(offer.pack, price, offer.from_quantity));
            priced.push(*offer);
        }
    }
    let Some(packs) = packs::cover(needed, &rows) else {
        return Ok(None);
    };
    let taken = priced.iter().zip(packs).filter(|(_, packs)| *packs > 0);
    let taken = taken
        .filter_map(|(offer, packs)| Taken::new(offer, Decimal::from(packs)))
        .collect::<Result<Vec<_>, _>>()?;
    Bundle::new(taken, Decimal::from(needed), currency).map(Some)
}
