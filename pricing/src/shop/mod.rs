//! What to buy, for the owner who stands in the store: the user's own prices,
//! no labour and no margin.

mod heads_up;
mod spares;
mod words;

pub use spares::{Spare, Spares};

use crate::catalog::Catalog;
use crate::matching::{self, Match, Purchase, sources};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::MissingPrice;
use bom::library::Library;
use bom::network::Network;
use bom::summary::Summary;
use bom::system::System;
use bom::takeoff::{Group, PartKey, PartLine, PipeLine, Takeoff, Use, used, used_pipe};
use jiff::civil::Date;
use rust_decimal::Decimal;

/// What the sums do not hold.
const ASSUMPTIONS: [&str; 3] = [
    "Sales tax and delivery are in the sums only if your price list has them in its prices.",
    "Spares go by common practice; the count itself holds a spare plug.",
    "What the count takes for granted: see `dripleg parts`.",
];

/// What nobody should buy without having read.
const CAUTIONS: [&str; 2] = [
    "Buy nothing rated below the tank's relief valve, and no plastic pipe that is not made for compressed air: it bursts into sharp pieces.",
    "Local codes and licensed practice come first.",
];

/// How the list is grouped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// By where things lie in the store.
    Aisle,
    /// By who sells them.
    Supplier,
}

/// A finished shopping list: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct ShoppingList {
    /// The job's title.
    pub title: String,
    /// The job file's revision.
    pub revision: String,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: String,
    /// The day of the list.
    pub date: Date,
    /// The currency of all sums.
    pub currency: Currency,
    /// How it is grouped.
    pub by: By,
    /// The groups, in the order of the walk through the store.
    pub groups: Vec<ShopGroup>,
    /// What the lines that have a price come to, spares included.
    pub priced: Money,
    /// The same; none while a price is missing.
    pub total: Option<Money>,
    /// What it would come to without spares; none while a price is missing.
    pub without_spares: Option<Money>,
    /// What the spares add; none while a price is missing.
    pub spares: Option<Money>,
    /// Parts that no catalog row prices.
    pub missing: Vec<MissingPrice>,
    /// Who sells, in the order of the list.
    pub suppliers: Vec<Supplier>,
    /// What to know before one drives.
    pub heads_up: Vec<Fact>,
    /// What else is needed and not counted.
    pub also: Vec<String>,
    /// What was taken as given.
    pub assumptions: Vec<String>,
    /// Hazards.
    pub cautions: Vec<String>,
    /// Whether prices are invented samples.
    pub notices: Vec<String>,
}

/// The lines of one aisle or supplier.
#[derive(Debug, Clone)]
pub struct ShopGroup {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<ShopLine>,
    /// Sum of the amounts that are known.
    pub subtotal: Money,
}

/// One line.
#[derive(Debug, Clone)]
pub struct ShopLine {
    /// The part.
    pub key: PartKey,
    /// What the label on the shelf says.
    pub words: String,
    /// How many to put in the cart, spares included.
    pub quantity: Decimal,
    /// Of what: `each`, `pack of 10`, `stick 21 ft`.
    pub unit: String,
    /// Where they are used, in few words.
    pub used: String,
    /// How many of them are spares.
    pub spare: Spare,
    /// Price of one; none if the catalog has no price.
    pub unit_price: Option<Money>,
    /// Quantity × unit price; none if the catalog has no price.
    pub amount: Option<Money>,
    /// What the cart comes to with this line; none if the line has no price.
    pub running: Option<Money>,
    /// Where it lies in the store; may be empty.
    pub aisle: String,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The letter of the supplier; may be empty.
    pub mark: String,
    /// The supplier's order number; may be empty.
    pub code: String,
}

/// A supplier and the letter that stands for it where there are several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Supplier {
    /// `A`, `B` …; empty for the only one.
    pub mark: String,
    /// The name in the catalog.
    pub name: String,
}

/// A fact under its heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// The heading.
    pub label: &'static str,
    /// The fact.
    pub text: String,
}

/// Everything that a shopping list stands on.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a> {
    /// The layout.
    pub network: &'a Network,
    /// The layout in a few facts.
    pub summary: &'a Summary,
    /// The count.
    pub takeoff: &'a Takeoff,
    /// The trade data.
    pub library: &'a Library,
    /// The rules for spares.
    pub spares: &'a Spares,
    /// The user's prices.
    pub catalog: &'a Catalog,
    /// Their currency.
    pub currency: Currency,
    /// How to group.
    pub by: By,
    /// The day of the list.
    pub date: Date,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: &'a str,
}

