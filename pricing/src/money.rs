//! Money, and the only rounding there is: half away from zero to the minor
//! unit of the currency.

use crate::exact;
use bom::quantity::QuantityError;
use rust_decimal::{Decimal, RoundingStrategy};
use std::fmt;

/// A currency by its three letters (ISO 4217).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

/// Currencies whose minor unit is not a hundredth (ISO 4217, from memory).
const WITHOUT_MINOR: [&str; 15] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV",
    "XAF", "XOF",
];
const THOUSANDTHS: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

impl Currency {
    /// Reads a code such as `USD`.
    ///
    /// # Errors
    /// Anything but three capital letters.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        <[u8; 3]>::try_from(text.trim().as_bytes())
            .ok()
            .filter(|code| code.iter().all(u8::is_ascii_uppercase))
            .map(Self)
            .ok_or_else(|| QuantityError {
                message: format!("`{}` is not a currency code", text.trim()),
                help: "write three capital letters, like USD, CAD or EUR".to_owned(),
            })
    }

    /// The code.
    #[must_use]
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or_default()
    }

    /// Decimals of the minor unit.
    #[must_use]
    pub fn decimals(&self) -> u32 {
        let code = self.code();
        if WITHOUT_MINOR.contains(&code) {
            0
        } else if THOUSANDTHS.contains(&code) {
            3
        } else {
            2
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

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

    /// Shares in the proportion of `weights` that add up to the whole exactly:
    /// minor units left over go to the largest remainders, the first of equals
    /// first. Weights below nought count as nought; if all are, the first
    /// share takes everything.
    ///
    /// # Errors
    /// Too many digits.
    pub fn allocate(self, weights: &[Decimal]) -> Result<Vec<Self>, MoneyError> {
        let minor = Decimal::new(1, self.currency.decimals());
        let weights: Vec<Decimal> = weights.iter().map(|w| (*w).max(Decimal::ZERO)).collect();
        let whole = weights
            .iter()
            .try_fold(Decimal::ZERO, |sum, weight| sum.checked_add(*weight))
            .ok_or(MoneyError::TooLarge)?;
        let mut shares = Vec::with_capacity(weights.len());
        let mut remainders = Vec::with_capacity(weights.len());
        let mut left = self.amount;
        for (at, weight) in weights.iter().enumerate() {
            let share = if whole.is_zero() {
                Decimal::ZERO
            } else {
                self.amount
                    .checked_mul(*weight)
                    .and_then(|product| product.checked_div(whole))
                    .ok_or(MoneyError::TooLarge)?
            };
            let cut =
                share.round_dp_with_strategy(self.currency.decimals(), RoundingStrategy::ToZero);
            left -= cut;
            shares.push(cut);
            remainders.push(((share - cut).abs(), at));
        }
        if whole.is_zero() {
            if let Some(first) = shares.first_mut() {
                *first = left;
            }
        } else {
            remainders.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
            for (_, at) in remainders {
                if left.is_zero() {
                    break;
                }
                let step = if left.is_sign_negative() {
                    -minor
                } else {
                    minor
                };
                shares[at] += step;
                left -= step;
            }
        }
        Ok(shares
            .into_iter()
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

#[cfg(test)]
mod tests;
