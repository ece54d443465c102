//! What a price does to the total: the line is priced again with a tenth more
//! and a tenth less, rounded as every line is, and taxed as before.

use super::Mover;
use crate::estimate::{Estimate, EstimateLine, HIRE, LABOUR, selling};
use crate::money::{Money, MoneyError};
use crate::quote::Quote;
use crate::rates::Rates;
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// How many are told.
const MOST: usize = 3;

pub(super) fn movers(
    estimate: &Estimate,
    quote: &Quote,
    rates: &Rates,
) -> Result<Vec<Mover>, MoneyError> {
    let sections = estimate.sections.iter();
    let materials = sections.filter(|section| section.title != LABOUR && section.title != HIRE);
    let mut movers = Vec::new();
    for line in materials.flat_map(|section| &section.lines) {
        let effect = |percent: i64| effect(line, Decimal::from(percent), quote, rates);
        if let (Some(up), Some(down)) = (effect(110)?, effect(90)?) {
            movers.push(Mover {
                text: text(line),
                up,
                down,
            });
        }
    }
    // The sort is stable: of two equal ones the first on the paper.
    movers.sort_by_key(|mover| Reverse(mover.up.amount()));
    movers.truncate(MOST);
    Ok(movers)
}

/// The change of the total where the cost of one is so many percent of what it
/// is; none for a line without a cost.
fn effect(
    line: &EstimateLine,
    percent: Decimal,
    quote: &Quote,
    rates: &Rates,
) -> Result<Option<Money>, MoneyError> {
    let (Some(cost), Some(price)) = (line.cost, line.price) else {
        return Ok(None);
    };
    let unit = cost.unit.scaled(percent, Decimal::ONE_HUNDRED)?;
    let amount = selling(unit, rates)?.times(line.quantity)?;
    let change = amount.minus(price.amount)?;
    let tax = if rates.tax.falls_on(false) {
        let base = quote.tax.base.plus(change)?;
        base.scaled(quote.tax.percent, Decimal::ONE_HUNDRED)?
    } else {
        quote.tax.amount
    };
    change.plus(tax.minus(quote.tax.amount)?).map(Some)
}

fn text(line: &EstimateLine) -> String {
    match line.unit.as_str() {
        "each" => line.text.clone(),
        unit => format!("{} ({unit})", line.text),
    }
}
