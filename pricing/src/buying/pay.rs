//! From the lines to the finished purchase.

use super::sets::{Found, Way, solve};
use super::terms::Terms;
use super::ways::{Line, Sellers};
use super::{Buying, Order, alone};
use crate::matching::{Asked, Match};
use crate::money::{Currency, Money, MoneyError};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// Buys lines.
pub(super) fn buy(
    asked: &[Asked<'_>],
    terms: &Terms,
    currency: Currency,
) -> Result<Buying, MoneyError> {
    let sellers = Sellers::of(asked, terms);
    // The order in which lines are asked for decides nothing.
    let mut order: Vec<usize> = (0..asked.len()).collect();
    order.sort_by_key(|at| asked[*at].key());
    let lines = order.iter().map(|at| Line::of(&asked[*at], &sellers));
    let lines: Vec<Line<'_>> = lines.collect::<Result<_, _>>()?;
    let sold: Vec<&Line<'_>> = lines.iter().filter(|line| !line.ways.is_empty()).collect();
    let ways: Vec<Vec<Way>> = sold.iter().map(|line| line.ways.clone()).collect();
    let mut cheapest = solve(&ways, &sellers.charges).ok_or(MoneyError::TooLarge)?;
    if !sold.iter().all(|line| line.complete) {
        let least = ways
            .iter()
            .map(|ways| ways.iter().map(|way| way.cost).min());
        cheapest.bound = least.flatten().sum();
    }
    let preferred = preferred(&sold, &sellers, terms, &cheapest, currency)?;
    let (choice, preferred) = match preferred {
        Some((found, seller)) => {
            let more = Money::of_minor(found.total - cheapest.total, currency)?;
            (found.choice, Some((sellers.names[seller].to_owned(), more)))
        }
        None => (cheapest.choice.clone(), None),
    };

    let mut choice = choice.into_iter();
    let mut matched: Vec<(usize, Match)> = Vec::with_capacity(asked.len());
    for (at, line) in order.into_iter().zip(&lines) {
        let way = if line.ways.is_empty() {
            None
        } else {
            choice.next()
        };
        let bundle = way.and_then(|way| line.bundles.get(way));
        let bought = bundle.map(|bundle| asked[at].bought(bundle));
        matched.push((at, bought.unwrap_or_else(|| asked[at].missing())));
    }
    matched.sort_by_key(|(at, _)| *at);
    let matched: Vec<Match> = matched.into_iter().map(|(_, matched)| matched).collect();

    let orders = orders(&matched, terms, currency)?;
    let sum = |part: fn(&Order) -> Money| Money::sum(currency, orders.iter().map(part));
    let goods = sum(|order| order.goods)?;
    let total = sum(|order| order.total)?;
    let alone = alone::all(asked, terms, currency)?;
    let offers = asked.iter().flat_map(Asked::offers);
    let selling: BTreeSet<&str> = offers.map(|offer| offer.supplier.as_str()).collect();
    let least = alone.iter().filter_map(|one| one.total);
    let least = least
        .min_by_key(Money::amount)
        .filter(|_| selling.len() > 1);
    Ok(Buying {
        goods,
        charges: total.minus(goods)?,
        total,
        bound: Money::of_minor(cheapest.bound, currency)?,
        proven: cheapest.bound == cheapest.total,
        surplus_cost: Money::sum(currency, bought(&matched).map(|bought| bought.surplus_cost))?,
        saved: least.map(|least| least.minus(total)).transpose()?,
        alone,
        preferred,
        orders,
        lines: matched,
    })
}

/// The purchase that keeps to a preferred supplier, and who that is: the
/// cheapest of those that cost no more than its terms allow.
fn preferred(
    sold: &[&Line<'_>],
    sellers: &Sellers<'_>,
    terms: &Terms,
    cheapest: &Found,
    currency: Currency,
) -> Result<Option<(Found, usize)>, MoneyError> {
    let mut best: Option<(Found, usize)> = None;
    for (seller, name) in sellers.names.iter().enumerate() {
        let Some(percent) = terms.of(name).and_then(|one| one.preferred) else {
            continue;
        };
        let kept: Vec<Vec<usize>> = sold.iter().map(|line| line.prefer(seller)).collect();
        let lines = sold.iter().zip(&kept);
        let lines =
            lines.map(|(line, kept)| kept.iter().map(|at| line.ways[*at].clone()).collect());
        let lines: Vec<Vec<Way>> = lines.collect();
        let Some(mut found) = solve(&lines, &sellers.charges) else {
            continue;
        };
        let most = Decimal::ONE_HUNDRED + percent;
        let most = Money::of_minor(cheapest.total, currency)?.scaled(most, Decimal::ONE_HUNDRED)?;
        if found.total > most.minor() {
            continue;
        }
        let places = found.choice.iter().zip(&kept);
        found.choice = places.map(|(way, kept)| kept[*way]).collect();
        if best
            .as_ref()
            .is_none_or(|(best, _)| found.total < best.total)
        {
            best = Some((found, seller));
        }
    }
    Ok(best)
}

fn bought(lines: &[Match]) -> impl Iterator<Item = &crate::matching::Bought> {
    lines.iter().filter_map(|matched| match matched {
        Match::Bought(bought) => Some(bought),
        Match::Missing(_) => None,
    })
}

/// What each supplier gets and charges.
fn orders(lines: &[Match], terms: &Terms, currency: Currency) -> Result<Vec<Order>, MoneyError> {
    let mut orders: BTreeMap<&str, (usize, Money)> = BTreeMap::new();
    for bought in bought(lines) {
        let mut of_line: BTreeMap<&str, Money> = BTreeMap::new();
        for purchase in &bought.purchases {
            let goods = of_line
                .entry(&purchase.supplier)
                .or_insert_with(|| Money::zero(currency));
            *goods = goods.plus(purchase.cost)?;
        }
        for (supplier, cost) in of_line {
            let (lines, goods) = orders
                .entry(supplier)
                .or_insert_with(|| (0, Money::zero(currency)));
            *lines += 1;
            *goods = goods.plus(cost)?;
        }
    }
    orders
        .into_iter()
        .map(|(supplier, (lines, goods))| order(supplier, lines, goods, terms))
        .collect()
}

/// An order with its charges.
pub(super) fn order(
    supplier: &str,
    lines: usize,
    goods: Money,
    terms: &Terms,
) -> Result<Order, MoneyError> {
    let charge = terms.of(supplier).map(|terms| terms.charge());
    let charge = charge.unwrap_or_default();
    let currency = goods.currency();
    let delivery = Money::of_minor(charge.delivery_of(goods.minor()), currency)?;
    let made_up = Money::of_minor(charge.made_up(goods.minor()), currency)?;
    Ok(Order {
        supplier: supplier.to_owned(),
        lines,
        goods,
        delivery,
        made_up,
        total: goods.plus(delivery)?.plus(made_up)?,
    })
}
