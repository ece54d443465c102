//! The ways to buy each line: the cheapest by every choice of its offers that
//! can matter.

use super::sets::Way;
use super::terms::{Charge, MOST_SUPPLIERS, Terms};
use crate::catalog::Offer;
use crate::matching::{Asked, Bundle};
use crate::money::MoneyError;
use std::collections::{BTreeMap, BTreeSet};

/// Blocks of offers of which every choice is tried. A line of more offers is
/// bought by its suppliers: all offers of one, or none.
const BLOCKS: usize = 8;

/// The suppliers that have terms and sell something that is asked for, by name.
#[derive(Debug)]
pub(super) struct Sellers<'a> {
    pub(super) names: Vec<&'a str>,
    pub(super) charges: Vec<Charge>,
}

/// The ways of one line.
#[derive(Debug)]
pub(super) struct Line<'a> {
    pub(super) bundles: Vec<Bundle<'a>>,
    pub(super) ways: Vec<Way>,
    /// Whether every choice of blocks was tried.
    pub(super) complete: bool,
}

impl<'a> Sellers<'a> {
    pub(super) fn of(asked: &[Asked<'a>], terms: &'a Terms) -> Self {
        let offers = asked.iter().flat_map(Asked::offers);
        let names: BTreeSet<&str> = offers.map(|offer| offer.supplier.as_str()).collect();
        let termed = names.into_iter().filter_map(|name| terms.of(name));
        let termed: Vec<_> = termed.take(MOST_SUPPLIERS).collect();
        Self {
            names: termed
                .iter()
                .map(|one| one.supplier.name.as_str())
                .collect(),
            charges: termed.iter().map(|one| one.charge()).collect(),
        }
    }

    fn place(&self, offer: &Offer) -> Option<usize> {
        self.names.iter().position(|name| *name == offer.supplier)
    }

    pub(super) fn way(&self, bundle: &Bundle<'_>) -> Way {
        let mut goods = vec![0; self.names.len()];
        for taken in &bundle.taken {
            if let Some(seller) = self.place(taken.offer) {
                goods[seller] += taken.cost.minor();
            }
        }
        Way {
            cost: bundle.cost.minor(),
            goods,
        }
    }
}

impl<'a> Line<'a> {
    pub(super) fn of(asked: &Asked<'a>, sellers: &Sellers<'a>) -> Result<Self, MoneyError> {
        let offers = asked.offers();
        let mut by_seller: BTreeMap<Option<usize>, Vec<&'a Offer>> = BTreeMap::new();
        for offer in offers {
            by_seller
                .entry(sellers.place(offer))
                .or_default()
                .push(offer);
        }
        let steps = by_seller
            .keys()
            .flatten()
            .any(|seller| sellers.charges[*seller].has_step());
        // Who has no terms may always sell, unless goods must go to another.
        let anyone = if steps {
            Vec::new()
        } else {
            by_seller.remove(&None).unwrap_or_default()
        };
        let apart = steps && !asked.is_pipe() && offers.len() <= BLOCKS;
        let blocks: Vec<Vec<&Offer>> = if apart {
            offers.iter().map(|offer| vec![*offer]).collect()
        } else {
            by_seller.into_values().collect()
        };
        let mut line = Self {
            bundles: Vec::new(),
            ways: Vec::new(),
            complete: blocks.len() <= BLOCKS,
        };
        for chosen in choices(blocks.len()) {
            let blocks = blocks
                .iter()
                .enumerate()
                .filter(|(at, _)| chosen & (1 << at) != 0);
            let blocks = blocks.flat_map(|(_, block)| block.iter().copied());
            let by: Vec<&Offer> = anyone.iter().copied().chain(blocks).collect();
            let Some(bundle) = asked.bundle(&by)? else {
                continue;
            };
            let way = sellers.way(&bundle);
            if !line.ways.contains(&way) {
                line.ways.push(way);
                line.bundles.push(bundle);
            }
        }
        Ok(line)
    }

    /// Only those by which everything that a seller has comes from it.
    pub(super) fn prefer(&self, seller: usize) -> Vec<usize> {
        let all = 0..self.ways.len();
        let of_seller = |at: &usize| {
            let way = &self.ways[*at];
            way.goods[seller] == way.cost && way.cost > 0
        };
        let only: Vec<usize> = all.clone().filter(of_seller).collect();
        if only.is_empty() { all.collect() } else { only }
    }
}

/// Every choice of so many blocks, a bit each, all of them first; of too many,
/// all, none and each alone.
fn choices(blocks: usize) -> Vec<u64> {
    let all = (1_u64 << blocks) - 1;
    if blocks <= BLOCKS {
        return (0..=all).rev().collect();
    }
    let alone = (0..blocks).map(|block| 1 << block);
    [all, 0].into_iter().chain(alone).collect()
}
