//! Margin, markup and chains of discounts, worked with the sums of the papers.

use crate::support::{read, root};
use bom::source::Source;
use pricing::money::{Currency, Money};
use pricing::rates::Rates;
use rust_decimal::Decimal;

fn exact(text: &str) -> Decimal {
    Decimal::from_str_exact(text).unwrap()
}

fn usd(text: &str) -> Money {
    Money::new(exact(text), Currency::parse("USD").unwrap())
}

/// The demo's rates with these figures in percent and nothing put by.
fn rates(overhead: &str, margin: &str) -> Rates {
    let text = read(root().join("catalogs-demo/rates.toml"))
        .replacen("\"12\" ", &format!("\"{overhead}\" "), 1)
        .replacen("\"4\" ", "\"0\" ", 1)
        .replacen("\"20\" ", &format!("\"{margin}\" "), 1);
    Rates::read(&Source::new("rates.toml", text)).0.unwrap()
}

/// A margin m is a part of the price, a markup k a part of the cost:
/// k = m / (1 - m), m = k / (1 + k). Standard arithmetic, to four decimals.
#[test]
fn a_margin_is_a_part_of_the_price_and_a_markup_of_the_cost() {
    let cost = usd("10000");
    for (margin, markup, price) in [
        ("10", "11.1111", "11111.11"),
        ("15", "17.6471", "11764.71"),
        ("20", "25", "12500.00"),
        ("25", "33.3333", "13333.33"),
        ("30", "42.8571", "14285.71"),
        ("9.0909", "10", "11000.00"),
        ("13.0435", "15", "11500.00"),
        ("16.6667", "20", "12000.00"),
        ("33.3333", "50", "15000.00"),
    ] {
        let sold = rates("0", margin).selling(cost).unwrap();
        let off = sold.minus(usd(price)).unwrap().amount().abs();
        // Half of the margin's fourth decimal is less than a cent of the price.
        assert!(off <= exact("0.01"), "{margin}: {}", sold.plain());
        let profit = usd(price).minus(cost).unwrap();
        let of = |whole| profit.percent_of(whole).unwrap().unwrap();
        assert!(
            (of(usd(price)) - exact(margin)).abs() <= exact("0.0001"),
            "{margin}"
        );
        assert!(
            (of(cost) - exact(markup)).abs() <= exact("0.0001"),
            "{markup}"
        );
    }
    // Exactly where both are whole.
    assert_eq!(rates("0", "20").selling(cost).unwrap().plain(), "12500.00");
    assert_eq!(rates("0", "25").selling(cost).unwrap().plain(), "13333.33");
    // Overhead of 12 % first: 11,200 / 0.8.
    assert_eq!(rates("12", "20").selling(cost).unwrap().plain(), "14000.00");
}

/// Trade discounts are taken one on what the other leaves: a list price less 40,
/// 10 and 5 % is 0.6 x 0.9 x 0.95 = 0.513 of it, one discount of 48.7 %, in
/// whatever order. Standard arithmetic.
#[test]
fn a_chain_of_discounts_is_a_product() {
    let list = usd("1000");
    for chain in [["40", "10", "5"], ["5", "40", "10"], ["10", "5", "40"]] {
        let net = chain.iter().fold(list, |net, off| {
            let left = Decimal::ONE_HUNDRED - exact(off);
            net.scaled(left, Decimal::ONE_HUNDRED).unwrap()
        });
        assert_eq!(net.plain(), "513.00", "{chain:?}");
        let off = list.minus(net).unwrap().percent_of(list).unwrap();
        assert_eq!(off.unwrap().to_string(), "48.7");
    }
}
