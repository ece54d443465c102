//! What a price does to the total: the job is priced again with a tenth more and
//! a tenth less of it, rounded, taxed and with its freight as before.

use super::{Layout, Mover};
use crate::buying::Buying;
use crate::estimate::{
    Estimate, EstimateLine, EstimateSection, Materials, Price, build_up, is_material,
};
use crate::money::{Money, MoneyError};
use crate::offer::Sums;
use crate::rates::Rates;
use rust_decimal::Decimal;
use std::cmp::Reverse;

/// How many are told.
const MOST: usize = 3;

pub(super) fn movers(
    layout: &Layout<'_>,
    estimate: &Estimate,
    total: Money,
    rates: &Rates,
) -> Result<Vec<Mover>, MoneyError> {
    let sections = estimate.sections.iter();
    let sections = sections.filter(|section| is_material(section.title));
    let materials: Vec<EstimateSection> = sections.cloned().collect();
    let effect = |at: [usize; 2], percent: i64| -> Result<Option<Money>, MoneyError> {
        let mut moved = materials.clone();
        reprice(&mut moved[at[0]], at[1], Decimal::from(percent), rates)?;
        let bought = Materials {
            sections: moved,
            purchases: Vec::new(),
            // Only the sums are looked at.
            buying: Buying::nothing(rates.currency),
            missing: Vec::new(),
        };
        let units = layout.summary.units;
        let moved = build_up::estimate(bought, layout.takeoff, units, rates)?;
        let moved = Sums::of(&moved, rates)?.total;
        moved.map(|moved| moved.minus(total)).transpose()
    };
    let mut movers = Vec::new();
    for (section, lines) in materials.iter().map(|one| &one.lines).enumerate() {
        for (at, line) in lines.iter().enumerate() {
            let at = [section, at];
            if let (Some(up), Some(down)) = (effect(at, 110)?, effect(at, 90)?) {
                movers.push(Mover {
                    text: text(line),
                    up,
                    down,
                });
            }
        }
    }
    // The sort is stable: of two equal ones the first on the paper.
    movers.sort_by_key(|mover| Reverse(mover.up.amount()));
    movers.truncate(MOST);
    Ok(movers)
}

/// The section with one line's cost at so many percent of what it is.
fn reprice(
    section: &mut EstimateSection,
    at: usize,
    percent: Decimal,
    rates: &Rates,
) -> Result<(), MoneyError> {
    let line = &mut section.lines[at];
    let (Some(cost), Some(price)) = (line.cost, line.price) else {
        return Ok(());
    };
    let unit = cost.unit.scaled(percent, Decimal::ONE_HUNDRED)?;
    let moved = [
        Price::new(unit, line.quantity)?,
        Price::new(rates.selling(unit)?, line.quantity)?,
    ];
    section.cost = section.cost.minus(cost.amount)?.plus(moved[0].amount)?;
    section.price = section.price.minus(price.amount)?.plus(moved[1].amount)?;
    [line.cost, line.price] = moved.map(Some);
    Ok(())
}

fn text(line: &EstimateLine) -> String {
    match line.unit.as_str() {
        "each" => line.text.clone(),
        unit => format!("{} ({unit})", line.text),
    }
}
