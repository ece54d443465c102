//! The wage at which two options cost the customer the same.
//!
//! Without rounding, an option's total is
//! `f × (goods × m + (costs + hours × wage) × l)`, where `f` carries overhead,
//! contingency and margin, goods are materials, hire and what is taxed like them,
//! costs are the others, and `m` and `l` the tax on goods and on the rest. An
//! allowance in percent of the cost goes on each of them with its own tax.
//! Two of them meet where
//! `wage = (difference of goods × m + difference of costs × l) / (difference of hours × l)`.

use super::{BreakEven, Priced};
use crate::estimate::Estimate;
use crate::money::{Money, MoneyError};
use crate::rates::{Allowance, AllowanceOf, Rates};
use rust_decimal::Decimal;

/// Every pair that meets at a wage above nought.
pub(super) fn all(priced: &[Priced], rates: &Rates) -> Result<Vec<BreakEven>, MoneyError> {
    let lines: Vec<Line<'_>> = priced
        .iter()
        .filter_map(Line::of)
        .collect::<Result<_, _>>()?;
    let mut found = Vec::new();
    for (at, a) in lines.iter().enumerate() {
        for b in &lines[at + 1..] {
            found.extend(between(a, b, rates)?);
        }
    }
    Ok(found)
}

/// A total as it grows with the wage.
struct Line<'a> {
    system: &'a str,
    goods: Money,
    costs: Money,
    hours: Decimal,
}

impl<'a> Line<'a> {
    /// None for an option without a total.
    fn of(one: &'a Priced) -> Option<Result<Self, MoneyError>> {
        let (estimate, _) = one.built.as_ref()?;
        one.option.total()?;
        Some(Self::in_parts(&one.option.system, estimate))
    }

    fn in_parts(system: &'a str, estimate: &Estimate) -> Result<Self, MoneyError> {
        let goods = estimate.materials.plus(estimate.hire)?;
        Ok(Self {
            system,
            goods: goods.plus(estimate.taxed_costs)?,
            costs: estimate.costs.minus(estimate.taxed_costs)?,
            hours: estimate.hours,
        })
    }
}

fn between(a: &Line<'_>, b: &Line<'_>, rates: &Rates) -> Result<Option<BreakEven>, MoneyError> {
    let more_hours = b.hours - a.hours;
    if more_hours.is_zero() {
        return Ok(None);
    }
    let with_tax = |goods: bool| {
        let percent = if rates.tax.falls_on(goods) {
            rates.tax.percent
        } else {
            Decimal::ZERO
        };
        Decimal::ONE_HUNDRED + percent
    };
    let allowed = match &rates.allowance {
        Some(Allowance {
            of: AllowanceOf::Cost(percent),
            taxed,
            ..
        }) => with_tax(*taxed) * *percent / Decimal::ONE_HUNDRED,
        _ => Decimal::ZERO,
    };
    let with_tax = |goods: bool| with_tax(goods) + allowed;
    let per_hour = more_hours
        .checked_mul(with_tax(false))
        .ok_or(MoneyError::TooLarge)?;
    let of_goods = a.goods.minus(b.goods)?.amount();
    let of_costs = a.costs.minus(b.costs)?.amount();
    let fixed = of_goods
        .checked_mul(with_tax(true))
        .zip(of_costs.checked_mul(with_tax(false)))
        .and_then(|(goods, costs)| goods.checked_add(costs))
        .ok_or(MoneyError::TooLarge)?;
    let one = Money::new(Decimal::ONE, rates.currency);
    let wage = one.scaled(fixed, per_hour)?;
    if wage.amount() <= Decimal::ZERO {
        return Ok(None);
    }
    let (slow, quick) = if more_hours > Decimal::ZERO {
        (b, a)
    } else {
        (a, b)
    };
    Ok(Some(BreakEven {
        a: a.system.to_owned(),
        b: b.system.to_owned(),
        wage,
        cheaper_below: slow.system.to_owned(),
        cheaper_above: quick.system.to_owned(),
    }))
}
