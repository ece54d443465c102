//! What the job costs and what it sells for, line by line. This is the
//! contractor's own paper; [`crate::offer`] takes the costs out of it.

mod besides;
pub(crate) mod build_up;
mod sheet;
#[cfg(test)]
mod tests;

pub use build_up::{Step, StepOf};
pub use sheet::EstimateSheet;

use crate::buying::{self, Buying};
use crate::catalog::{Catalog, OLD_AFTER, stale};
use crate::labour::LabourLine;
use crate::matching::{Bought, Match, Purchase};
use crate::money::{Money, MoneyError};
use crate::quote::MissingPrice;
use crate::rates::Rates;
use bom::quantity::{PartSize, Units};
use bom::takeoff::{Group, PartKey, Takeoff};
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The heading of the labour.
pub const LABOUR: &str = "Labour";

/// The heading of what suppliers charge for bringing the materials.
pub const DELIVERY: &str = "Delivery";

/// The heading of hired tools.
pub const HIRE: &str = "Tool hire";

/// The heading of travel, lifts, permits, freight and the like.
pub const COSTS: &str = "Other costs";

/// The heading of what is put on for lengths that are not confirmed.
pub const ALLOWANCE: &str = "Allowance";

/// Whether a section of this heading holds materials.
pub(crate) fn is_material(title: &str) -> bool {
    ![HIRE, COSTS, LABOUR, ALLOWANCE].contains(&title)
}

/// The whole estimate.
#[derive(Debug, Clone)]
pub struct Estimate {
    /// Materials by group and their delivery, then hired tools, other costs,
    /// labour and the allowance; those without lines are left out.
    pub sections: Vec<EstimateSection>,
    /// What is bought, in the order of the lines.
    pub purchases: Vec<Purchase>,
    /// Who sells it, at what charge, and what another purchase would cost.
    pub buying: Buying,
    /// Parts that no catalog row prices.
    pub missing: Vec<MissingPrice>,
    /// Work for which the rates have no hours.
    pub unrated: Vec<LabourLine>,
    /// Cost of the materials.
    pub materials: Money,
    /// Cost of the hired tools.
    pub hire: Money,
    /// Travel, lifts, permits, freight and the like.
    pub costs: Money,
    /// What of those is taxed like materials.
    pub taxed_costs: Money,
    /// Hours of all work that the rates have hours for.
    pub hours: Decimal,
    /// Days on site, up to the next half; none if the rates name no crew, or where
    /// hours are missing.
    pub days: Option<Decimal>,
    /// Cost of the labour.
    pub labour: Money,
    /// What is put on for lengths that are not confirmed.
    pub allowance: Money,
    /// Overhead on all five.
    pub overhead: Money,
    /// What is put by on all five for what nobody can know.
    pub contingency: Money,
    /// What is left of the price after all costs, overhead and contingency.
    pub profit: Money,
    /// What the sections sell for that tax on materials falls on.
    pub goods: Money,
    /// From the sum of the printed lines to the price; none where no sum is rounded.
    pub rounding: Option<Money>,
    /// Sum of the printed lines, and of the rounding; provisional sums come on top.
    pub price: Money,
    /// Profit in percent of the price, as it comes out.
    pub margin_percent: Option<Decimal>,
    /// The same profit in percent of the cost with overhead and contingency.
    pub markup_percent: Option<Decimal>,
    /// From the costs to the price, a line for each step; they add up.
    pub steps: Vec<Step>,
    /// Where the price is under its floor.
    pub warnings: Vec<String>,
    /// How days and other costs were reckoned.
    pub notes: Vec<String>,
}

impl Estimate {
    /// Whether everything has its price and its hours.
    #[must_use]
    pub const fn is_complete(&self) -> bool {
        self.missing.is_empty() && self.unrated.is_empty()
    }

    /// What to know of the days of the prices that are used: old ones, and ones from a
    /// day that is still to come.
    #[must_use]
    pub fn stale_prices(&self, today: Date) -> Vec<String> {
        let mut by_day: BTreeMap<Date, usize> = BTreeMap::new();
        for day in self.purchases.iter().filter_map(|one| one.priced_on) {
            *by_day.entry(day).or_default() += 1;
        }
        let said = by_day
            .into_iter()
            .filter_map(|(day, prices)| stale(prices, day, today, OLD_AFTER));
        said.map(|(_, message)| format!("{message}.")).collect()
    }
}

/// Lines under one heading.
#[derive(Debug, Clone)]
pub struct EstimateSection {
    /// The heading.
    pub title: &'static str,
    /// The lines.
    pub lines: Vec<EstimateLine>,
    /// Sum of the costs.
    pub cost: Money,
    /// Sum of the selling amounts.
    pub price: Money,
}

/// One line with both sides of it.
#[derive(Debug, Clone)]
pub struct EstimateLine {
    /// What it is, in shelf words with its size.
    pub text: String,
    /// How many.
    pub quantity: Decimal,
    /// Of what.
    pub unit: String,
    /// Where the cost comes from: supplier, order number and date, or the
    /// basis of the hours.
    pub origin: String,
    /// What it costs; none if that is not known.
    pub cost: Option<Price>,
    /// What it sells for; none if the cost is not known.
    pub price: Option<Price>,
    /// Whether tax on materials falls on it.
    pub taxed: bool,
}

/// The price of one, and of the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Price {
    /// Of one.
    pub unit: Money,
    /// Quantity × unit, rounded once.
    pub amount: Money,
}

impl Price {
    pub(crate) fn new(unit: Money, quantity: Decimal) -> Result<Self, MoneyError> {
        Ok(Self {
            unit,
            amount: unit.times(quantity)?,
        })
    }
}

