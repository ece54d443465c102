//! Decimals from text, exactly: no exponents, no thousands separators, no
//! rounding.

use bom::quantity::QuantityError;
use rust_decimal::Decimal;

/// Reads `1234`, `1234.50` or `-3`.
pub(crate) fn decimal(text: &str) -> Result<Decimal, QuantityError> {
    let text = text.trim();
    let error = |message: String| QuantityError {
        message,
        help: "write digits with a point before the decimals, like 1234.50".to_owned(),
    };
    if text.contains(',') {
        let (plain, point) = (text.replace(',', ""), text.replace(',', "."));
        return Err(error(format!(
            "`{text}` can be read two ways: is it {plain} or {point}?"
        )));
    }
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let plain = match unsigned.split_once('.') {
        Some((whole, decimals)) => digits(whole) && digits(decimals),
        None => digits(unsigned),
    };
    if !plain {
        return Err(error(format!("`{text}` is not a plain number")));
    }
    Decimal::from_str_exact(text)
        .map_err(|_| error(format!("`{text}` has more digits than can be kept exactly")))
}

#[cfg(test)]
mod tests {
    use super::decimal;

    #[test]
    fn reads_plain_decimals_and_nothing_else() {
        for text in ["0", "1234.50", "-3", "0.1234567890123456789", " 7 "] {
            let read = decimal(text).unwrap();
            assert_eq!(read.to_string(), text.trim(), "{text}");
        }
        for text in [
            "", "-", ".5", "5.", "1e3", "1,234", "1,5", "1_000", "$5", "+1", "1 000",
        ] {
            assert!(decimal(text).is_err(), "{text}");
        }
        assert!(decimal(&"9".repeat(40)).is_err());
        assert!(decimal("0.12345678901234567890123456789012").is_err());
    }

    #[test]
    fn a_comma_gets_both_readings() {
        let error = decimal("1,234").unwrap_err();
        assert_eq!(
            error.message,
            "`1,234` can be read two ways: is it 1234 or 1.234?"
        );
    }
}
