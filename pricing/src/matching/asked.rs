//! A line of the count with the offers for it, from any choice of which it can
//! be bought.

use super::bundle::{Bundle, Taken, cover};
use super::pipe::Pipe;
use super::{Bought, Match, says};
use crate::catalog::{Catalog, Offer};
use crate::money::{Currency, MoneyError};
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

/// A cell of a CSV file.
pub(crate) fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
