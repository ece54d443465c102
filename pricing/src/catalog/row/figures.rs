//! What a row says in figures: packs, prices and dates.

use super::{PIPE, Reading, Row};
use crate::catalog::Unit;
use crate::catalog::columns::Column;
use crate::catalog::mapping::{Mapping, Numbers, dates};
use crate::catalog::price_for::PriceFor;
use crate::money::{Currency, Money};
use bom::library::Part;
use bom::quantity::QuantityError;
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::borrow::Cow;

impl<'a> Row<'a> {
    /// A number as the sheet writes it, with a point and no other mark.
    fn plain(&self, written: &'a str) -> Cow<'a, str> {
        let numbers = self.reading.mapping.map(Mapping::numbers);
        match numbers.map(|numbers| numbers.read(written)) {
            Some(Ok(number)) => Cow::Owned(number.normalize().to_string()),
            _ => Cow::Borrowed(written),
        }
    }

    /// A whole number of 1 or more; 1 if the cell is empty.
    pub(super) fn whole(&mut self, column: Column) -> u64 {
        let written = self.cells.get(column);
        if written.is_empty() {
            return 1;
        }
        let plain = self.plain(written);
        let digits = plain.bytes().all(|byte| byte.is_ascii_digit());
        let number = plain.parse().ok().filter(|number| digits && *number >= 1);
        number.unwrap_or_else(|| {
            self.unreadable(
                "catalog-number",
                format!(
                    "`{written}` in the column `{}` is not a whole number of 1 or more",
                    column.name()
                ),
                "write digits only, like 10",
            );
            1
        })
    }

    /// The price of a pack, and whether it was rounded to the minor unit.
    pub(super) fn price(
        &mut self,
        unit: Option<Unit>,
        pack: u64,
        part: Option<&Part>,
    ) -> Option<(Money, bool)> {
        self.currency();
        let price_for = self.price_for(part)?;
        let written = self.cells.get(Column::Price);
        if written.is_empty() {
            return None;
        }
        let amount = match amount(written, self.reading) {
            Ok(amount) if amount > Decimal::ZERO => amount,
            Ok(_) => {
                self.error(
                    "catalog-price",
                    format!("a price of {written} is none"),
                    "leave the price empty until it is known",
                );
                return None;
            }
            Err(error) => {
                self.unreadable("catalog-price", error.message, error.help);
                return None;
            }
        };
        match price_for.of_pack(amount, self.reading.currency, unit?, pack) {
            Ok((price, _)) if price.amount().is_zero() => {
                self.error(
                    "catalog-price",
                    format!("a price of {written} comes to less than the smallest coin"),
                    "sell it by a larger pack",
                );
                None
            }
            Ok(price) => Some(price),
            Err(reason) => {
                let reason = reason.unwrap_or("the price has more digits than can be kept exactly");
                self.unreadable("catalog-price", reason, "check the price and what it buys");
                None
            }
        }
    }

    fn currency(&mut self) {
        let code = self.cells.get(Column::Currency);
        if code.is_empty() {
            return;
        }
        let currency = self.reading.currency;
        match Currency::parse(code) {
            Ok(other) if other != currency => self.error(
                "catalog-currency",
                format!("the price is in {other} and the job is priced in {currency}"),
                format!("give the price in {currency}; currencies are never mixed"),
            ),
            Ok(_) => {}
            Err(error) => self.unreadable("catalog-currency", error.message, error.help),
        }
    }

    fn price_for(&mut self, part: Option<&Part>) -> Option<PriceFor> {
        let written = self.cells.get(Column::PriceFor);
        let constant = self
            .reading
            .mapping
            .and_then(|m| m.constant(Column::PriceFor));
        match PriceFor::parse(&self.plain(written)) {
            // A length that a mapping states for all rows is that of pipe.
            Ok(PriceFor::Length(_))
                if Some(written) == constant && part.is_some_and(|part| part.name != PIPE) =>
            {
                Some(PriceFor::Pack)
            }
            Ok(price_for) => Some(price_for),
            Err(error) => {
                self.unreadable("catalog-price-for", error.message, error.help);
                None
            }
        }
    }

    pub(super) fn date(&mut self) -> Option<Date> {
        let written = self.cells.get(Column::PricedOn);
        if written.is_empty() {
            return None;
        }
        let form = self.reading.mapping.and_then(Mapping::dates);
        // Year, month and day cannot be taken for anything else.
        let date = dates::iso(written).or_else(|| form?.read(written));
        if date.is_none() {
            self.unreadable(
                "catalog-date",
                format!("`{written}` is not a date"),
                match form {
                    Some(_) => "write it as the mapping says under `dates`, or like 2026-10-01",
                    None => "write year, month and day, like 2026-10-01",
                },
            );
        }
        date
    }
}

/// The amount of a price. Where nothing states what a point is, it is read as
/// our own lists are, no finer than the minor unit.
fn amount(written: &str, reading: &Reading<'_>) -> Result<Decimal, QuantityError> {
    match reading.mapping.map(Mapping::numbers) {
        Some(numbers) if numbers.are_stated() => numbers.read(written),
        numbers => {
            let plain = numbers.map(|numbers: &Numbers| numbers.plain(written));
            let plain = plain.transpose()?;
            let text = plain.as_deref().unwrap_or(written);
            Money::parse(text, reading.currency).map(|money| money.amount())
        }
    }
}
