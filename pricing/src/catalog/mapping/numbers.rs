//! How a sheet writes its numbers.

use crate::exact;
use bom::quantity::QuantityError;
use rust_decimal::Decimal;

/// The marks in a sheet's numbers, as its mapping states them.
#[derive(Debug, Clone, Default)]
pub(crate) struct Numbers {
    /// What stands before the decimals; none if the mapping does not say.
    pub(super) decimal: Option<char>,
    /// What stands between thousands; none if nothing does.
    pub(super) thousands: Option<char>,
    /// What stands before or behind a price, like `$`.
    pub(super) symbol: Option<String>,
}

impl Numbers {
    /// Whether the sheet's way of writing decimals is stated, so that
    /// `1.234` has one meaning.
    pub(crate) const fn are_stated(&self) -> bool {
        self.decimal.is_some()
    }

    /// The text of a number with a point and no other mark, as [`exact::decimal`]
    /// reads it.
    pub(crate) fn plain(&self, text: &str) -> Result<String, QuantityError> {
        let text = self.without_symbol(text.trim());
        let (Some(decimal), thousands) = (self.decimal, self.thousands) else {
            return Ok(text.to_owned());
        };
        let (whole, decimals) = match text.split_once(decimal) {
            Some((whole, decimals)) => (whole, Some(decimals)),
            None => (text, None),
        };
        let other = if decimal == ',' { '.' } else { ',' };
        if thousands != Some(other) && text.contains(other) {
            return Err(QuantityError {
                message: format!(
                    "`{text}` has a `{other}`, and the mapping says only what `{decimal}` is"
                ),
                help: format!(
                    "add `thousands = \"{other}\"` to the mapping if that is what it is, or mend the number"
                ),
            });
        }
        let whole = match thousands {
            Some(mark) => grouped(whole, mark).ok_or_else(|| QuantityError {
                message: format!("`{text}` is not a number in groups of three digits"),
                help: format!("the mapping says that `{mark}` stands between thousands"),
            })?,
            None => whole.to_owned(),
        };
        Ok(match decimals {
            Some(decimals) => format!("{whole}.{decimals}"),
            None => whole,
        })
    }

    /// The number of a text, exactly.
    pub(crate) fn read(&self, text: &str) -> Result<Decimal, QuantityError> {
        let plain = self.plain(text)?;
        exact::decimal(&plain).map_err(|error| match self.decimal {
            None => error,
            Some(decimal) => QuantityError {
                message: format!("`{}` is not a plain number", text.trim()),
                help: format!(
                    "write digits, with `{decimal}` before the decimals as the mapping says"
                ),
            },
        })
    }

    fn without_symbol<'a>(&self, text: &'a str) -> &'a str {
        let Some(symbol) = self.symbol.as_deref() else {
            return text;
        };
        let text = text.strip_prefix(symbol).unwrap_or(text);
        text.strip_suffix(symbol).unwrap_or(text).trim()
    }
}

/// The digits without the marks between their groups of three; none if the
/// marks stand elsewhere. A blank may be any that printers use.
fn grouped(whole: &str, mark: char) -> Option<String> {
    let is_mark = |c: char| c == mark || (mark == ' ' && matches!(c, '\u{a0}' | '\u{202f}'));
    let mut groups = whole.split(is_mark);
    let first = groups.next()?;
    let mut digits = first.to_owned();
    let mut later = 0;
    for group in groups {
        if group.len() != 3 {
            return None;
        }
        digits += group;
        later += 1;
    }
    let leading = first.strip_prefix('-').unwrap_or(first).len();
    (later == 0 || (1..=3).contains(&leading)).then_some(digits)
}

#[cfg(test)]
mod tests {
    use super::Numbers;

    fn numbers(decimal: char, thousands: Option<char>) -> Numbers {
        Numbers {
            decimal: Some(decimal),
            thousands,
            symbol: Some("$".to_owned()),
        }
    }

    #[test]
    fn numbers_are_read_as_the_mapping_says() {
        let comma = numbers(',', None);
        let dots = numbers(',', Some('.'));
        let point = numbers('.', Some(','));
        let blank = numbers(',', Some(' '));
        for (form, text, read) in [
            (&comma, "1234,50", "1234.50"),
            (&comma, "0,0825", "0.0825"),
            (&comma, "1,234", "1.234"),
            (&dots, "1.234", "1234"),
            (&dots, "12.345.678,90", "12345678.90"),
            (&dots, "1234,5", "1234.5"),
            (&point, "$ 1,234.50", "1234.50"),
            (&point, "12.50 $", "12.50"),
            (&point, "-1,234.5", "-1234.5"),
            (&blank, "1 234,50", "1234.50"),
            (&blank, "1\u{a0}234,50", "1234.50"),
        ] {
            assert_eq!(form.read(text).unwrap().to_string(), read, "{text}");
        }
    }

    #[test]
    fn what_the_mapping_does_not_say_is_refused() {
        let comma = numbers(',', None);
        let dots = numbers(',', Some('.'));
        let point = numbers('.', None);
        for (form, text) in [
            (&comma, "1.234"),
            (&comma, "1.234,50"),
            (&comma, "1,2,3"),
            (&comma, "1 234,50"),
            (&comma, ""),
            (&comma, ",5"),
            (&dots, "1.23"),
            (&dots, "1.2345"),
            (&dots, "1234.567"),
            (&dots, "1,234.50"),
            (&point, "1,234.50"),
            (&point, "1e3"),
        ] {
            assert!(form.read(text).is_err(), "{text}");
        }
        assert_eq!(
            comma.read("1.234").unwrap_err().to_string(),
            "`1.234` has a `.`, and the mapping says only what `,` is; add `thousands = \".\"` to the mapping if that is what it is, or mend the number"
        );
    }
}
