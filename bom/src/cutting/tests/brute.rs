//! Every way to cut small jobs.

use super::super::{Stock, plan};
use super::random::Dice;
use super::{CutError, checked, mm, pieces};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// The least cost by trying everything: the first piece that is left goes into
/// a stick with each subset of the others. None if the stock runs out.
fn least_cost(
    lengths: &[i64],
    stock: &[Stock],
    kerf: i64,
    left: usize,
    sticks: &[u64],
    known: &mut BTreeMap<(usize, Vec<u64>), Option<u64>>,
) -> Option<u64> {
    if left == 0 {
        return Some(0);
    }
    let state = (left, sticks.to_vec());
    if let Some(cost) = known.get(&state) {
        return *cost;
    }
    let first = 1 << left.trailing_zeros();
    let others = left ^ first;
    let mut best: Option<u64> = None;
    let mut subset = others;
    loop {
        let stick = subset | first;
        let chosen = (0..lengths.len()).filter(|piece| stick >> piece & 1 == 1);
        let used: i64 = chosen.map(|piece| lengths[piece] + kerf).sum();
        for (index, kind) in stock.iter().enumerate() {
            if sticks[index] > 0 && mm(used) <= kind.length + mm(kerf) {
                let mut rest = sticks.to_vec();
                if kind.available.is_some() {
                    rest[index] -= 1;
                }
                let cost = least_cost(lengths, stock, kerf, left ^ stick, &rest, known);
                if let Some(cost) = cost {
                    best = Some(best.unwrap_or(u64::MAX).min(cost + kind.cost));
                }
            }
        }
        if subset == 0 {
            break;
        }
        subset = (subset - 1) & others;
    }
    known.insert(state, best);
    best
}

fn brute(lengths: &[i64], stock: &[Stock], kerf: i64) -> Option<u64> {
    let sticks: Vec<u64> = stock
        .iter()
        .map(|kind| kind.available.unwrap_or(1))
        .collect();
    let all = (1 << lengths.len()) - 1;
    least_cost(lengths, stock, kerf, all, &sticks, &mut BTreeMap::new())
}

/// A small job: pieces, stocks of which the last is always long enough, kerf.
fn job(dice: &mut Dice, most: u64, limits: bool) -> (Vec<i64>, Vec<Stock>, i64) {
    let grid = [1, 10, 250][dice.index(3)];
    let lengths = (0..1 + dice.below(most)).map(|_| grid * (1 + dice.number(3000 / grid)));
    let lengths: Vec<i64> = lengths.collect();
    let kinds = 1 + dice.below(3);
    let mut stock: Vec<Stock> = (0..kinds)
        .map(|_| Stock {
            length: mm(1000 + dice.number(5001)),
            cost: [1, 10 * dice.below(400), 1 + dice.below(4000)][dice.index(3)],
            available: (limits && dice.below(2) == 0).then(|| dice.below(4)),
        })
        .collect();
    if !limits {
        stock[0].length = mm(3000 + dice.number(3001));
    }
    (lengths, stock, dice.number(6))
}

#[test]
fn equals_brute_force_with_endless_stock() {
    let mut dice = Dice::new(1);
    for _ in 0..2_000 {
        let (lengths, stock, kerf) = job(&mut dice, 9, false);
        let plan = checked(&pieces(&lengths), &stock, mm(kerf));
        let least = brute(&lengths, &stock, kerf);
        let found = (Some(plan.cost), Some(plan.bound));
        assert_eq!(found, (least, least), "{lengths:?} {stock:?} {kerf}");
    }
}

#[test]
fn equals_brute_force_with_limited_stock() {
    let mut dice = Dice::new(2);
    let mut short = 0;
    for _ in 0..2_000 {
        let (lengths, stock, kerf) = job(&mut dice, 7, true);
        let least = brute(&lengths, &stock, kerf);
        match plan(&pieces(&lengths), &stock, mm(kerf)) {
            Ok(plan) => {
                let found = (Some(plan.cost), Some(plan.bound));
                assert_eq!(found, (least, least), "{lengths:?} {stock:?} {kerf}");
            }
            Err(CutError::OutOfStock { proven, .. }) => {
                assert!(proven, "{lengths:?} {stock:?} {kerf}");
                assert_eq!(least, None, "{lengths:?} {stock:?} {kerf}");
                short += 1;
            }
            Err(CutError::PieceTooLong { piece, longest }) => {
                assert!(piece > longest);
                assert_eq!(least, None, "{lengths:?} {stock:?} {kerf}");
            }
            Err(error) => panic!("{error:?}: {lengths:?} {stock:?} {kerf}"),
        }
    }
    assert!(short > 100, "{short}");
}

#[test]
fn brute_force_knows_a_hand_worked_job() {
    // Two sticks of 10 hold 6 + 4 and 5 + 5; with a kerf of 1 none does.
    let stock = [Stock {
        length: Length::from_mm(10),
        cost: 7,
        available: None,
    }];
    assert_eq!(brute(&[6, 5, 5, 4], &stock, 0), Some(14));
    assert_eq!(brute(&[6, 5, 5, 4], &stock, 1), Some(21));
}