/// Prices a take-off.
///
/// # Errors
/// A sum with too many digits.
pub fn estimate(
    takeoff: &Takeoff,
    units: Units,
    catalog: &Catalog,
    rates: &Rates,
) -> Result<Estimate, MoneyError> {
    let currency = rates.currency;
    let mut sections = Vec::new();
    let mut purchases = Vec::new();
    let mut missing = Vec::new();
    let buying = buying::buy(takeoff, units, catalog, &rates.buying, currency)?;
    let pipe = takeoff.pipe.iter().filter(|line| !line.ready);
    let pipe = pipe.map(|line| (Group::Pipe, &line.key, &line.words));
    let parts = takeoff.lines.iter();
    let parts = parts.map(|line| (line.group, &line.key, &line.words));
    let counted: Vec<_> = pipe.chain(parts).zip(&buying.lines).collect();
    for group in Group::ALL {
        let mut lines = Vec::new();
        for ((_, key, words), matched) in counted.iter().filter(|((of, ..), _)| *of == group) {
            lines.extend(materials(key, words, matched, rates)?);
            match matched {
                Match::Bought(bought) => purchases.extend(bought.purchases.iter().cloned()),
                Match::Missing(hole) => missing.push(hole.clone()),
            }
        }
        sections.push(section(group.title(), lines, rates)?);
    }
    sections.push(section(DELIVERY, delivery(&buying, rates)?, rates)?);
    let materials = Materials {
        sections,
        purchases,
        buying,
        missing,
    };
    build_up::estimate(materials, takeoff, units, rates)
}

/// The materials of a job, priced.
pub(crate) struct Materials {
    pub(crate) sections: Vec<EstimateSection>,
    pub(crate) purchases: Vec<Purchase>,
    pub(crate) buying: Buying,
    pub(crate) missing: Vec<MissingPrice>,
}

/// A line for each purchase.
fn materials(
    key: &PartKey,
    words: &str,
    matched: &Match,
    rates: &Rates,
) -> Result<Vec<EstimateLine>, MoneyError> {
    let text = text(key, words);
    match matched {
        Match::Bought(bought) => {
            let purchases = bought.purchases.iter();
            purchases
                .map(|purchase| material(&text, purchase, bought, rates))
                .collect()
        }
        Match::Missing(hole) => Ok(vec![EstimateLine {
            text,
            quantity: hole.quantity,
            unit: hole.unit.clone(),
            origin: hole.reason.clone(),
            cost: None,
            price: None,
            taxed: true,
        }]),
    }
}

fn material(
    text: &str,
    purchase: &Purchase,
    bought: &Bought,
    rates: &Rates,
) -> Result<EstimateLine, MoneyError> {
    let surplus = bought.purchases.last() == Some(purchase) && !bought.surplus.is_zero();
    Ok(EstimateLine {
        text: text.to_owned(),
        quantity: purchase.quantity,
        unit: purchase.unit.clone(),
        origin: if surplus {
            let (spare, worth) = (bought.surplus, bought.surplus_cost.show());
            format!("{}; {spare} spare, worth {worth}", origin(purchase))
        } else {
            origin(purchase)
        },
        cost: Some(Price {
            unit: purchase.unit_price,
            amount: purchase.cost,
        }),
        price: Some(Price::new(
            rates.selling(purchase.unit_price)?,
            purchase.quantity,
        )?),
        taxed: true,
    })
}

/// What suppliers charge beyond their goods, as one line; none where they charge
/// nothing.
fn delivery(buying: &Buying, rates: &Rates) -> Result<Vec<EstimateLine>, MoneyError> {
    if buying.charges.amount().is_zero() {
        return Ok(Vec::new());
    }
    let once = Decimal::ONE;
    let charged = buying.orders.iter();
    let charged = charged.filter(|order| order.total != order.goods);
    let names: Vec<&str> = charged.map(|order| order.supplier.as_str()).collect();
    Ok(vec![EstimateLine {
        text: match buying.orders.iter().any(|order| order.made_up.minor() > 0) {
            true => "Delivery and small orders of the materials".to_owned(),
            false => "Delivery of the materials".to_owned(),
        },
        quantity: once,
        unit: "job".to_owned(),
        origin: names.join(", "),
        cost: Some(Price::new(buying.charges, once)?),
        price: Some(Price::new(rates.selling(buying.charges)?, once)?),
        taxed: true,
    }])
}

/// What the line of a part says.
pub(crate) fn text(key: &PartKey, words: &str) -> String {
    if key.size == PartSize::NONE {
        words.to_owned()
    } else {
        format!("{words} {}", key.size)
    }
}

/// Supplier, order number and date, as far as the row has them.
fn origin(purchase: &Purchase) -> String {
    let date = purchase.priced_on.map(|date| date.to_string());
    let known = [
        purchase.supplier.as_str(),
        purchase.code.as_str(),
        date.as_deref().unwrap_or_default(),
    ];
    let known: Vec<&str> = known.into_iter().filter(|word| !word.is_empty()).collect();
    known.join(", ")
}

fn section(
    title: &'static str,
    lines: Vec<EstimateLine>,
    rates: &Rates,
) -> Result<EstimateSection, MoneyError> {
    let sum = |side: fn(&EstimateLine) -> Option<Price>| {
        let amounts = lines.iter().filter_map(side).map(|price| price.amount);
        Money::sum(rates.currency, amounts)
    };
    Ok(EstimateSection {
        title,
        cost: sum(|line| line.cost)?,
        price: sum(|line| line.price)?,
        lines,
    })
}
