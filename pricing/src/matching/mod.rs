//! Which offer is bought for each counted part: the one with the lowest cost
//! for the quantity needed, whole packs bought. A part that no offer fits is
//! reported with its reason and the catalog row to add.

pub(crate) mod sources;
pub(crate) mod sticks;

use crate::catalog::{Catalog, Offer, Unit};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::MissingPrice;
use bom::cutting::{self, Stock};
use bom::quantity::{Length, Units};
use bom::takeoff::{PartKey, PartLine, PipeLine, Takeoff};
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// What became of a counted part.
#[derive(Debug, Clone)]
pub enum Match {
    /// An offer is bought.
    Bought(Purchase),
    /// No offer fits.
    Missing(MissingPrice),
}

/// What is bought, and from whom.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Purchase {
    /// How many packs; by length also tenths of a metre.
    pub quantity: Decimal,
    /// What a pack is: `each`, `pack of 10`, `stick 21 ft`.
    pub unit: String,
    /// What is sold.
    pub sold: Unit,
    /// How many of it are in a pack.
    pub pack: u64,
    /// Price of one pack.
    pub unit_price: Money,
    /// Quantity × price.
    pub cost: Money,
    /// Who sells it; may be empty.
    pub supplier: String,
    /// The supplier's order number; may be empty.
    pub code: String,
    /// Where it lies in the store; may be empty.
    pub aisle: String,
    /// The day of the price.
    pub priced_on: Option<Date>,
}

/// Buys counted parts.
///
/// # Errors
/// A cost with too many digits.
pub fn part(line: &PartLine, catalog: &Catalog, currency: Currency) -> Result<Match, MoneyError> {
    let need = Need {
        key: &line.key,
        words: &line.words,
        quantity: Decimal::from(line.quantity),
        unit: &line.unit,
        row_unit: &line.unit,
    };
    need.buy(catalog, currency, |_| Ok(need.quantity))
}

/// Buys pipe: sticks of one or several lengths as the pieces are cut out of
/// them, or the pieces' total length, whatever costs least.
///
/// # Errors
/// A cost with too many digits.
pub fn pipe(
    line: &PipeLine,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Vec<Match>, MoneyError> {
    let feet = || Decimal::from(line.end_to_end.stretches_of(Length::from_feet(1)));
    let metres = || {
        let tenths = line.end_to_end.stretches_of(Length::from_mm(100));
        (Decimal::from(tenths) * Decimal::new(1, 1)).normalize()
    };
    let (quantity, unit) = match units {
        Units::Feet => (feet(), "ft"),
        Units::Metric => (metres(), "m"),
    };
    let need = Need {
        key: &line.key,
        words: &line.words,
        quantity,
        unit,
        row_unit: &Unit::Stick(line.stick).code(),
    };
    let mixed = sticks::mixed(line, line.kerf, catalog)?;
    let one = need.buy(catalog, currency, |offer| match offer.unit {
        // Those are cut once, in whatever mix of them is cheapest.
        Unit::Stick(_) if mixed.is_some() && sticks::sold_singly(offer) => Err(format!(
            "{} is one of the sticks that are mixed",
            offer.place
        )),
        Unit::Stick(length) => sticks_needed(offer, line, length, line.kerf),
        Unit::Foot => Ok(feet()),
        Unit::Metre => Ok(metres()),
        Unit::Each => Err(format!("{} does not say how long the pipe is", offer.place)),
    })?;
    let Some(mixed) = mixed else {
        return Ok(vec![one]);
    };
    let cost = Money::sum(currency, mixed.iter().map(|purchase| purchase.cost))?;
    match &one {
        Match::Bought(purchase) if purchase.cost.amount() <= cost.amount() => Ok(vec![one]),
        Match::Bought(_) | Match::Missing(_) => Ok(mixed.into_iter().map(Match::Bought).collect()),
    }
}

fn sticks_needed(
    offer: &Offer,
    line: &PipeLine,
    stick: Length,
    kerf: Length,
) -> Result<Decimal, String> {
    let stock = [Stock {
        length: stick,
        cost: 1,
        available: None,
    }];
    cutting::plan(&sticks::demand(line), &stock, kerf)
        .map(|plan| Decimal::from(plan.cost))
        .map_err(|error| {
            format!(
                "the {} on {}: {error}",
                offer.unit.words(1, ""),
                offer.place
            )
        })
}

impl Purchase {
    /// As many of an offer's units as are needed, in whole packs.
    fn of(offer: &Offer, price: Money, needed: Decimal, each: &str) -> Result<Self, MoneyError> {
        let quantity = match offer.pack {
            0 | 1 => needed,
            pack => (needed / Decimal::from(pack)).ceil(),
        };
        Ok(Self {
            quantity,
            unit: offer.unit.words(offer.pack, each),
            sold: offer.unit,
            pack: offer.pack,
            unit_price: price,
            cost: price.times(quantity)?,
            supplier: offer.supplier.clone(),
            code: offer.code.clone(),
            aisle: offer.aisle.clone(),
            priced_on: offer.priced_on,
        })
    }
}

/// What all parts and pipe of a count cost; none if one has no price.
///
/// # Errors
/// A cost with too many digits.
pub fn whole(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Option<Money>, MoneyError> {
    let mut bought = Vec::new();
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        bought.extend(pipe(line, units, catalog, currency)?);
    }
    for line in &takeoff.lines {
        bought.push(part(line, catalog, currency)?);
    }
    let costs: Option<Vec<Money>> = bought
        .into_iter()
        .map(|matched| match matched {
            Match::Bought(purchase) => Some(purchase.cost),
            Match::Missing(_) => None,
        })
        .collect();
    costs.map(|costs| Money::sum(currency, costs)).transpose()
}

/// The parts and pipe of a count that have no price.
///
/// # Errors
/// A cost with too many digits.
pub fn missing(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    currency: Currency,
) -> Result<Vec<MissingPrice>, MoneyError> {
    let mut matches = Vec::new();
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        matches.extend(pipe(line, units, catalog, currency)?);
    }
    for line in &takeoff.lines {
        matches.push(part(line, catalog, currency)?);
    }
    let missing = matches.into_iter().filter_map(|matched| match matched {
        Match::Missing(missing) => Some(missing),
        Match::Bought(_) => None,
    });
    Ok(missing.collect())
}

