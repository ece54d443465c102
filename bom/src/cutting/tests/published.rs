//! Jobs whose answer is published.

use super::super::Demand;
use super::{checked, endless, mm};

fn rolls(widths: &[(i64, u64)]) -> Vec<Demand> {
    let one = |(width, count): &(i64, u64)| Demand {
        length: mm(*width),
        count: *count,
    };
    widths.iter().map(one).collect()
}

/// V. Chvátal, Linear Programming (1983), chapter 13, with the data of GAMS
/// model library no. 294: 452.25 rolls if they could be cut in fractions, so
/// 453; restated exactly.
#[test]
fn four_widths_take_453_rolls() {
    let widths = rolls(&[(45, 97), (36, 610), (31, 395), (14, 211)]);
    let plan = checked(&widths, &[endless(100, 1)], mm(0));
    assert_eq!((plan.cost, plan.bound), (453, 453));
}

/// The paper machine of the English Wikipedia article "Cutting-stock problem":
/// 407 160 mm of product from rolls of 5600 mm take at least 72.7 rolls, and 73
/// are enough, with 0.401 % waste; restated exactly.
#[test]
fn the_paper_machine_takes_73_rolls() {
    let widths = rolls(&[
        (1380, 22),
        (1520, 25),
        (1560, 12),
        (1710, 14),
        (1820, 18),
        (1880, 18),
        (1930, 20),
        (2000, 10),
        (2050, 12),
        (2100, 14),
        (2140, 16),
        (2150, 18),
        (2200, 20),
    ]);
    let plan = checked(&widths, &[endless(5600, 1)], mm(0));
    assert_eq!((plan.cost, plan.bound), (73, 73));
    let rest: i64 = plan
        .sticks
        .iter()
        .map(|stick| stick.rest.times(i64::try_from(stick.count).unwrap()).nm())
        .sum();
    assert_eq!(mm(73 * 5600 - 407_160).nm(), rest);
}
