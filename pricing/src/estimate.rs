//! What the job costs and what it sells for, line by line. This is the
//! contractor's own paper; [`crate::offer`] takes the costs out of it.

use crate::buying::{self, Buying};
use crate::catalog::Catalog;
use crate::labour::{self, LabourLine};
use crate::matching::{Bought, Match, Purchase};
use crate::money::{Money, MoneyError};
use crate::quote::MissingPrice;
use crate::rates::{Hire, Rates};
use bom::quantity::{PartSize, Units};
use bom::system::Joint;
use bom::takeoff::{Group, JointCount, PartKey, Takeoff};
use rust_decimal::Decimal;

/// The heading of the labour.
pub const LABOUR: &str = "Labour";

/// The heading of what suppliers charge for bringing the materials.
pub const DELIVERY: &str = "Delivery";

/// The heading of hired tools.
pub const HIRE: &str = "Tool hire";

/// The whole estimate.
#[derive(Debug, Clone)]
pub struct Estimate {
    /// Materials by group and their delivery, then hired tools, then labour; those without lines
    /// are left out.
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
    /// Hours of all work that the rates have hours for.
    pub hours: Decimal,
    /// Cost of the labour.
    pub labour: Money,
    /// Overhead on all three.
    pub overhead: Money,
    /// What is left of the price after materials, hire, labour and overhead.
    pub profit: Money,
    /// Sum of the printed lines.
    pub price: Money,
    /// Profit in percent of the price, as it comes out.
    pub margin_percent: Option<Decimal>,
    /// The same profit in percent of the cost with overhead.
    pub markup_percent: Option<Decimal>,
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
    let hired = needed(takeoff, rates).map(|hire| hire_line(hire, rates));
    let hire_section = section(HIRE, hired.collect::<Result<_, _>>()?, rates)?;
    let work = labour::labour(takeoff, &rates.hours);
    let lines = work.iter().map(|line| labour_line(line, rates));
    let labour_section = section(LABOUR, lines.collect::<Result<_, _>>()?, rates)?;

    let materials = Money::sum(currency, sections.iter().map(|section| section.cost))?;
    let hire = hire_section.cost;
    let labour = labour_section.cost;
    sections.extend([hire_section, labour_section]);
    sections.retain(|section| !section.lines.is_empty());
    let cost = materials.plus(hire)?.plus(labour)?;
    let overhead = cost.scaled(rates.overhead, Decimal::ONE_HUNDRED)?;
    let price = Money::sum(currency, sections.iter().map(|section| section.price))?;
    let full_cost = cost.plus(overhead)?;
    let profit = price.minus(full_cost)?;
    Ok(Estimate {
        sections,
        purchases,
        buying,
        missing,
        hours: work.iter().filter_map(|line| line.hours).sum(),
        unrated: work
            .into_iter()
            .filter(|line| line.hours.is_none())
            .collect(),
        materials,
        hire,
        labour,
        overhead,
        profit,
        price,
        margin_percent: profit.percent_of(price)?,
        markup_percent: profit.percent_of(full_cost)?,
    })
}

/// The tools to hire: those for the joints of each system that the job has pipe
/// of. Threads of devices are made up with a wrench, and ready-threaded pipe needs
/// no machine.
fn needed<'a>(takeoff: &'a Takeoff, rates: &'a Rates) -> impl Iterator<Item = &'a Hire> {
    let hires = |made: &JointCount| {
        let mut pipe = takeoff.pipe.iter();
        pipe.any(|line| {
            line.key.system == made.system
                && (made.joint != Joint::Threaded || !line.pieces.is_empty())
        })
    };
    let made: Vec<Joint> = takeoff
        .joints
        .iter()
        .filter(|joint| joint.count > 0 && hires(joint))
        .map(|joint| joint.joint)
        .collect();
    rates
        .hire
        .iter()
        .filter(move |hire| hire.joints.iter().any(|joint| made.contains(joint)))
}

fn hire_line(hire: &Hire, rates: &Rates) -> Result<EstimateLine, MoneyError> {
    let once = Decimal::ONE;
    Ok(EstimateLine {
        text: format!("Hire of {}", hire.tool),
        quantity: once,
        unit: "job".to_owned(),
        origin: "the rates, once a job".to_owned(),
        cost: Some(Price::new(hire.price, once)?),
        price: Some(Price::new(selling(hire.price, rates)?, once)?),
    })
}

/// The price at which a cost carries its overhead and leaves the margin:
/// cost × (100 + overhead) / (100 − margin), rounded once.
pub(crate) fn selling(cost: Money, rates: &Rates) -> Result<Money, MoneyError> {
    cost.scaled(
        Decimal::ONE_HUNDRED + rates.overhead,
        Decimal::ONE_HUNDRED - rates.margin,
    )
}

/// A line for each purchase.
fn materials(
    key: &PartKey,
    words: &str,
    matched: &Match,
    rates: &Rates,
) -> Result<Vec<EstimateLine>, MoneyError> {
    let text = if key.size == PartSize::NONE {
        words.to_owned()
    } else {
        format!("{words} {}", key.size)
    };
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
            selling(purchase.unit_price, rates)?,
            purchase.quantity,
        )?),
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
        text: "Delivery of the materials".to_owned(),
        quantity: once,
        unit: "job".to_owned(),
        origin: names.join(", "),
        cost: Some(Price::new(buying.charges, once)?),
        price: Some(Price::new(selling(buying.charges, rates)?, once)?),
    }])
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

fn labour_line(line: &LabourLine, rates: &Rates) -> Result<EstimateLine, MoneyError> {
    let (quantity, unit, cost, price) = match line.hours {
        Some(hours) => (
            hours,
            "hour",
            Some(Price::new(rates.wage, hours)?),
            Some(Price::new(selling(rates.wage, rates)?, hours)?),
        ),
        None => (Decimal::from(line.count), line.unit, None, None),
    };
    Ok(EstimateLine {
        text: line.text.clone(),
        quantity,
        unit: unit.to_owned(),
        origin: line.basis.clone(),
        cost,
        price,
    })
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
