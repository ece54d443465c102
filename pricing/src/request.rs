//! The request for prices: every part that a job needs, with its quantity and
//! an empty price. What comes back is read as a price list.

use crate::catalog::{Catalog, Offer, Unit};
use crate::matching::sticks;
use bom::cutting::{self, Stock};
use bom::quantity::Length;
use bom::takeoff::{PartKey, PipeLine, Takeoff};
use std::collections::BTreeSet;

/// What one supplier is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// Who is asked; may be empty.
    pub supplier: String,
    /// The currency to answer in; empty if that is left to the supplier.
    pub currency: String,
    /// The parts, pipe first.
    pub lines: Vec<RequestLine>,
}

/// One part that is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RequestLine {
    /// The part.
    pub key: PartKey,
    /// The part in shelf words.
    pub words: String,
    /// What is counted, as price lists write it: `each`, `21ft`.
    pub unit: String,
    /// How many units a price is for.
    pub pack: u64,
    /// How many units the job needs.
    pub quantity: u64,
    /// The supplier's order number; may be empty.
    pub code: String,
    /// The quantity from which the price is to hold.
    pub from_quantity: u64,
}

/// One request for everybody, or one for each supplier of `catalog`, with
/// that supplier's packs and order numbers.
#[must_use]
pub fn requests(takeoff: &Takeoff, catalog: Option<&Catalog>, currency: &str) -> Vec<Request> {
    let Some(catalog) = catalog else {
        return vec![request(takeoff, &Catalog::default(), "", currency)];
    };
    suppliers(catalog)
        .into_iter()
        .map(|supplier| request(takeoff, catalog, supplier, currency))
        .collect()
}

/// One request to a supplier, with the packs and order numbers that `catalog`
/// has of it.
#[must_use]
pub fn request(takeoff: &Takeoff, catalog: &Catalog, supplier: &str, currency: &str) -> Request {
    let offers = |key: &PartKey| -> Vec<&Offer> {
        let offers = catalog.offers(key).iter();
        offers.filter(|offer| offer.supplier == supplier).collect()
    };
    let mut lines = Vec::new();
    let mut ask =
        |key: &PartKey, words: &str, usual: Unit, code: &str, units: &dyn Fn(Unit) -> u64| {
            let line = |unit: Unit| RequestLine {
                key: key.clone(),
                words: words.to_owned(),
                unit: match unit {
                    Unit::Each => code.to_owned(),
                    _ => unit.code(),
                },
                pack: 1,
                quantity: units(unit),
                code: String::new(),
                from_quantity: 1,
            };
            let known = offers(key);
            if known.is_empty() {
                lines.push(line(usual));
            }
            lines.extend(known.into_iter().map(|offer| RequestLine {
                pack: offer.pack,
                code: offer.code.clone(),
                from_quantity: offer.from_quantity,
                ..line(offer.unit)
            }));
        };
    for line in takeoff.pipe.iter().filter(|line| !line.ready) {
        let usual = Unit::Stick(line.stick);
        ask(&line.key, &line.words, usual, "each", &|unit| {
            units_of_pipe(line, unit)
        });
    }
    for line in &takeoff.lines {
        ask(&line.key, &line.words, Unit::Each, &line.unit, &|_| {
            line.quantity
        });
    }
    Request {
        supplier: supplier.to_owned(),
        currency: currency.to_owned(),
        lines,
    }
}

/// Who sells what a catalog has, by name.
#[must_use]
pub fn suppliers(catalog: &Catalog) -> BTreeSet<&str> {
    catalog.all().map(|offer| offer.supplier.as_str()).collect()
}

/// How many sticks, feet or metres of a pipe are needed.
fn units_of_pipe(line: &PipeLine, unit: Unit) -> u64 {
    let length = |step| line.ordered().stretches_of(step);
    match unit {
        Unit::Stick(stick) => {
            let stock = [Stock {
                length: stick,
                cost: 1,
                available: None,
            }];
            // A stick too short for some piece is asked for by its length.
            cutting::plan(&sticks::demand(line), &stock, line.kerf)
                .map_or_else(|_| length(stick), |plan| plan.cost)
        }
        Unit::Foot | Unit::Each => length(Length::from_feet(1)),
        Unit::Metre => length(Length::from_mm(1_000)),
    }
}
