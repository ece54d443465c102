//! The wage at which two options cost the customer the same.
//!
//! Without rounding, an option's total is
//! `f × ((materials + hire) × m + hours × wage × l)`, where `f` carries
//! overhead and margin, and `m` and `l` the tax on materials and on labour.
//! Two of them meet where
//! `wage = (difference of materials and hire) × m / (difference of hours × l)`.

use super::{BreakEven, Priced};
use crate::money::{Money, MoneyError};
use crate::rates::Rates;
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
    fixed: Money,
    hours: Decimal,
}

impl<'a> Line<'a> {
    /// None for an option without a total.
    fn of(one: &'a Priced) -> Option<Result<Self, MoneyError>> {
        let (estimate, _) = one.built.as_ref()?;
        one.option.total()?;
        Some(estimate.materials.plus(estimate.hire).map(|fixed| Self {
            system: &one.option.system,
            fixed,
            hours: estimate.hours,
        }))
    }
}

fn between(a: &Line<'_>, b: &Line<'_>, rates: &Rates) -> Result<Option<BreakEven>, MoneyError> {
    let more_hours = b.hours - a.hours;
    if more_hours.is_zero() {
        return Ok(None);
    }
    let with_tax = |labour: bool| {
        let percent = if rates.tax.falls_on(labour) {
            rates.tax.percent
        } else {
            Decimal::ZERO
        };
        Decimal::ONE_HUNDRED + percent
    };
    let per_hour = more_hours
        .checked_mul(with_tax(true))
        .ok_or(MoneyError::TooLarge)?;
    let wage = a.fixed.minus(b.fixed)?.scaled(with_tax(false), per_hour)?;
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