/// A line before it has its place in the list.
#[derive(Debug)]
struct Entry {
    line: ShopLine,
    group: Group,
    purchase: Option<Purchase>,
    missing: Option<MissingPrice>,
    /// What the line would cost without its spares.
    bare: Option<Money>,
    /// What the packs hold beyond need and spares.
    over: Decimal,
}

impl Inputs<'_> {
    /// The list.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn list(&self) -> Result<ShoppingList, MoneyError> {
        let entries = self.entries()?;
        let purchases: Vec<Purchase> = entries.iter().filter_map(|e| e.purchase.clone()).collect();
        let suppliers = suppliers(&entries);
        let groups = self.groups(&entries, &suppliers)?;
        let priced = Money::sum(self.currency, groups.iter().map(|group| group.subtotal))?;
        let missing: Vec<MissingPrice> = entries.iter().filter_map(|e| e.missing.clone()).collect();
        let total = missing.is_empty().then_some(priced);
        let bare = Money::sum(self.currency, entries.iter().filter_map(|entry| entry.bare))?;
        let summary = self.summary;
        let mut list = ShoppingList {
            title: summary.title.clone(),
            revision: summary.revision.clone(),
            fingerprint: self.fingerprint.to_owned(),
            date: self.date,
            currency: self.currency,
            by: self.by,
            groups,
            priced,
            total,
            without_spares: total.map(|_| bare),
            spares: total.map(|total| total.minus(bare)).transpose()?,
            missing,
            suppliers,
            heads_up: Vec::new(),
            also: self
                .library
                .reminders()
                .iter()
                .filter_map(|reminder| reminder.said(summary, self.takeoff))
                .collect(),
            assumptions: ASSUMPTIONS.map(str::to_owned).to_vec(),
            cautions: CAUTIONS.map(str::to_owned).to_vec(),
            notices: sources::invented(&purchases).into_iter().collect(),
        };
        list.heads_up = heads_up::facts(self, &entries, &purchases, &list);
        Ok(list)
    }

    fn system(&self) -> &System {
        &self.library.systems()[self.network.system]
    }

    /// The pipe first, in its order, then the parts in theirs.
    fn entries(&self) -> Result<Vec<Entry>, MoneyError> {
        let pipe = self.takeoff.pipe.iter().map(|line| self.pipe(line));
        let parts = self.takeoff.lines.iter().map(|line| self.part(line));
        pipe.chain(parts).collect()
    }

    fn pipe(&self, line: &PipeLine) -> Result<Entry, MoneyError> {
        let units = self.summary.units;
        let bought = matching::pipe(line, self.system(), units, self.catalog, self.currency)?;
        let bare = amount(&bought);
        let uses = used_pipe(self.network, &line.pieces);
        let mut entry = self.entry(&line.key, Group::Pipe, &uses, Spare::default(), bought);
        let count = line.pieces.len();
        let pieces = if count == 1 { "piece" } else { "pieces" };
        entry.line.used = format!("{count} {pieces}: {}", entry.line.used);
        entry.bare = bare;
        Ok(entry)
    }

    fn part(&self, line: &PartLine) -> Result<Entry, MoneyError> {
        let spare = self.spares.of(&line.key.part, line.quantity);
        let with_spare = PartLine {
            quantity: line.quantity.saturating_add(spare.count),
            ..line.clone()
        };
        let bare = amount(&matching::part(line, self.catalog, self.currency)?);
        let bought = matching::part(&with_spare, self.catalog, self.currency)?;
        let uses = used(self.network, &line.because);
        let mut entry = self.entry(&line.key, line.group, &uses, spare, bought);
        entry.bare = bare;
        if let Some(purchase) = entry.purchase.as_ref().filter(|p| p.pack > 1) {
            let held = purchase.quantity.checked_mul(Decimal::from(purchase.pack));
            let needed = Decimal::from(with_spare.quantity);
            entry.over = held.unwrap_or(needed) - needed;
        }
        Ok(entry)
    }

    fn entry(
        &self,
        key: &PartKey,
        group: Group,
        uses: &[Use],
        spare: Spare,
        bought: Match,
    ) -> Entry {
        let outlets: Vec<&str> = self
            .summary
            .outlets
            .iter()
            .map(|o| o.name.as_str())
            .collect();
        let (purchase, missing) = match bought {
            Match::Bought(purchase) => (Some(purchase), None),
            Match::Missing(missing) => (None, Some(missing)),
        };
        let known = |text: fn(&Purchase) -> &String| {
            purchase
                .as_ref()
                .map_or_else(String::new, |p| text(p).clone())
        };
        let (quantity, unit) = match (&purchase, &missing) {
            (Some(purchase), _) => (purchase.quantity, purchase.unit.clone()),
            (None, Some(missing)) => (missing.quantity, missing.unit.clone()),
            (None, None) => (Decimal::ZERO, String::new()),
        };
        let line = ShopLine {
            key: key.clone(),
            words: self.library.shelf_words(key),
            quantity,
            unit,
            used: words::used(uses, &outlets),
            spare,
            unit_price: purchase.as_ref().map(|purchase| purchase.unit_price),
            amount: purchase.as_ref().map(|purchase| purchase.cost),
            running: None,
            aisle: self.aisle(key, purchase.as_ref()),
            supplier: known(|purchase| &purchase.supplier),
            mark: String::new(),
            code: known(|purchase| &purchase.code),
        };
        Entry {
            line,
            group,
            purchase,
            missing,
            bare: None,
            over: Decimal::ZERO,
        }
    }

    /// The aisle of the offer that is bought, or of any if none is.
    fn aisle(&self, key: &PartKey, purchase: Option<&Purchase>) -> String {
        let offers = self.catalog.offers(key).iter().map(|offer| &offer.aisle);
        let bought = purchase.map(|purchase| &purchase.aisle);
        let mut aisles = bought.into_iter().chain(offers);
        aisles
            .find(|aisle| !aisle.is_empty())
            .cloned()
            .unwrap_or_default()
    }

    /// The lines under their headings, in the order in which those come up.
    fn groups(
        &self,
        entries: &[Entry],
        suppliers: &[Supplier],
    ) -> Result<Vec<ShopGroup>, MoneyError> {
        let mut groups: Vec<ShopGroup> = Vec::new();
        for entry in entries {
            let mut line = entry.line.clone();
            if let Some(supplier) = suppliers.iter().find(|one| one.name == line.supplier) {
                line.mark.clone_from(&supplier.mark);
            }
            let title = self.heading(entry);
            match groups
                .iter_mut()
                .find(|group| group.title.to_lowercase() == title.to_lowercase())
            {
                Some(group) => group.lines.push(line),
                None => groups.push(ShopGroup {
                    title,
                    lines: vec![line],
                    subtotal: Money::zero(self.currency),
                }),
            }
        }
        let mut running = Money::zero(self.currency);
        for group in &mut groups {
            for line in &mut group.lines {
                if let Some(amount) = line.amount {
                    group.subtotal = group.subtotal.plus(amount)?;
                    running = running.plus(amount)?;
                    line.running = Some(running);
                }
            }
        }
        Ok(groups)
    }

    fn heading(&self, entry: &Entry) -> String {
        let line = &entry.line;
        match self.by {
            By::Aisle if line.aisle.is_empty() => entry.group.title().to_owned(),
            By::Aisle => capitalised(&line.aisle),
            By::Supplier if entry.purchase.is_none() => "No price yet".to_owned(),
            By::Supplier if line.supplier.is_empty() => "Supplier not named".to_owned(),
            By::Supplier => line.supplier.clone(),
        }
    }
}

fn amount(bought: &Match) -> Option<Money> {
    match bought {
        Match::Bought(purchase) => Some(purchase.cost),
        Match::Missing(_) => None,
    }
}

/// The suppliers with their letters, in the order of the list; numbers where
/// the letters end, nothing for the only one.
fn suppliers(entries: &[Entry]) -> Vec<Supplier> {
    let mut suppliers: Vec<Supplier> = Vec::new();
    for entry in entries {
        let name = &entry.line.supplier;
        if !name.is_empty() && suppliers.iter().all(|known| known.name != *name) {
            let at = suppliers.len();
            let mark = ('A'..='Z')
                .nth(at)
                .map_or_else(|| (at + 1).to_string(), String::from);
            suppliers.push(Supplier {
                mark,
                name: name.clone(),
            });
        }
    }
    if let [only] = suppliers.as_mut_slice() {
        only.mark.clear();
    }
    suppliers
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + letters.as_str()
}

#[cfg(test)]
mod tests;