struct Need<'a> {
    key: &'a PartKey,
    words: &'a str,
    quantity: Decimal,
    unit: &'a str,
    row_unit: &'a str,
}

impl Need<'_> {
    /// The cheapest offer that fits. `needed` is how many of the offer's units
    /// the job takes, or why the offer does not fit.
    fn buy(
        &self,
        catalog: &Catalog,
        currency: Currency,
        needed: impl Fn(&Offer) -> Result<Decimal, String>,
    ) -> Result<Match, MoneyError> {
        let mut fitting = Vec::new();
        let mut reasons = Vec::new();
        for offer in catalog.offers(self.key) {
            match (offer.price, needed(offer)) {
                (None, _) => reasons.push(format!("{} has no price yet", offer.place)),
                (_, Err(reason)) => reasons.push(reason),
                (Some(_), Ok(needed)) if needed.ceil() < Decimal::from(offer.from_quantity) => {
                    reasons.push(format!(
                        "the price on {} holds from {} up",
                        offer.place, offer.from_quantity
                    ))
                }
                (Some(price), Ok(needed)) => {
                    fitting.push((Purchase::of(offer, price, needed, self.unit)?, offer));
                }
            }
        }
        let best = fitting.into_iter().min_by(|a, b| rank(a).cmp(&rank(b)));
        Ok(match best {
            Some((purchase, _)) => Match::Bought(purchase),
            None => Match::Missing(self.missing(catalog, currency, &reasons)),
        })
    }

    fn missing(&self, catalog: &Catalog, currency: Currency, reasons: &[String]) -> MissingPrice {
        let systems: Vec<&str> = catalog.systems_of(self.key).collect();
        let reason = if !reasons.is_empty() {
            reasons.join("; ")
        } else if systems.is_empty() {
            "no row of the catalog has this part in this size".to_owned()
        } else {
            format!(
                "the catalog has this part and size only for {}",
                systems.join(", ")
            )
        };
        let cells = [
            &self.key.part,
            &self.key.system,
            &self.key.size.to_string(),
            self.words,
            self.row_unit,
            "1",
            "",
            currency.code(),
        ];
        let row: Vec<String> = cells.into_iter().map(quoted).collect();
        MissingPrice {
            key: self.key.clone(),
            words: self.words.to_owned(),
            quantity: self.quantity,
            unit: self.unit.to_owned(),
            reason,
            row: row.join(",") + ",,,,",
        }
    }
}

/// The lowest cost first, then by what the row says.
fn rank<'a>((purchase, offer): &'a (Purchase, &Offer)) -> impl Ord + 'a {
    (purchase.cost.amount(), says(offer))
}

/// The lowest price first, then by what the row says.
fn rank_of(offer: &Offer) -> impl Ord + '_ {
    (offer.price.map(|price| price.amount()), says(offer))
}

/// What a row says; its place comes last, so that the order of the rows
/// changes nothing.
fn says(offer: &Offer) -> impl Ord + '_ {
    (
        &offer.supplier,
        &offer.code,
        offer.unit,
        offer.pack,
        Reverse(offer.priced_on),
        &offer.place,
    )
}

/// A cell of a CSV file.
pub(crate) fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests;
