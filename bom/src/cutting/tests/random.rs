//! Random jobs: bounds and best fit.

use super::super::group::Job;
use super::super::{Demand, Stock, search, verify};
use super::{checked, endless, mm, plan};
use crate::quantity::Length;

/// SplitMix64: the same numbers on every machine.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (mixed ^ (mixed >> 31)) % end
    }

    pub(super) fn number(&mut self, end: i64) -> i64 {
        i64::try_from(self.below(u64::try_from(end).unwrap())).unwrap()
    }

    pub(super) fn index(&mut self, end: usize) -> usize {
        usize::try_from(self.below(u64::try_from(end).unwrap())).unwrap()
    }
}

/// The cost of best fit, the longest piece first, with new sticks of one kind.
fn best_fit(demand: &[Demand], stock: &Stock, kerf: Length) -> Option<u64> {
    let mut lengths: Vec<Length> = Vec::new();
    for Demand { length, count } in demand {
        lengths.extend((0..*count).map(|_| *length));
    }
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    let mut open: Vec<Length> = Vec::new();
    for length in lengths {
        let size = length + kerf;
        let fullest = open.iter_mut().filter(|room| **room >= size).min();
        match fullest {
            Some(room) => *room -= size,
            None if length > stock.length => return None,
            None => open.push(stock.length + kerf - size),
        }
    }
    Some(u64::try_from(open.len()).unwrap() * stock.cost)
}

#[test]
fn bounds_hold_and_best_fit_is_no_better_on_ten_thousand_jobs() {
    let mut dice = Dice::new(3);
    for _ in 0..10_000 {
        let most = [4, 8, 12][dice.index(3)];
        let demand: Vec<Demand> = (0..1 + dice.below(most))
            .map(|_| Demand {
                length: mm(50 + dice.number(2951)),
                count: [1, 1, 1 + dice.below(3)][dice.index(3)],
            })
            .collect();
        let stock: Vec<Stock> = (0..1 + dice.below(3))
            .map(|_| endless(3000 + dice.number(3001), 1 + dice.below(5000)))
            .collect();
        let kerf = mm(dice.number(6));
        // The check includes that the bound is not above the cost.
        let plan = checked(&demand, &stock, kerf);
        for kind in &stock {
            let greedy = best_fit(&demand, kind, kerf).unwrap();
            assert!(plan.cost <= greedy, "{demand:?} {stock:?} {kerf:?}");
        }
    }
}

#[test]
fn no_request_panics() {
    let mut dice = Dice::new(7);
    let end = [10, 10_000, 1_000_000_000_000, i64::MAX];
    let ends = [1, 3, 1_000, 2_000_000, u64::MAX];
    let number = |dice: &mut Dice| {
        let end = ends[dice.index(5)];
        dice.below(end)
    };
    let length = |dice: &mut Dice| {
        let end = end[dice.index(4)];
        Length::from_nm(dice.number(end) - end / 50)
    };
    for _ in 0..1_000 {
        let lengths: Vec<Length> = (0..4).map(|_| length(&mut dice)).collect();
        let demand: Vec<Demand> = lengths[..2]
            .iter()
            .map(|length| Demand {
                length: *length,
                count: number(&mut dice),
            })
            .collect();
        let stock: Vec<Stock> = lengths[2..]
            .iter()
            .map(|length| Stock {
                length: *length,
                cost: number(&mut dice),
                available: (dice.below(2) == 0).then(|| number(&mut dice)),
            })
            .collect();
        let kerf = length(&mut dice);
        if plan(&demand, &stock, kerf).is_ok() {
            checked(&demand, &stock, kerf);
        }
    }
}

#[test]
fn shop_jobs_are_proven() {
    let mut dice = Dice::new(4);
    let stock = [endless(3000, 1990), endless(6000, 3790)];
    let mut proven = 0;
    for _ in 0..20 {
        let demand: Vec<Demand> = (0..20 + dice.below(41))
            .map(|_| Demand {
                length: mm(280 + dice.number(2701)),
                count: 1,
            })
            .collect();
        let plan = checked(&demand, &stock, mm(3));
        assert!(plan.cost * 1_000 <= plan.bound * 1_005);
        proven += u32::from(plan.proven());
    }
    assert!(proven >= 19, "{proven}");
}

#[test]
fn a_hundred_thousand_pieces_are_within_one_per_cent() {
    let mut dice = Dice::new(5);
    let stock = [endless(4000, 2750), endless(6000, 3980)];
    let demand: Vec<Demand> = (0..100)
        .map(|_| Demand {
            length: mm(280 + dice.number(3201)),
            count: 1_000,
        })
        .collect();
    let plan = checked(&demand, &stock, mm(3));
    assert!(plan.cost * 100 <= plan.bound * 101);
}

/// 400 lengths in 50 classes of 8 neighbours, about 40 mm wide: half of that
/// up and half of it down is 2 % of a piece.
#[test]
fn lengths_in_classes_give_a_plan_and_a_bound() {
    let mut dice = Dice::new(6);
    let stock = [endless(4000, 2750), endless(6000, 3980)];
    let demand: Vec<Demand> = (0..400)
        .map(|_| Demand {
            length: mm(1500) + Length::from_nm(1_000 * dice.number(2_000_000)),
            count: 1 + dice.below(20),
        })
        .collect();
    let job = Job::new(&demand, &stock, mm(3), 50).unwrap();
    let plan = job.plan(&search::solve(&job));
    assert!(verify::holds(&plan, &demand, &stock, mm(3)));
    assert!(plan.cost * 100 <= plan.bound * 103);
    for kind in &stock {
        assert!(plan.cost <= best_fit(&demand, kind, mm(3)).unwrap());
    }
}
