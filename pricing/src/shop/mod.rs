//! What to buy, for the owner who stands in the store: the user's own prices,
//! no labour and no margin.

mod entry;
mod heads_up;
mod list;
mod spares;
mod threading;
mod words;

pub use list::{By, Fact, ShopGroup, ShopLine, ShoppingList, Supplier};
pub use spares::{Spare, Spares};

use crate::buying::Terms;
use crate::catalog::Catalog;
use crate::matching::{Purchase, sources};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::MissingPrice;
use bom::library::Library;
use bom::network::Network;
use bom::summary::Summary;
use bom::takeoff::{Group, Takeoff};
use entry::Entry;
use jiff::civil::Date;

/// What the sums do not hold.
const ASSUMPTIONS: [&str; 2] = [
    "Spares by common practice; one plug of the count is a spare.",
    "The count's own: see `dripleg parts`.",
];

/// Without a supplier's terms.
const COLLECTED: &str = "You collect; sales tax only as far as your prices hold it.";

/// With them.
const DELIVERED: &str =
    "Delivery as your rates have it; sales tax only as far as your prices hold it.";

/// What nobody should buy without having read.
const CAUTIONS: [&str; 2] = [
    "Nothing rated below the tank's relief valve; no plastic pipe not made for compressed air: it bursts into sharp pieces.",
    "Local codes and licensed practice come first.",
];

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
    /// What suppliers charge beyond them.
    pub terms: &'a Terms,
    /// Their currency.
    pub currency: Currency,
    /// How to group.
    pub by: By,
    /// The day of the list.
    pub date: Date,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: &'a str,
}

impl Inputs<'_> {
    /// The list.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn list(&self) -> Result<ShoppingList, MoneyError> {
        let buying = self.buying(true)?;
        let entries = self.entries(&buying)?;
        let purchases: Vec<Purchase> = entries.iter().filter_map(|e| e.purchase.clone()).collect();
        let suppliers = suppliers(&entries);
        let groups = self.groups(&entries, &suppliers)?;
        let priced = Money::sum(self.currency, groups.iter().map(|group| group.subtotal))?;
        let missing: Vec<MissingPrice> = entries.iter().filter_map(|e| e.missing.clone()).collect();
        let total = missing.is_empty().then_some(priced);
        let bare = self.buying(false)?.total;
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
            orders: buying.orders.clone(),
            alone: buying.alone.clone(),
            heads_up: Vec::new(),
            also: self
                .library
                .reminders()
                .iter()
                .filter_map(|reminder| reminder.said(summary, self.takeoff))
                .collect(),
            assumptions: std::iter::once(if self.terms.suppliers.is_empty() {
                COLLECTED
            } else {
                DELIVERED
            })
            .chain(ASSUMPTIONS)
            .map(str::to_owned)
            .collect(),
            cautions: CAUTIONS
                .into_iter()
                .map(str::to_owned)
                .chain(self.takeoff.cautions.iter().cloned())
                .collect(),
            notices: sources::invented(&purchases).into_iter().collect(),
        };
        list.heads_up = heads_up::facts(self, &entries, &buying, &list);
        list.heads_up.extend(self.against_threading()?);
        Ok(list)
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
            By::Aisle if line.aisle.is_empty() => {
                entry.group.map_or("Delivery", Group::title).to_owned()
            }
            By::Aisle => capitalised(&line.aisle),
            By::Supplier if entry.missing.is_some() => "No price yet".to_owned(),
            By::Supplier if line.supplier.is_empty() => "Supplier not named".to_owned(),
            By::Supplier => line.supplier.clone(),
        }
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
