//! A line of the count with the offers for it, from any choice of which it can
//! be bought.

use super::packs::{self, Row};
use super::pipe::Pipe;
use super::{Bought, Match, Purchase, says};
use crate::catalog::{Catalog, Offer};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::MissingPrice;
use bom::quantity::Units;
use bom::takeoff::{PartKey, PartLine, PipeLine};
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// A line that is to be bought.
#[derive(Debug)]
pub(crate) struct Asked<'a> {
    key: &'a PartKey,
    words: &'a str,
    quantity: Decimal,
    unit: &'a str,
    row_unit: String,
    wanted: Wanted<'a>,
    currency: Currency,
    /// Those with a price, in the order of what they say.
    offers: Vec<&'a Offer>,
    /// Those without.
    unpriced: Vec<&'a Offer>,
    catalog: &'a Catalog,
}

#[derive(Debug)]
enum Wanted<'a> {
    Pieces(u64),
    Pipe(Box<Pipe<'a>>),
}

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
    surplus: Decimal,
    surplus_cost: Money,
}

impl<'a> Asked<'a> {
    pub(crate) fn part(line: &'a PartLine, catalog: &'a Catalog, currency: Currency) -> Self {
        Self::new(
            (&line.key, &line.words),
            (Decimal::from(line.quantity), &line.unit),
            line.unit.clone(),
            Wanted::Pieces(line.quantity),
            (catalog, currency),
        )
    }

    pub(crate) fn pipe(
        line: &'a PipeLine,
        units: Units,
        catalog: &'a Catalog,
        currency: Currency,
    ) -> Self {
        let pipe = Pipe::new(line);
        let (quantity, unit) = match units {
            Units::Feet => (Decimal::from(pipe.feet()), "ft"),
            Units::Metric => (pipe.metres(), "m"),
        };
        let row_unit = pipe.row_unit();
        Self::new(
            (&line.key, &line.words),
            (quantity, unit),
            row_unit,
            Wanted::Pipe(Box::new(pipe)),
            (catalog, currency),
        )
    }

    fn new(
        (key, words): (&'a PartKey, &'a str),
        (quantity, unit): (Decimal, &'a str),
        row_unit: String,
        wanted: Wanted<'a>,
        (catalog, currency): (&'a Catalog, Currency),
    ) -> Self {
        let (mut offers, unpriced): (Vec<&Offer>, Vec<&Offer>) = catalog
            .offers(key)
            .iter()
            .partition(|offer| offer.price.is_some());
        offers.sort_by(|a, b| says(a).cmp(&says(b)));
        Self {
            key,
            words,
            quantity,
            unit,
            row_unit,
            wanted,
            currency,
            offers,
            unpriced,
            catalog,
        }
    }

    /// The offers that have a price.
    pub(crate) fn offers(&self) -> &[&'a Offer] {
        &self.offers
    }

    pub(crate) const fn key(&self) -> &'a PartKey {
        self.key
    }

    pub(crate) fn is_pipe(&self) -> bool {
        matches!(self.wanted, Wanted::Pipe(_))
    }

    /// The cheapest purchase by these offers; none if they do not fit.
    pub(crate) fn bundle(&self, offers: &[&'a Offer]) -> Result<Option<Bundle<'a>>, MoneyError> {
        match &self.wanted {
            Wanted::Pieces(needed) => cover(*needed, offers, self.currency),
            Wanted::Pipe(pipe) => pipe.bundle(offers, self.currency),
        }
    }

    /// The cheapest purchase by all offers.
    pub(crate) fn cheapest(&self) -> Result<Match, MoneyError> {
        Ok(self
            .bundle(&self.offers)?
            .map_or_else(|| self.missing(), |bundle| self.bought(&bundle)))
    }

    /// As it stands on paper.
    pub(crate) fn bought(&self, bundle: &Bundle<'_>) -> Match {
        let mut taken: Vec<&Taken<'_>> = bundle.taken.iter().collect();
        taken.sort_by_key(|taken| Reverse((taken.offer.unit, taken.offer.pack)));
        Match::Bought(Bought {
            purchases: taken
                .into_iter()
                .map(|taken| taken.purchase(self.unit))
                .collect(),
            cost: bundle.cost,
            surplus: bundle.surplus,
            surplus_cost: bundle.surplus_cost,
        })
    }

    /// Why it cannot be bought, and the row to add.
    pub(crate) fn missing(&self) -> Match {
        let unpriced = self.unpriced.iter();
        let mut reasons: Vec<String> = unpriced
            .map(|offer| format!("{} has no price yet", offer.place))
            .collect();
        if let Wanted::Pipe(pipe) = &self.wanted {
            reasons.extend(self.offers.iter().filter_map(|offer| pipe.misfit(offer)));
        }
        let reason = if reasons.is_empty() {
            self.without_offer()
        } else {
            reasons.join("; ")
        };
        let cells = [
            &self.key.part,
            &self.key.system,
            &self.key.size.to_string(),
            self.words,
            &self.row_unit,
            "1",
            "",
            self.currency.code(),
        ];
        let row: Vec<String> = cells.into_iter().map(quoted).collect();
        Match::Missing(MissingPrice {
            key: self.key.clone(),
            words: self.words.to_owned(),
            quantity: self.quantity,
            unit: self.unit.to_owned(),
            reason,
            row: row.join(",") + ",,,,",
        })
    }
}

impl Asked<'_> {
    /// What the catalog says of a part that it has no offer for.
    fn without_offer(&self) -> String {
        let sellers: Vec<&str> = self.catalog.elsewhere(self.key).collect();
        if !sellers.is_empty() {
            let sellers = sellers.join(", ");
            return format!("it is sold by {sellers}, where nothing is to be bought");
        }
        let systems: Vec<&str> = self.catalog.systems_of(self.key).collect();
        if systems.is_empty() {
            "no row of the catalog has this part in this size".to_owned()
        } else {
            let systems = systems.join(", ");
            format!("the catalog has this part and size only for {systems}")
        }
    }
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

    fn purchase(&self, each: &str) -> Purchase {
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

/// A cell of a CSV file.
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
