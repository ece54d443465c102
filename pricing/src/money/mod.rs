//! Money, and the only rounding there is: half away from zero to the minor
//! unit of the currency.

mod currency;

pub use currency::Currency;

use crate::exact;
use bom::quantity::QuantityError;
use rust_decimal::{Decimal, RoundingStrategy};
use std::cmp::Reverse;
use std::fmt;

/// Why sums could not be put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MoneyError {
    /// Two currencies met.
    Mixed(Currency, Currency),
    /// The sum has more digits than can be kept exactly.
    TooLarge,
}

impl fmt::Display for MoneyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mixed(a, b) => write!(f, "{a} and {b} cannot be added up"),
            Self::TooLarge => f.write_str("the sum is too large to be kept exactly"),
        }
    }
}

impl std::error::Error for MoneyError {}

/// A sum of money in whole minor units.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Money {
    currency: Currency,
    amount: Decimal,
}

impl Money {
    /// The sum nearest to `amount`, half a minor unit away from zero.
    #[must_use]
    pub fn new(amount: Decimal, currency: Currency) -> Self {
        let decimals = currency.decimals();
        let mut amount =
            amount.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
        if amount.is_zero() {
            amount = Decimal::ZERO; // never minus nothing
        }
        amount.rescale(decimals);
        Self { currency, amount }
    }

    /// No money.
    #[must_use]
    pub fn zero(currency: Currency) -> Self {
        Self::new(Decimal::ZERO, currency)
    }

    /// Reads `1234.50`: digits and a point, no finer than the minor unit.
    ///
    /// # Errors
    /// Separators, exponents, and decimals that could be thousands (`1.234`).
    pub fn parse(text: &str, currency: Currency) -> Result<Self, QuantityError> {
        let amount = exact::decimal(text)?;
        if amount.scale() > currency.decimals() {
            let text = text.trim();
            return Err(if amount.scale() == 3 {
                QuantityError {
                    message: format!(
                        "`{text}` can be read two ways: is it {} or {}?",
                        text.replace('.', ""),
                        Self::new(amount, currency).plain()
                    ),
                    help: format!(
                        "write it with {} decimals and no thousands separators",
                        currency.decimals()
                    ),
                }
            } else {
                QuantityError {
                    message: format!(
                        "`{text}` is finer than the smallest coin of {currency}, {}",
                        Decimal::new(1, currency.decimals())
                    ),
                    help: "give the price of a larger pack".to_owned(),
                }
            });
        }
        Ok(Self::new(amount, currency))
    }

    /// Its currency.
    #[must_use]
    pub const fn currency(&self) -> Currency {
        self.currency
    }

    /// Its amount in the minor unit: cents. None below zero or beyond 2^64.
    #[must_use]
    pub fn minor_units(&self) -> Option<u64> {
        u64::try_from(self.amount.mantissa()).ok()
    }

    /// So many of the minor unit: cents.
    #[must_use]
    pub fn of_minor_units(count: u64, currency: Currency) -> Self {
        let amount = Decimal::from_i128_with_scale(i128::from(count), currency.decimals());
        Self::new(amount, currency)
    }

    /// Its amount in the minor unit, of either sign.
    pub(crate) const fn minor(&self) -> i128 {
        self.amount.mantissa()
    }

    /// So many of the minor unit, of either sign.
    pub(crate) fn of_minor(count: i128, currency: Currency) -> Result<Self, MoneyError> {
        Decimal::try_from_i128_with_scale(count, currency.decimals())
            .map(|amount| Self::new(amount, currency))
            .map_err(|_| MoneyError::TooLarge)
    }

    /// Its amount, with all decimals of the minor unit.
    #[must_use]
    pub const fn amount(&self) -> Decimal {
        self.amount
    }

    /// The sum of two.
    ///
    /// # Errors
    /// Two currencies, or too many digits.
    pub fn plus(self, other: Self) -> Result<Self, MoneyError> {
        self.with(other, Decimal::checked_add)
    }

    /// The difference of two.
    ///
    /// # Errors
    /// Two currencies, or too many digits.
    pub fn minus(self, other: Self) -> Result<Self, MoneyError> {
        self.with(other, Decimal::checked_sub)
    }

