//! From lengths to the plain problem and back.

use super::error::CutError;
use super::problem::{Bar, Item, Problem};
use super::rough::Rough;
use super::search::Solved;
use super::{Demand, Plan, Stick, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// Pieces up to which sums stay exact.
const PIECES: i64 = 1_000_000;

/// What is to be cut, checked and sorted.
#[derive(Debug)]
pub(super) struct Job {
    /// The given stock; where that may run out, behind it a stick that does
    /// not exist and costs more than any plan without it.
    pub(super) stock: Vec<Stock>,
    pub(super) problem: Problem,
    /// There are too many lengths to be exact.
    pub(super) rough: Option<Rough>,
    kerf: Length,
    lengths: Vec<Length>,
    /// The stocks of every bar, and how many sticks each has.
    sources: Vec<Vec<(usize, i64)>>,
    given: usize,
}

impl Job {
    /// Up to `kinds` different lengths the problem is taken as it is.
    pub(super) fn new(
        demand: &[Demand],
        stock: &[Stock],
        kerf: Length,
        kinds: usize,
    ) -> Result<Self, CutError> {
        if kerf < Length::ZERO {
            return Err(CutError::NotALength(kerf));
        }
        let mut wanted: BTreeMap<Length, u64> = BTreeMap::new();
        for Demand { length, count } in demand.iter().filter(|demand| demand.count > 0) {
            let sum = wanted.entry(*length).or_default();
            *sum = sum.saturating_add(*count);
        }
        let sticks = stock.iter().filter(|stock| stock.available != Some(0));
        let shortest = wanted
            .keys()
            .copied()
            .chain(sticks.clone().map(|stock| stock.length))
            .min();
        if let Some(length) = shortest.filter(|length| *length <= Length::ZERO) {
            return Err(CutError::NotALength(length));
        }
        let longest = sticks.map(|stock| stock.length).max();
        let longest = longest.unwrap_or(Length::ZERO);
        if let Some(piece) = wanted.keys().next_back().filter(|piece| **piece > longest) {
            return Err(CutError::PieceTooLong {
                piece: *piece,
                longest,
            });
        }
        let pieces = wanted
            .values()
            .fold(0_u64, |sum, count| sum.saturating_add(*count));
        let pieces = i64::try_from(pieces).unwrap_or(i64::MAX);
        let too_long = |length: Length| length > Length::LONGEST;
        if pieces > PIECES || too_long(longest) || too_long(kerf) {
            return Err(CutError::TooLarge);
        }
        let (bars, sources, all) = bars(stock, kerf, pieces, longest)?;
        let mut items = Vec::new();
        let mut lengths = Vec::new();
        for (length, count) in wanted.into_iter().rev() {
            lengths.push(length);
            items.push(Item {
                size: (length + kerf).nm(),
                count: i64::try_from(count).unwrap_or(i64::MAX),
            });
        }
        let problem = Problem { items, bars };
        Ok(Self {
            rough: (lengths.len() > kinds).then(|| Rough::new(&problem, kinds)),
            given: stock.len(),
            stock: all,
            problem,
            kerf,
            lengths,
            sources,
        })
    }

    /// The plan in lengths and sticks.
    pub(super) fn plan(&self, solved: &Solved) -> Plan {
        let mut sources = self.sources.clone();
        let mut sticks = Vec::new();
        for (pattern, times) in solved.cutting.clone().gathered().patterns {
            let mut times = times;
            let pieces: Vec<Length> = pattern
                .cuts
                .iter()
                .flat_map(|(item, count)| (0..*count).map(|_| self.lengths[*item]))
                .collect();
            let used: Length = pieces.iter().map(|piece| *piece + self.kerf).sum();
            for (stock, left) in &mut sources[pattern.bar] {
                let count = times.min(*left);
                if count > 0 {
                    *left -= count;
                    times -= count;
                    sticks.push(Stick {
                        stock: *stock,
                        rest: (self.stock[*stock].length - used).max(Length::ZERO),
                        pieces: pieces.clone(),
                        count: u64::try_from(count).unwrap_or(0),
                    });
                }
            }
        }
        sticks.sort_unstable_by(|a, b| (a.stock, &b.pieces).cmp(&(b.stock, &a.pieces)));
        Plan {
            sticks,
            cost: u64::try_from(solved.cutting.cost).unwrap_or(0),
            bound: u64::try_from(solved.bound).unwrap_or(0),
        }
    }

    /// Refuses a plan with sticks that do not exist.
    pub(super) fn refuse_shortage(&self, plan: &Plan) -> Result<(), CutError> {
        let missing = plan.sticks.iter().filter(|stick| stick.stock >= self.given);
        let pieces: u64 = missing
            .map(|stick| stick.count * u64::try_from(stick.pieces.len()).unwrap_or(0))
            .sum();
        if pieces == 0 {
            return Ok(());
        }
        let dearest = self.stock.last().map_or(0, |stock| stock.cost);
        Err(CutError::OutOfStock {
            pieces,
            proven: plan.bound >= dearest,
        })
    }
}

type Bars = (Vec<Bar>, Vec<Vec<(usize, i64)>>, Vec<Stock>);

/// The bars, their sources, and the stock with what was added to it. Bars that
/// a longer one without limit undercuts are left out.
fn bars(stock: &[Stock], kerf: Length, pieces: i64, longest: Length) -> Result<Bars, CutError> {
    let mut stock = stock.to_vec();
    let limit = |stock: &Stock| {
        let available = stock.available.unwrap_or(u64::MAX);
        i64::try_from(available).unwrap_or(i64::MAX).min(pieces)
    };
    if !stock
        .iter()
        .any(|stock| stock.length >= longest && limit(stock) >= pieces)
    {
        let total = stock.iter().try_fold(1_u64, |total, stock| {
            let number = u64::try_from(limit(stock)).ok()?;
            total.checked_add(stock.cost.checked_mul(number)?)
        });
        stock.push(Stock {
            length: longest,
            cost: total.ok_or(CutError::TooLarge)?,
            available: None,
        });
    }
    let mut merged: BTreeMap<(Length, u64), Vec<(usize, i64)>> = BTreeMap::new();
    for (index, one) in stock.iter().enumerate() {
        let undercut = stock.iter().enumerate().any(|(other, better)| {
            other != index
                && better.available.is_none()
                && better.length >= one.length
                && better.cost <= one.cost
                && ((better.length, better.cost) != (one.length, one.cost)
                    || one.available.is_some()
                    || other < index)
        });
        if limit(one) > 0 && !undercut {
            let sources = merged.entry((one.length, one.cost)).or_default();
            sources.push((index, limit(one)));
        }
    }
    let mut bars = Vec::new();
    let mut sources = Vec::new();
    for ((length, cost), from) in merged {
        let cost = i64::try_from(cost).map_err(|_| CutError::TooLarge)?;
        // Prices times pieces stay within 62 bits: see `relax::scale`.
        if i128::from(cost) * i128::from(pieces.max(1)) >= 1 << 58 {
            return Err(CutError::TooLarge);
        }
        bars.push(Bar {
            room: (length + kerf).nm(),
            cost,
            limit: from.iter().map(|(_, limit)| limit).sum::<i64>().min(pieces),
        });
        sources.push(from);
    }
    Ok((bars, sources, stock))
}
