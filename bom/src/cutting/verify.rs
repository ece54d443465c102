//! The last look at a plan before it leaves: everything recounted from the
//! request itself.

use super::{Demand, Plan, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// Whether the plan cuts exactly the demand out of the stock at its stated
/// cost, not below its bound.
pub(super) fn holds(plan: &Plan, demand: &[Demand], stock: &[Stock], kerf: Length) -> bool {
    let mut open: BTreeMap<Length, i128> = BTreeMap::new();
    for Demand { length, count } in demand {
        *open.entry(*length).or_default() += i128::from(*count);
    }
    let mut taken = vec![0_u128; stock.len()];
    let mut cost = 0_u128;
    for stick in &plan.sticks {
        let Some(source) = stock.get(stick.stock) else {
            return false;
        };
        let used: i128 = stick
            .pieces
            .iter()
            .map(|piece| i128::from(piece.nm()) + i128::from(kerf.nm()))
            .sum();
        let over = used - i128::from(source.length.nm());
        if over > i128::from(kerf.nm()) || i128::from(stick.rest.nm()) != (-over).max(0) {
            return false;
        }
        for piece in &stick.pieces {
            *open.entry(*piece).or_default() -= i128::from(stick.count);
        }
        taken[stick.stock] += u128::from(stick.count);
        cost += u128::from(source.cost) * u128::from(stick.count);
    }
    let within = taken.iter().zip(stock).all(|(taken, stock)| {
        stock
            .available
            .is_none_or(|available| *taken <= u128::from(available))
    });
    within
        && open.values().all(|count| *count == 0)
        && cost == u128::from(plan.cost)
        && plan.bound <= plan.cost
}
