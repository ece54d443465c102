//! The cut plan against brute force, best fit and published jobs.

mod brute;
mod published;
mod random;

use super::{CutError, Demand, Plan, Stock, plan, verify};
use crate::quantity::Length;

const fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn pieces(millimetres: &[i64]) -> Vec<Demand> {
    let one = |length: &i64| Demand {
        length: mm(*length),
        count: 1,
    };
    millimetres.iter().map(one).collect()
}

fn endless(millimetres: i64, cost: u64) -> Stock {
    Stock {
        length: mm(millimetres),
        cost,
        available: None,
    }
}

fn offcuts(millimetres: i64, available: u64) -> Stock {
    Stock {
        length: mm(millimetres),
        cost: 0,
        available: Some(available),
    }
}

/// Plans, and checks that the plan holds.
fn checked(demand: &[Demand], stock: &[Stock], kerf: Length) -> Plan {
    let plan = plan(demand, stock, kerf).unwrap();
    assert!(
        verify::holds(&plan, demand, stock, kerf),
        "{demand:?} {stock:?} {kerf:?} {plan:?}"
    );
    plan
}

#[test]
fn the_last_piece_may_finish_flush() {
    for (length, kerf, sticks) in [
        (2000, 0, 1),
        (2000, 2, 2),
        (1998, 3, 1),
        (1999, 3, 2),
        (6000, 3, 3),
    ] {
        let plan = checked(&pieces(&[length; 3]), &[endless(6000, 1)], mm(kerf));
        assert_eq!((plan.cost, plan.bound), (sticks, sticks), "{length} {kerf}");
    }
}

#[test]
fn says_what_is_left_of_a_stick() {
    let demand = pieces(&[2500, 1500]);
    for (kerf, rest) in [(0, 2000), (3, 1994), (999, 2), (1000, 0), (1999, 0)] {
        let plan = checked(&demand, &[endless(6000, 1)], mm(kerf));
        assert_eq!(plan.sticks.len(), 1, "{kerf}");
        assert_eq!(plan.sticks[0].pieces, [mm(2500), mm(1500)], "{kerf}");
        assert_eq!(plan.sticks[0].rest, mm(rest), "{kerf}");
    }
}

#[test]
fn buys_the_cheapest_mix() {
    let stock = [endless(3000, 1990), endless(6000, 3790)];
    for (demand, cost) in [
        (&[2900][..], 1990),
        (&[2900, 2900], 3790),
        (&[2900, 2900, 2900], 5780),
        (&[3100, 2890], 3790),
        (&[3100, 3100, 2890], 7580),
    ] {
        let plan = checked(&pieces(demand), &stock, mm(3));
        assert_eq!((plan.cost, plan.bound), (cost, cost), "{demand:?}");
    }
}

#[test]
fn takes_offcuts_first_and_no_more_than_there_are() {
    let stock = [endless(6000, 3790), offcuts(1500, 2), offcuts(800, 1)];
    for (demand, cost) in [
        (&[1400, 1400, 700][..], 0),
        (&[1400, 1400, 1400], 3790),
        (&[1400, 700, 700, 700], 0),
        (&[700; 6], 3790),
        (&[5000, 1500, 800], 3790),
    ] {
        let plan = checked(&pieces(demand), &stock, mm(3));
        assert_eq!((plan.cost, plan.bound), (cost, cost), "{demand:?}");
    }
}

#[test]
fn says_why_there_is_no_plan() {
    let stick = [endless(6000, 1)];
    let few = [offcuts(2000, 2), offcuts(1000, 1)];
    for (demand, stock, kerf, error) in [
        (
            pieces(&[5000, 6001, 7000]),
            &stick[..],
            0,
            CutError::PieceTooLong {
                piece: mm(7000),
                longest: mm(6000),
            },
        ),
        (
            pieces(&[10]),
            &[],
            0,
            CutError::PieceTooLong {
                piece: mm(10),
                longest: mm(0),
            },
        ),
        (
            pieces(&[1500]),
            &[offcuts(1500, 0)],
            0,
            CutError::PieceTooLong {
                piece: mm(1500),
                longest: mm(0),
            },
        ),
        (
            pieces(&[1500, 1400, 1300, 900]),
            &few,
            3,
            CutError::OutOfStock {
                pieces: 1,
                proven: true,
            },
        ),
        (pieces(&[0]), &stick, 0, CutError::NotALength(mm(0))),
        (pieces(&[10]), &stick, -1, CutError::NotALength(mm(-1))),
        (
            vec![Demand {
                length: mm(1),
                count: u64::MAX,
            }],
            &stick,
            0,
            CutError::TooLarge,
        ),
        (
            pieces(&[10]),
            &[endless(6000, u64::MAX)],
            0,
            CutError::TooLarge,
        ),
        (
            pieces(&[10]),
            &[endless(i64::MAX / 1_000_000, 1)],
            0,
            CutError::TooLarge,
        ),
    ] {
        assert_eq!(plan(&demand, stock, mm(kerf)), Err(error), "{demand:?}");
    }
}

#[test]
fn nothing_to_cut_costs_nothing() {
    for stock in [&[][..], &[endless(6000, 1)], &[offcuts(100, 1)]] {
        let plan = checked(&[], stock, mm(3));
        assert_eq!((plan.sticks.len(), plan.cost, plan.bound), (0, 0, 0));
    }
}

#[test]
fn the_order_of_the_request_does_not_matter() {
    let mut demand = pieces(&[2310, 480, 1775, 480, 2990, 640, 1205, 1775, 333]);
    let mut stock = vec![endless(3000, 1990), endless(6000, 3790), offcuts(1300, 1)];
    let first = checked(&demand, &stock, mm(3));
    for _ in 0..demand.len() {
        demand.rotate_left(1);
        assert_eq!(checked(&demand, &stock, mm(3)), first);
    }
    demand.reverse();
    assert_eq!(checked(&demand, &stock, mm(3)), first);
    stock.reverse();
    let turned = checked(&demand, &stock, mm(3));
    assert_eq!((turned.cost, turned.bound), (first.cost, first.bound));
}

#[test]
fn hard_requests_end() {
    // Many thin pieces, lengths that differ by a hair, and many offcuts.
    let thin = (0..300).map(|n| Demand {
        length: Length::from_nm(10_000_000 + n * 170_017),
        count: 3,
    });
    let alike = (0..120).map(|n| Demand {
        length: Length::from_nm(1_000_000_000 + n * 1_000_003),
        count: 2,
    });
    let mixed = (0..40).map(|n| Demand {
        length: mm(300 + 61 * n),
        count: 1,
    });
    let mut bench: Vec<Stock> = (0..30).map(|n| offcuts(350 + 47 * n, 1)).collect();
    bench.push(endless(6000, 3790));
    // One stick for each: the deepest search.
    let long = (0..1_000).map(|n| Demand {
        length: mm(3100 + n % 250),
        count: 1,
    });
    for (demand, stock) in [
        (
            long.collect(),
            vec![endless(6000, 3790), endless(5000, 3500)],
        ),
        (thin.collect::<Vec<_>>(), vec![endless(6000, 1)]),
        (
            alike.collect(),
            vec![endless(6000, 3790), endless(3000, 1990)],
        ),
        (mixed.collect(), bench),
    ] {
        let plan = checked(&demand, &stock, mm(3));
        assert!(
            plan.cost * 100 <= plan.bound * 101,
            "{} {}",
            plan.cost,
            plan.bound
        );
    }
}
