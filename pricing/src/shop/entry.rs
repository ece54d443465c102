//! From a counted line to a line of the list.

use super::{Inputs, ShopLine, Spare, words};
use crate::buying::{self, Buying, Order};
use crate::matching::{Match, Purchase};
use crate::money::MoneyError;
use crate::quote::MissingPrice;
use bom::quantity::PartSize;
use bom::takeoff::{Group, PartKey, PartLine, PipeLine, Takeoff, Use, used, used_pipe};
use rust_decimal::Decimal;

/// A line before it has its place in the list.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) line: ShopLine,
    /// None for what a supplier charges.
    pub(super) group: Option<Group>,
    pub(super) purchase: Option<Purchase>,
    pub(super) missing: Option<MissingPrice>,
}

impl Inputs<'_> {
    /// The purchase with spares, or without.
    pub(super) fn buying(&self, spares: bool) -> Result<Buying, MoneyError> {
        let mut takeoff: Takeoff = self.takeoff.clone();
        if spares {
            for line in &mut takeoff.lines {
                line.quantity = line.quantity.saturating_add(self.spare(line).count);
            }
        }
        let units = self.summary.units;
        buying::buy(&takeoff, units, self.catalog, self.terms, self.currency)
    }

    fn spare(&self, line: &PartLine) -> Spare {
        self.spares.of(&line.key.part, line.quantity)
    }

    /// The pipe to cut first, in its order, then the parts in theirs; but all
    /// nipples of one size together, as they lie in the store. What suppliers
    /// charge comes last.
    pub(super) fn entries(&self, buying: &Buying) -> Result<Vec<Entry>, MoneyError> {
        let mut entries = Vec::new();
        let pipe = self.takeoff.pipe.iter().filter(|line| !line.ready);
        let mut matched = buying.lines.iter();
        for (line, matched) in pipe.zip(matched.by_ref()) {
            entries.extend(self.pipe(line, matched));
        }
        let mut parts: Vec<(&PartLine, &Match)> = self.takeoff.lines.iter().zip(matched).collect();
        parts.sort_by_key(|(line, _)| {
            let nipple = matches!(line.key.part.as_str(), "close-nipple" | "nipple");
            (line.group, nipple.then_some(line.key.size.largest()))
        });
        for (line, matched) in parts {
            let uses = used(self.network, &line.because);
            let spare = self.spare(line);
            entries.extend(self.of_line(&line.key, line.group, &uses, spare, matched));
        }
        for order in &buying.orders {
            entries.extend(charge(order)?);
        }
        Ok(entries)
    }

    fn pipe(&self, line: &PipeLine, matched: &Match) -> Vec<Entry> {
        let uses = used_pipe(self.network, &line.pieces);
        let count = line.pieces.len();
        let pieces = if count == 1 { "piece" } else { "pieces" };
        let mut entries = self.of_line(&line.key, Group::Pipe, &uses, Spare::NONE, matched);
        for entry in &mut entries {
            entry.line.used = format!("{count} {pieces}: {}", entry.line.used);
        }
        entries
    }

    /// One for each purchase. The last, of the smallest packs, has the spares
    /// and what is left over.
    fn of_line(
        &self,
        key: &PartKey,
        group: Group,
        uses: &[Use],
        spare: Spare,
        matched: &Match,
    ) -> Vec<Entry> {
        match matched {
            Match::Bought(bought) => {
                let purchases = bought.purchases.iter();
                let mut entries: Vec<Entry> = purchases
                    .map(|purchase| self.bought(key, group, uses, purchase))
                    .collect();
                if let Some(last) = entries.last_mut() {
                    last.line.spare = spare;
                    last.line.surplus = bought.surplus;
                }
                entries
            }
            Match::Missing(hole) => {
                let line = ShopLine {
                    quantity: hole.quantity,
                    unit: hole.unit.clone(),
                    spare,
                    ..self.line(key, uses, None)
                };
                vec![Entry {
                    line,
                    group: Some(group),
                    purchase: None,
                    missing: Some(hole.clone()),
                }]
            }
        }
    }

    fn bought(&self, key: &PartKey, group: Group, uses: &[Use], purchase: &Purchase) -> Entry {
        Entry {
            line: ShopLine {
                quantity: purchase.quantity,
                unit: purchase.unit.clone(),
                unit_price: Some(purchase.unit_price),
                amount: Some(purchase.cost),
                supplier: purchase.supplier.clone(),
                code: purchase.code.clone(),
                ..self.line(key, uses, Some(purchase))
            },
            group: Some(group),
            purchase: Some(purchase.clone()),
            missing: None,
        }
    }

    /// What every line has.
    fn line(&self, key: &PartKey, uses: &[Use], purchase: Option<&Purchase>) -> ShopLine {
        let outlets = self.summary.outlets.iter();
        let outlets: Vec<&str> = outlets.map(|outlet| outlet.name.as_str()).collect();
        ShopLine {
            words: self.library.shelf_words(key),
            used: words::used(uses, &outlets),
            aisle: self.aisle(key, purchase),
            ..ShopLine::nothing(key.clone())
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

/// What a supplier charges beyond its goods.
fn charge(order: &Order) -> Result<Option<Entry>, MoneyError> {
    let charged = order.total.minus(order.goods)?;
    let key = PartKey {
        part: "delivery".to_owned(),
        system: String::new(),
        size: PartSize::NONE,
    };
    let made_up = match order.made_up.amount().is_zero() {
        true => String::new(),
        false => format!("{} of it to its least order", order.made_up.show()),
    };
    let line = ShopLine {
        words: "delivery".to_owned(),
        quantity: Decimal::ONE,
        unit: "order".to_owned(),
        used: made_up,
        unit_price: Some(charged),
        amount: Some(charged),
        supplier: order.supplier.clone(),
        ..ShopLine::nothing(key)
    };
    Ok((!charged.amount().is_zero()).then_some(Entry {
        line,
        group: None,
        purchase: None,
        missing: None,
    }))
}
