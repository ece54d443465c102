//! From a counted line to a line of the list.

use super::{Inputs, ShopLine, Spare, words};
use crate::matching::{self, Match, Purchase};
use crate::money::{Money, MoneyError};
use crate::quote::MissingPrice;
use bom::takeoff::{Group, PartKey, PartLine, PipeLine, Use, used, used_pipe};
use rust_decimal::Decimal;

/// A line before it has its place in the list.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) line: ShopLine,
    pub(super) group: Group,
    pub(super) purchase: Option<Purchase>,
    pub(super) missing: Option<MissingPrice>,
    /// What the line would cost without its spares.
    pub(super) bare: Option<Money>,
    /// What the packs hold beyond need and spares.
    pub(super) over: Decimal,
}

impl Inputs<'_> {
    /// The pipe to cut first, in its order, then the parts in theirs; but all
    /// nipples of one size together, as they lie in the store.
    pub(super) fn entries(&self) -> Result<Vec<Entry>, MoneyError> {
        let mut entries = Vec::new();
        for line in self.takeoff.pipe.iter().filter(|line| !line.ready) {
            entries.extend(self.pipe(line)?);
        }
        let mut parts: Vec<&PartLine> = self.takeoff.lines.iter().collect();
        parts.sort_by_key(|line| {
            let nipple = matches!(line.key.part.as_str(), "close-nipple" | "nipple");
            (line.group, nipple.then_some(line.key.size.largest()))
        });
        for line in parts {
            entries.push(self.part(line)?);
        }
        Ok(entries)
    }

    fn pipe(&self, line: &PipeLine) -> Result<Vec<Entry>, MoneyError> {
        let units = self.summary.units;
        let uses = used_pipe(self.network, &line.pieces);
        let count = line.pieces.len();
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let bought = matching::pipe(line, units, self.catalog, self.currency)?;
        let entries = bought.into_iter().map(|bought| {
            let bare = amount(&bought);
            let mut entry = self.entry(&line.key, Group::Pipe, &uses, Spare::default(), bought);
            entry.line.used = format!("{count} {pieces}: {}", entry.line.used);
            entry.bare = bare;
            entry
        });
        Ok(entries.collect())
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
}

fn amount(bought: &Match) -> Option<Money> {
    match bought {
        Match::Bought(purchase) => Some(purchase.cost),
        Match::Missing(_) => None,
    }
}
