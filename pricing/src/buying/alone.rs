//! What everything would cost at one supplier.

use super::terms::Terms;
use super::{Alone, pay};
use crate::catalog::Offer;
use crate::matching::Asked;
use crate::money::{Currency, Money, MoneyError};
use std::collections::{BTreeMap, BTreeSet};

/// Suppliers that are priced.
const PRICED: usize = 20;

/// Suppliers that are told.
const TOLD: usize = 6;

/// Those that lack the fewest of the lines that somebody sells first, then the
/// cheapest.
pub(super) fn all(
    asked: &[Asked<'_>],
    terms: &Terms,
    currency: Currency,
) -> Result<Vec<Alone>, MoneyError> {
    let sold = asked.iter().filter(|line| !line.offers().is_empty());
    let mut has: BTreeMap<&str, usize> = BTreeMap::new();
    for line in sold.clone() {
        let names = line.offers().iter().map(|offer| offer.supplier.as_str());
        let names: BTreeSet<&str> = names.filter(|name| !name.is_empty()).collect();
        for name in names {
            *has.entry(name).or_default() += 1;
        }
    }
    let lines = sold.clone().count();
    let mut suppliers: Vec<(usize, &str)> = has
        .into_iter()
        .map(|(name, has)| (lines - has, name))
        .collect();
    suppliers.sort_unstable();
    suppliers.truncate(PRICED);
    let mut alone = Vec::new();
    for (lacks, name) in suppliers {
        alone.push(if lacks == 0 {
            priced(name, sold.clone(), terms, currency)?
        } else {
            Alone {
                supplier: name.to_owned(),
                lacks,
                total: None,
            }
        });
    }
    alone.sort_by_key(|one| (one.lacks, one.total.map(|total| total.amount())));
    alone.truncate(TOLD);
    Ok(alone)
}

/// One that has an offer for every line; its pipe may still be too short.
fn priced<'a>(
    name: &str,
    lines: impl Iterator<Item = &'a Asked<'a>>,
    terms: &Terms,
    currency: Currency,
) -> Result<Alone, MoneyError> {
    let mut goods = Money::zero(currency);
    let (mut lacks, mut has) = (0, 0);
    for line in lines {
        let own = line.offers().iter().copied();
        let own: Vec<&Offer> = own.filter(|offer| offer.supplier == name).collect();
        match line.bundle(&own)? {
            Some(bundle) => {
                goods = goods.plus(bundle.cost)?;
                has += 1;
            }
            None => lacks += 1,
        }
    }
    let total = pay::order(name, has, goods, terms)?.total;
    Ok(Alone {
        supplier: name.to_owned(),
        lacks,
        total: (lacks == 0).then_some(total),
    })
}
