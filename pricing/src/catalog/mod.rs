//! The catalog: rows of parts with their prices, as the user keeps them in a
//! spreadsheet. Several rows for one part are offers to choose from.

mod age;
pub mod check;
mod columns;
mod list;
mod mapping;
mod parts;
mod price_for;
mod row;
mod sheet;
mod twins;
mod unit;
pub mod workbook;

pub use age::OLD_AFTER;
pub(crate) use age::stale;
pub(crate) use list::line_of;
pub use mapping::Mapping;
pub use sheet::Sheet;
pub use unit::Unit;

use crate::money::{Currency, Money};
use bom::finding::Finding;
use bom::library::Part;
use bom::source::Source;
use bom::takeoff::PartKey;
use jiff::civil::Date;
use parts::Parts;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::sync::Arc;

/// All offers that could be read.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    offers: BTreeMap<PartKey, Vec<Offer>>,
    lists: Vec<ListFacts>,
    /// Who sells a part and is not bought from.
    elsewhere: BTreeMap<PartKey, BTreeSet<String>>,
}

/// What was in one list.
#[derive(Debug, Clone, Default)]
pub struct ListFacts {
    /// Its rows, headings and broken ones included.
    pub rows: usize,
    /// The rows of a supplier's sheet that name no part of ours.
    pub unknown: Vec<Unknown>,
    /// The lines, from 1, of prices that had to be rounded to the minor unit
    /// to be those of one pack.
    pub rounded: Vec<usize>,
}

/// A row that names no part of ours.
#[derive(Debug, Clone)]
pub struct Unknown {
    /// Its line, from 1.
    pub line: usize,
    /// What it names.
    pub written: String,
}

/// One row.
#[derive(Debug, Clone)]
pub struct Offer {
    /// The part, its system and its size.
    pub key: PartKey,
    /// The supplier's words; may be empty.
    pub description: String,
    /// What is sold.
    pub unit: Unit,
    /// How many units the price buys.
    pub pack: u64,
    /// The price of one pack; none if the row has no price yet.
    pub price: Option<Money>,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The supplier's order number; may be empty.
    pub code: String,
    /// Where it lies in the shop; may be empty.
    pub aisle: String,
    /// The day of the price.
    pub priced_on: Option<Date>,
    /// How many units must be bought of this row for its price to hold.
    pub from_quantity: u64,
    /// Where the row stands.
    pub place: Place,
}

/// A row of a file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The number of the file among the catalogs.
    pub source: usize,
    /// The line, from 1.
    pub line: usize,
    /// The file's name in messages.
    pub file: Arc<str>,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {} of {}", self.line, self.file)
    }
}

impl Catalog {
    /// Reads any number of lists in our own form into one. `parts` are the
    /// parts that a row may name and `currency` is the currency of the rates.
    /// A finding comes with the number of the source that it points into; a
    /// row with one is left out.
    #[must_use]
    pub fn read(
        sources: &[Source],
        parts: &[Part],
        currency: Currency,
    ) -> (Self, Vec<(usize, Finding)>) {
        let sheets: Vec<Sheet> = sources.iter().cloned().map(Sheet::from).collect();
        Self::read_sheets(&sheets, parts, currency)
    }

    /// The same for lists of any form, each read as its mapping says.
    #[must_use]
    pub fn read_sheets(
        sheets: &[Sheet],
        parts: &[Part],
        currency: Currency,
    ) -> (Self, Vec<(usize, Finding)>) {
        let parts = Parts::new(parts);
        let mut catalog = Self::default();
        let mut findings = Vec::new();
        for (number, sheet) in sheets.iter().enumerate() {
            let read = list::read(number, sheet, &parts, currency);
            findings.extend(read.findings.into_iter().map(|finding| (number, finding)));
            catalog.lists.push(read.facts);
            for offer in read.offers {
                catalog
                    .offers
                    .entry(offer.key.clone())
                    .or_default()
                    .push(offer);
            }
        }
        findings.extend(twins::findings(&catalog.offers, sheets));
        (catalog, findings)
    }

    /// The first currency that a list or its mapping names.
    #[must_use]
    pub fn currency(sheets: &[Sheet]) -> Option<Currency> {
        sheets.iter().find_map(list::currency)
    }

    /// What was in each of the lists, in their order.
    #[must_use]
    pub fn lists(&self) -> &[ListFacts] {
        &self.lists
    }

    /// Every offer, by part.
    pub fn all(&self) -> impl Iterator<Item = &Offer> {
        self.offers.values().flatten()
    }

    /// Every part of which some offer has a price.
    pub fn priced(&self) -> impl Iterator<Item = &PartKey> {
        let priced = |offers: &[Offer]| offers.iter().any(|offer| offer.price.is_some());
        self.offers
            .iter()
            .filter(move |(_, offers)| priced(offers))
            .map(|(key, _)| key)
    }

    /// The offers for a part, in the order of the files.
    #[must_use]
    pub fn offers(&self, key: &PartKey) -> &[Offer] {
        self.offers.get(key).map_or(&[], Vec::as_slice)
    }

    /// The offers of these suppliers only.
    #[must_use]
    pub fn only_from(mut self, names: &[&str]) -> Self {
        let bought_from = |offer: &Offer| names.contains(&offer.supplier.as_str());
        for (key, offers) in &self.offers {
            let others = offers.iter().filter(|offer| !bought_from(offer));
            let others: BTreeSet<String> = others.map(|offer| offer.supplier.clone()).collect();
            self.elsewhere.insert(key.clone(), others);
        }
        self.offers.retain(|_, offers| {
            offers.retain(bought_from);
            !offers.is_empty()
        });
        self
    }

    /// Who sells a part and is not bought from, by name.
    pub(crate) fn elsewhere(&self, key: &PartKey) -> impl Iterator<Item = &str> {
        let names = self.elsewhere.get(key).into_iter().flatten();
        names.map(String::as_str).filter(|name| !name.is_empty())
    }

    /// Everyone who sells something, each once for each row.
    pub fn suppliers(&self) -> impl Iterator<Item = &str> {
        let offers = self.offers.values().flatten();
        offers.map(|offer| offer.supplier.as_str())
    }

    /// The systems under which a part of this kind and size stands.
    pub fn systems_of<'a>(&'a self, key: &'a PartKey) -> impl Iterator<Item = &'a str> {
        self.offers
            .keys()
            .filter(|known| known.part == key.part && known.size == key.size)
            .map(|known| known.system.as_str())
    }
}

#[cfg(test)]
mod tests;
