//! The small reader that all quantities share: exact numbers, words, signs.

use super::QuantityError;

/// An exact non-negative number as written: `numerator / denominator`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Ratio {
    pub(super) numerator: i128,
    pub(super) denominator: i128,
}

impl Ratio {
    pub(super) fn plus(self, other: Self) -> Self {
        Self {
            numerator: self.numerator * other.denominator + other.numerator * self.denominator,
            denominator: self.denominator * other.denominator,
        }
    }

    /// `self × unit`, if that is a whole number.
    pub(super) fn times_exact(self, unit: i128) -> Option<i128> {
        let product = self.numerator.checked_mul(unit)?;
        (product % self.denominator == 0).then(|| product / self.denominator)
    }

    #[expect(
        clippy::cast_precision_loss,
        reason = "quantities that are not lengths are physical readings, not counts"
    )]
    pub(super) fn to_f64(self) -> f64 {
        self.numerator as f64 / self.denominator as f64
    }
}

/// Longest run of digits that is read: more is a typing accident, and this
/// keeps every product of two numbers inside 128 bits.
const MOST_DIGITS: usize = 12;

pub(super) struct Scanner<'a> {
    rest: &'a str,
}

impl<'a> Scanner<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { rest: text.trim() }
    }

    pub(super) fn skip_blank(&mut self) {
        self.rest = self.rest.trim_start();
    }

    pub(super) fn at_end(&mut self) -> bool {
        self.skip_blank();
        self.rest.is_empty()
    }

    pub(super) fn rest(&self) -> &'a str {
        self.rest
    }

    /// Takes `sign` if it comes next, blanks before it allowed.
    pub(super) fn take(&mut self, sign: char) -> bool {
        match self.rest.trim_start().strip_prefix(sign) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// Takes a run of letters, `%`, `'`, `"` or their typographic forms.
    pub(super) fn word(&mut self) -> &'a str {
        self.skip_blank();
        let first = self.rest.chars().next();
        let end = match first {
            Some(c) if !c.is_alphabetic() => match c {
                '\'' | '"' | '%' | '′' | '″' | '’' | '”' => c.len_utf8(),
                _ => 0,
            },
            _ => self
                .rest
                .find(|c: char| !c.is_alphabetic())
                .unwrap_or(self.rest.len()),
        };
        let (word, rest) = self.rest.split_at(end);
        self.rest = rest;
        word
    }

    pub(super) fn starts_number(&mut self) -> bool {
        self.skip_blank();
        self.rest
            .chars()
            .next()
            .is_some_and(|c| c.is_ascii_digit() || c == '.' || vulgar_fraction(c).is_some())
    }

    fn digits(&mut self) -> Result<&'a str, QuantityError> {
        let end = self
            .rest
            .find(|c: char| !c.is_ascii_digit())
            .unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(end);
        if digits.len() > MOST_DIGITS {
            return Err(QuantityError::new(
                format!("the number `{digits}` has too many digits"),
                format!("write at most {MOST_DIGITS} digits"),
            ));
        }
        self.rest = rest;
        Ok(digits)
    }

    fn vulgar(&mut self) -> Option<Ratio> {
        let c = self.rest.chars().next()?;
        let (numerator, denominator) = vulgar_fraction(c)?;
        self.rest = &self.rest[c.len_utf8()..];
        Some(Ratio {
            numerator,
            denominator,
        })
    }

    /// Reads `12`, `12.5`, `1/2`, `6 1/2`, `6-1/2` or `6½`.
    pub(super) fn number(&mut self) -> Result<Ratio, QuantityError> {
        self.skip_blank();
        if let Some(fraction) = self.vulgar() {
            return Ok(fraction);
        }
        let whole = self.digits()?;
        if let Some(rest) = self.rest.strip_prefix(',')
            && rest.starts_with(|c: char| c.is_ascii_digit())
        {
            return Err(QuantityError::new(
                "a comma inside a number can be read two ways",
                "write a decimal point (3.8), and no comma between thousands",
            ));
        }
        if let Some(rest) = self.rest.strip_prefix('.') {
            self.rest = rest;
            let decimals = self.digits()?;
            if whole.is_empty() && decimals.is_empty() {
                return Err(expected_number());
            }
            return decimal(whole, decimals);
        }
        if whole.is_empty() {
            return Err(expected_number());
        }
        let whole = parse_digits(whole)?;
        if let Some(rest) = self.rest.strip_prefix('/') {
            self.rest = rest;
            return self.denominator(whole);
        }
        let mut total = Ratio {
            numerator: whole,
            denominator: 1,
        };
        if let Some(fraction) = self.vulgar() {
            total = total.plus(fraction);
        } else if let Some(fraction) = self.trailing_fraction()? {
            total = total.plus(fraction);
        }
        Ok(total)
    }

    /// The ` 1/2` or `-1/2` of `6 1/2` and `6-1/2`; takes nothing else.
    fn trailing_fraction(&mut self) -> Result<Option<Ratio>, QuantityError> {
        let mut ahead = Scanner { rest: self.rest };
        if !ahead.rest.starts_with([' ', '-']) {
            return Ok(None);
        }
        ahead.rest = &ahead.rest[1..];
        ahead.skip_blank();
        if let Some(fraction) = ahead.vulgar() {
            self.rest = ahead.rest;
            return Ok(Some(fraction));
        }
        let numerator = ahead.digits()?;
        if numerator.is_empty() || !ahead.rest.starts_with('/') {
            return Ok(None);
        }
        ahead.rest = &ahead.rest[1..];
        let fraction = ahead.denominator(parse_digits(numerator)?)?;
        if fraction.numerator >= fraction.denominator {
            return Err(QuantityError::new(
                "the fraction after a whole number must be less than one",
                "write it as whole and remainder, for example 6 1/2",
            ));
        }
        self.rest = ahead.rest;
        Ok(Some(fraction))
    }

    fn denominator(&mut self, numerator: i128) -> Result<Ratio, QuantityError> {
        let digits = self.digits()?;
        let denominator = if digits.is_empty() {
            0
        } else {
            parse_digits(digits)?
        };
        if denominator == 0 {
            return Err(QuantityError::new(
                "a fraction needs a number other than zero below its line",
                "write it like 1/2 or 3/16",
            ));
        }
        Ok(Ratio {
            numerator,
            denominator,
        })
    }
}

fn expected_number() -> QuantityError {
    QuantityError::new("a number is missing", "write a number and its unit")
}

fn parse_digits(digits: &str) -> Result<i128, QuantityError> {
    digits.parse().map_err(|_| expected_number())
}

fn decimal(whole: &str, decimals: &str) -> Result<Ratio, QuantityError> {
    let mut denominator = 1;
    for _ in decimals.chars() {
        denominator *= 10;
    }
    let numerator = parse_digits(&format!("0{whole}{decimals}"))?;
    Ok(Ratio {
        numerator,
        denominator,
    })
}

fn vulgar_fraction(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    })
}
