//! Pipe in sticks: what is cut from which, at the least cost.

use super::{Offer, rank_of};
use crate::catalog::{Catalog, Unit};
use crate::money::Money;
use bom::cutting::{Demand, Plan, Stock};
use bom::quantity::Length;
use bom::takeoff::{PartKey, PipeLine};
use std::collections::BTreeMap;

/// The cheapest offer of each length of stick that is sold one by one.
pub(crate) fn offers<'a>(catalog: &'a Catalog, key: &PartKey) -> BTreeMap<Length, &'a Offer> {
    cheapest(catalog.offers(key).iter())
}

/// The same of any offers.
pub(super) fn cheapest<'a>(offers: impl Iterator<Item = &'a Offer>) -> BTreeMap<Length, &'a Offer> {
    let mut cheapest: BTreeMap<Length, &Offer> = BTreeMap::new();
    for offer in offers {
        let Unit::Stick(length) = offer.unit else {
            continue;
        };
        if offer.price.is_none() || !sold_singly(offer) {
            continue;
        }
        let known = cheapest.entry(length).or_insert(offer);
        if rank_of(offer) < rank_of(known) {
            *known = offer;
        }
    }
    cheapest
}

/// Whether one may buy a single one of it.
pub(super) fn sold_singly(offer: &Offer) -> bool {
    offer.pack <= 1 && offer.from_quantity <= 1
}

/// How often each length of piece is wanted.
pub(crate) fn demand(line: &PipeLine) -> Vec<Demand> {
    let mut counts: BTreeMap<Length, u64> = BTreeMap::new();
    for piece in &line.pieces {
        *counts.entry(piece.length).or_default() += 1;
    }
    for length in line.more_pieces() {
        *counts.entry(length).or_default() += 1;
    }
    counts
        .into_iter()
        .map(|(length, count)| Demand { length, count })
        .collect()
}

/// A stock of as many sticks as it takes, at a price.
pub(crate) fn stock(length: Length, price: Money) -> Option<Stock> {
    Some(Stock {
        length,
        cost: price.minor_units()?,
        available: None,
    })
}

/// How many sticks of one stock a plan takes.
pub(crate) fn sticks_of(plan: &Plan, stock: usize) -> u64 {
    plan.sticks
        .iter()
        .filter(|stick| stick.stock == stock)
        .map(|stick| stick.count)
        .sum()
}