    fn with(
        self,
        other: Self,
        operation: fn(Decimal, Decimal) -> Option<Decimal>,
    ) -> Result<Self, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::Mixed(self.currency, other.currency));
        }
        operation(self.amount, other.amount)
            .map(|amount| Self::new(amount, self.currency))
            .ok_or(MoneyError::TooLarge)
    }

    /// `self × factor`, rounded once.
    ///
    /// # Errors
    /// Too many digits.
    pub fn times(self, factor: Decimal) -> Result<Self, MoneyError> {
        self.scaled(factor, Decimal::ONE)
    }

    /// `self × numerator / denominator`, rounded once.
    ///
    /// # Errors
    /// Too many digits, or a denominator of nought.
    pub fn scaled(self, numerator: Decimal, denominator: Decimal) -> Result<Self, MoneyError> {
        self.amount
            .checked_mul(numerator)
            .and_then(|product| product.checked_div(denominator))
            .map(|amount| Self::new(amount, self.currency))
            .ok_or(MoneyError::TooLarge)
    }

    /// The nearest multiple of so many whole units, half of it away from zero; of
    /// none, itself.
    ///
    /// # Errors
    /// Too many digits.
    pub fn to_nearest(self, units: u32) -> Result<Self, MoneyError> {
        let units = Decimal::from(units);
        let Some(count) = self.amount.checked_div(units) else {
            return Ok(self);
        };
        count
            .round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero)
            .checked_mul(units)
            .map(|amount| Self::new(amount, self.currency))
            .ok_or(MoneyError::TooLarge)
    }

    /// `amount × numerator / denominator`, rounded once, and whether it had to
    /// be.
    ///
    /// # Errors
    /// Too many digits, or a denominator of nought.
    pub fn of_part(
        amount: Decimal,
        numerator: Decimal,
        denominator: Decimal,
        currency: Currency,
    ) -> Result<(Self, bool), MoneyError> {
        let product = amount.checked_mul(numerator).ok_or(MoneyError::TooLarge)?;
        let exact = product.checked_div(denominator);
        let money = Self::new(exact.ok_or(MoneyError::TooLarge)?, currency);
        let back = money.amount.checked_mul(denominator);
        Ok((money, back != Some(product)))
    }

    /// Its share of `whole` in percent, to four decimals; none of nothing.
    ///
    /// # Errors
    /// Two currencies, or too many digits.
    pub fn percent_of(self, whole: Self) -> Result<Option<Decimal>, MoneyError> {
        if self.currency != whole.currency {
            return Err(MoneyError::Mixed(self.currency, whole.currency));
        }
        if whole.amount.is_zero() {
            return Ok(None);
        }
        self.amount
            .checked_mul(Decimal::ONE_HUNDRED)
            .and_then(|product| product.checked_div(whole.amount))
            .map(|percent| {
                let strategy = RoundingStrategy::MidpointAwayFromZero;
                Some(percent.round_dp_with_strategy(4, strategy).normalize())
            })
            .ok_or(MoneyError::TooLarge)
    }

    /// The sum of many.
    ///
    /// # Errors
    /// Two currencies, or too many digits.
    pub fn sum(
        currency: Currency,
        sums: impl IntoIterator<Item = Self>,
    ) -> Result<Self, MoneyError> {
        sums.into_iter().try_fold(Self::zero(currency), Self::plus)
    }

    /// One share for each weight, in proportion, adding up to the whole
    /// exactly: minor units left over go to the largest remainders, the first
    /// of equals first. Weights below nought count as nought; if all do, the
    /// first share takes everything.
    ///
    /// # Errors
    /// Too many digits.
    pub fn allocate(self, weights: &[Decimal]) -> Result<Vec<Self>, MoneyError> {
        let decimals = self.currency.decimals();
        let mut weights: Vec<Decimal> = weights.iter().map(|w| (*w).max(Decimal::ZERO)).collect();
        if weights.iter().all(Decimal::is_zero)
            && let Some(first) = weights.first_mut()
        {
            *first = Decimal::ONE;
        }
        let whole = weights
            .iter()
            .try_fold(Decimal::ZERO, |sum, weight| sum.checked_add(*weight))
            .ok_or(MoneyError::TooLarge)?;

        let mut left = self.amount;
        let mut shares = Vec::with_capacity(weights.len());
        let mut remainders = Vec::with_capacity(weights.len());
        for (at, weight) in weights.iter().enumerate() {
            let exact = self
                .amount
                .checked_mul(*weight)
                .and_then(|product| product.checked_div(whole))
                .ok_or(MoneyError::TooLarge)?;
            let share = exact.round_dp_with_strategy(decimals, RoundingStrategy::ToZero);
            left -= share;
            shares.push(share);
            remainders.push((Reverse((exact - share).abs()), at));
        }
        remainders.sort_unstable();
        let minor = Decimal::new(if left.is_sign_negative() { -1 } else { 1 }, decimals);
        for (_, at) in remainders {
            if left.is_zero() {
                break;
            }
            shares[at] += minor;
            left -= minor;
        }
        let shares = shares.into_iter();
        Ok(shares
            .map(|share| Self::new(share, self.currency))
            .collect())
    }

    /// `1234.50`, for machines.
    #[must_use]
    pub fn plain(&self) -> String {
        self.amount.to_string()
    }

    /// `1,234.50`, for people.
    #[must_use]
    pub fn show(&self) -> String {
        let plain = self.plain();
        let (whole, decimals) = plain.split_at(plain.find('.').unwrap_or(plain.len()));
        let (sign, digits) = match whole.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", whole),
        };
        let mut grouped = String::from(sign);
        for (at, digit) in digits.chars().enumerate() {
            if at > 0 && (digits.len() - at).is_multiple_of(3) {
                grouped.push(',');
            }
            grouped.push(digit);
        }
        grouped + decimals
    }
}

/// A percentage or a number of hours to one decimal, for reading; half goes up.
#[must_use]
pub fn tenths(figure: Decimal) -> String {
    let rounded = figure.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
    format!("{rounded:.1}")
}

#[cfg(test)]
mod tests;
