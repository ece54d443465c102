//! Pipe in sticks: what is cut from which, at the least cost.

use super::{Offer, Purchase, rank_of};
use crate::catalog::{Catalog, Unit};
use crate::money::{Money, MoneyError};
use bom::cutting::{self, Demand, Plan, Stock};
use bom::quantity::Length;
use bom::takeoff::{PartKey, PipeLine};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The cheapest offer of each length of stick that is sold one by one.
pub(crate) fn offers<'a>(catalog: &'a Catalog, key: &PartKey) -> BTreeMap<Length, &'a Offer> {
    let mut cheapest: BTreeMap<Length, &Offer> = BTreeMap::new();
    for offer in catalog.offers(key) {
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

/// Sticks of several lengths as one purchase each, the longest first; none if
/// no stick offer holds the longest piece.
pub(super) fn mixed(
    line: &PipeLine,
    kerf: Length,
    catalog: &Catalog,
) -> Result<Option<Vec<Purchase>>, MoneyError> {
    let offers: Vec<(Length, &Offer)> = offers(catalog, &line.key).into_iter().collect();
    let stocks: Option<Vec<Stock>> = offers
        .iter()
        .map(|(length, offer)| stock(*length, offer.price?))
        .collect();
    let Some(stocks) = stocks.filter(|stocks| !stocks.is_empty()) else {
        return Ok(None);
    };
    let Ok(plan) = cutting::plan(&demand(line), &stocks, kerf) else {
        return Ok(None);
    };
    let mut purchases = Vec::new();
    for (index, (_, offer)) in offers.iter().enumerate().rev() {
        let count = sticks_of(&plan, index);
        if let (Some(price), 1..) = (offer.price, count) {
            purchases.push(Purchase::of(offer, price, Decimal::from(count), "")?);
        }
    }
    Ok(Some(purchases))
}

/// How many sticks of one stock a plan takes.
pub(crate) fn sticks_of(plan: &Plan, stock: usize) -> u64 {
    plan.sticks
        .iter()
        .filter(|stick| stick.stock == stock)
        .map(|stick| stick.count)
        .sum()
}
