//! What a stated price buys, and what a pack then costs.

use super::Unit;
use crate::money::{Currency, Money};
use bom::quantity::{Length, QuantityError, Units};
use rust_decimal::Decimal;

/// What a stated price buys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PriceFor {
    /// The pack, as a price list of ours states it.
    Pack,
    /// So many units: 100 elbows, one stick.
    Units(u64),
    /// So much pipe.
    Length(Length),
}

impl PriceFor {
    /// Reads `pack`, `each`, `100`, `ft`, `100ft`, `m`.
    ///
    /// # Errors
    /// Anything else.
    pub(crate) fn parse(text: &str) -> Result<Self, QuantityError> {
        let digits = text.bytes().all(|byte| byte.is_ascii_digit());
        let length = || {
            let text = match text {
                "ft" | "m" => format!("1{text}"),
                _ => text.to_owned(),
            };
            let length = Length::parse(&text, Units::Metric).ok();
            length.filter(|length| *length > Length::ZERO)
        };
        match text {
            "" | "pack" => Some(Self::Pack),
            "each" | "stick" | "roll" => Some(Self::Units(1)),
            _ if digits => {
                let count = text.parse().ok().filter(|count| *count > 0);
                count.map(Self::Units)
            }
            _ => length().map(Self::Length),
        }
        .ok_or_else(|| QuantityError {
            message: format!("`{text}` does not say what a price buys"),
            help: "write pack, each, a number of units like 100, or a length of pipe like ft, 100ft or m"
                .to_owned(),
        })
    }

    /// The price of a pack of `pack` units, and whether it had to be rounded
    /// to the minor unit.
    ///
    /// # Errors
    /// A length of what is no pipe; none if the price has too many digits.
    pub(super) fn of_pack(
        self,
        amount: Decimal,
        currency: Currency,
        unit: Unit,
        pack: u64,
    ) -> Result<(Money, bool), Option<&'static str>> {
        let (bought, stated) = match self {
            Self::Pack => (Decimal::ONE, Decimal::ONE),
            Self::Units(count) => (Decimal::from(pack), Decimal::from(count)),
            Self::Length(stated) => {
                let of_one = match unit {
                    Unit::Stick(length) => length,
                    Unit::Foot => Length::from_feet(1),
                    Unit::Metre => Length::from_mm(1_000),
                    Unit::Each => return Err(Some("a price by length is one of pipe")),
                };
                let bought = Decimal::from(of_one.nm()).checked_mul(Decimal::from(pack));
                (bought.ok_or(None)?, Decimal::from(stated.nm()))
            }
        };
        let price = Money::of_part(amount, bought, stated, currency);
        price.map_err(|_| None)
    }
}

#[cfg(test)]
mod tests {
    use super::{PriceFor, Unit};
    use crate::money::Currency;
    use bom::quantity::Length;
    use rust_decimal::Decimal;

    #[test]
    fn a_price_is_brought_to_a_pack() {
        let (stick, metres) = (
            Unit::Stick(Length::from_feet(21)),
            Unit::Stick(Length::from_mm(6_000)),
        );
        for (price_for, price, unit, pack, expected) in [
            ("", "31.90", Unit::Each, 10, ("31.90", false)),
            ("pack", "31.90", Unit::Each, 10, ("31.90", false)),
            ("each", "3.19", Unit::Each, 10, ("31.90", false)),
            ("100", "118.00", Unit::Each, 1, ("1.18", false)),
            ("100", "118.50", Unit::Each, 1, ("1.19", true)),
            ("100", "118.50", Unit::Each, 20, ("23.70", false)),
            ("ft", "1.52", stick, 1, ("31.92", false)),
            ("100ft", "152.00", stick, 1, ("31.92", false)),
            ("m", "5.00", metres, 1, ("30.00", false)),
            ("m", "5.00", stick, 1, ("32.00", true)),
            ("100ft", "152.00", Unit::Foot, 1, ("1.52", false)),
        ] {
            let (money, rounded) = PriceFor::parse(price_for)
                .unwrap()
                .of_pack(
                    price.parse().unwrap(),
                    Currency::parse("USD").unwrap(),
                    unit,
                    pack,
                )
                .unwrap();
            assert_eq!(
                (money.plain().as_str(), rounded),
                expected,
                "{price} for {price_for}"
            );
        }
        for text in ["0", "-1", "1.5", "box", "0ft", "per 100"] {
            assert!(PriceFor::parse(text).is_err(), "{text}");
        }
        let usd = Currency::parse("USD").unwrap();
        let by_length = PriceFor::Length(Length::from_feet(1));
        assert!(by_length.of_pack(Decimal::ONE, usd, Unit::Each, 1).is_err());
        assert_eq!(
            PriceFor::Units(1).of_pack(Decimal::MAX, usd, Unit::Each, u64::MAX),
            Err(None)
        );
    }
}
