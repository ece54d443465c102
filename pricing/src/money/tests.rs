use super::{Currency, Money, MoneyError};
use rust_decimal::Decimal;

fn currency(code: &str) -> Currency {
    Currency::parse(code).unwrap()
}

fn exact(text: &str) -> Decimal {
    Decimal::from_str_exact(text).unwrap()
}

fn usd(text: &str) -> Money {
    Money::new(exact(text), currency("USD"))
}

#[test]
fn rounds_half_away_from_zero_to_the_minor_unit() {
    for (amount, code, rounded) in [
        ("0.005", "USD", "0.01"),
        ("-0.005", "USD", "-0.01"),
        ("0.015", "USD", "0.02"),
        ("0.025", "USD", "0.03"),
        ("0.0249999999999999999999", "USD", "0.02"),
        ("2.675", "USD", "2.68"),
        ("-0.001", "USD", "0.00"),
        ("1234.5", "USD", "1234.50"),
        ("0.5", "JPY", "1"),
        ("1.5", "JPY", "2"),
        ("2.5", "KRW", "3"),
        ("1.0005", "KWD", "1.001"),
    ] {
        let money = Money::new(exact(amount), currency(code));
        assert_eq!(money.plain(), rounded, "{amount} {code}");
    }
}

#[test]
fn reads_exact_prices_only() {
    let parse = |text| Money::parse(text, currency("USD"));
    assert_eq!(parse("31.5").unwrap(), usd("31.50"));
    assert_eq!(parse(" 7 ").unwrap(), usd("7"));
    for text in ["1.234", "1,234", "1.2345", "1e3", "$5", "", "5 USD"] {
        assert!(parse(text).is_err(), "{text}");
    }
    assert_eq!(
        parse("1.234").unwrap_err().message,
        "`1.234` can be read two ways: is it 1234 or 1.23?"
    );
    assert_eq!(
        Money::parse("1.234", currency("KWD")).unwrap().plain(),
        "1.234"
    );
    assert!(Money::parse("1.5", currency("JPY")).is_err());
}

#[test]
fn shows_thousands_to_people_and_none_to_machines() {
    for (amount, shown) in [
        ("0", "0.00"),
        ("999.99", "999.99"),
        ("1234.5", "1,234.50"),
        ("-1234567.89", "-1,234,567.89"),
        ("-999", "-999.00"),
    ] {
        assert_eq!(usd(amount).show(), shown);
    }
    assert_eq!(
        Money::new(exact("1234567"), currency("JPY")).show(),
        "1,234,567"
    );
    assert_eq!(usd("1234567.89").plain(), "1234567.89");
}

#[test]
fn currencies_never_mix() {
    let euro = Money::new(Decimal::ONE, currency("EUR"));
    let mixed = MoneyError::Mixed(currency("USD"), currency("EUR"));
    assert_eq!(usd("1").plus(euro), Err(mixed));
    assert_eq!(usd("1").minus(euro), Err(mixed));
    assert_eq!(Money::sum(currency("USD"), [usd("1"), euro]), Err(mixed));
    for code in ["usd", "US", "DOLLAR", "", "€", "U$D"] {
        assert!(Currency::parse(code).is_err(), "{code}");
    }
}

#[test]
fn too_large_is_said_and_not_a_panic() {
    let huge = Money::new(Decimal::MAX, currency("USD"));
    assert_eq!(huge.times(exact("2")), Err(MoneyError::TooLarge));
    assert_eq!(huge.plus(huge), Err(MoneyError::TooLarge));
    assert_eq!(
        huge.allocate(&[exact("30"), exact("70")]),
        Err(MoneyError::TooLarge)
    );
    assert_eq!(
        usd("1").scaled(Decimal::ONE, Decimal::ZERO),
        Err(MoneyError::TooLarge)
    );
}

#[test]
fn shares_add_up_to_the_whole() {
    for (whole, weights, shares) in [
        (
            "100",
            &["1", "1", "1"][..],
            &["33.34", "33.33", "33.33"][..],
        ),
        ("0.05", &["50", "50"], &["0.03", "0.02"]),
        ("-100", &["1", "1", "1"], &["-33.34", "-33.33", "-33.33"]),
        ("10", &["30", "60", "10"], &["3.00", "6.00", "1.00"]),
        ("0.01", &["10", "45", "45"], &["0.00", "0.01", "0.00"]),
        ("5", &["0", "0"], &["5.00", "0.00"]),
        ("5", &["-1", "2"], &["0.00", "5.00"]),
    ] {
        let weights: Vec<Decimal> = weights.iter().map(|weight| exact(weight)).collect();
        let parts = usd(whole).allocate(&weights).unwrap();
        let printed: Vec<String> = parts.iter().map(Money::plain).collect();
        assert_eq!(printed, shares, "{whole} by {weights:?}");
        assert_eq!(Money::sum(currency("USD"), parts).unwrap(), usd(whole));
    }
}

/// Markup and margin of the same prices, by exact arithmetic:
/// margin = markup / (100 + markup), percentages to four decimals.
#[test]
fn markup_is_on_the_cost_and_margin_in_the_price() {
    let cost = usd("10000");
    let hundred = Decimal::ONE_HUNDRED;
    for (markup, price, margin) in [
        ("10", "11000.00", "9.0909"),
        ("15", "11500.00", "13.0435"),
        ("20", "12000.00", "16.6667"),
        ("25", "12500.00", "20"),
        ("33.3333", "13333.33", "25"),
        ("50", "15000.00", "33.3333"),
    ] {
        let sold = cost.scaled(hundred + exact(markup), hundred).unwrap();
        assert_eq!(sold.plain(), price, "markup {markup}");
        let profit = sold.minus(cost).unwrap();
        assert_eq!(profit.percent_of(sold).unwrap(), Some(exact(margin)));
    }
    for (margin, price, markup) in [
        ("10", "11111.11", "11.1111"),
        ("15", "11764.71", "17.6471"),
        ("20", "12500.00", "25"),
        ("25", "13333.33", "33.3333"),
        ("30", "14285.71", "42.8571"),
    ] {
        let sold = cost.scaled(hundred, hundred - exact(margin)).unwrap();
        assert_eq!(sold.plain(), price, "margin {margin}");
        let profit = sold.minus(cost).unwrap();
        assert_eq!(profit.percent_of(cost).unwrap(), Some(exact(markup)));
    }
    assert_eq!(cost.percent_of(usd("0")), Ok(None));
}

#[test]
fn a_percentage_reads_to_one_decimal_and_half_goes_up() {
    for (figure, said) in [
        ("20.0084", "20.0"),
        ("25.0132", "25.0"),
        ("33.35", "33.4"),
        ("-0.25", "-0.3"),
        ("7", "7.0"),
    ] {
        assert_eq!(super::tenths(exact(figure)), said);
    }
}
