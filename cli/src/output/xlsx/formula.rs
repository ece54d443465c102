//! Formulas that come to the printed cent in binary floating point.
//!
//! A product of two cells may fall just under a half cent that it is exactly:
//! 1.5 × 0.67 is 1.005. Every product is therefore rounded twice: first to the
//! decimals that it has exactly, which leaves the number nearest to it, and then
//! to the minor unit, where ROUND of such a number goes half away from zero as
//! our own rounding does. Both hold up to the 15 digits that a spreadsheet keeps;
//! what has more gets no formula.

use super::sheet::Cell;
use pricing::money::Money;

/// Digits that every spreadsheet keeps.
pub(super) const DIGITS: usize = 15;
/// Decimals of a quantity that a user may write later.
const SPARE: usize = 4;

/// A factor as printed, for its decimals, and what stands for it.
pub(super) struct Factor<'a> {
    pub(super) printed: &'a str,
    pub(super) cell: &'a str,
}

/// `factor × of`, where `of` is a cell of money or a sum of them, divided by a
/// hundred where the factor is a percentage.
pub(super) fn product(factor: &Factor<'_>, of: &str, percent: bool, result: Money) -> Cell {
    let over = if percent { "/100" } else { "" };
    let formula = format!("{}*{of}{over}", factor.cell);
    let finer = decimals(factor.printed) + if percent { 2 } else { 0 };
    rounded(&formula, finer, result)
}

/// A formula whose exact result has so many decimals more than money has.
pub(super) fn rounded(formula: &str, finer: usize, result: Money) -> Cell {
    let minor = decimals(&result.plain());
    let exact = minor + finer.max(SPARE);
    if whole_digits(&result.plain()) + exact > DIGITS {
        return Cell::Money(result);
    }
    Cell::Formula(
        format!("ROUND(ROUND({formula},{exact}),{minor})"),
        Box::new(Cell::Money(result)),
    )
}

/// The sum of these cells, with its printed result.
pub(super) fn sum(cells: &[String], result: Money) -> Cell {
    match cells {
        [] => Cell::Money(result),
        _ => Cell::Formula(cells.join("+"), Box::new(Cell::Money(result))),
    }
}

/// The sum of a column's cells from one row to another.
pub(super) fn down(column: u8, first: u32, last: u32, result: Money) -> Cell {
    if last < first {
        return Cell::Money(result);
    }
    let formula = format!("SUM({}:{})", cell(column, first), cell(column, last));
    Cell::Formula(formula, Box::new(Cell::Money(result)))
}

/// A cell by its name: `E12` is column 4 in row 12.
pub(super) fn cell(column: u8, row: u32) -> String {
    format!("{}{row}", char::from(b'A' + column))
}

/// A cell of another sheet.
pub(super) fn on(sheet: &str, cell: &str) -> String {
    format!("{sheet}!{cell}")
}

fn decimals(printed: &str) -> usize {
    printed
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len())
}

fn whole_digits(printed: &str) -> usize {
    let whole = printed.split('.').next().unwrap_or_default();
    whole.trim_start_matches(['-', '0']).len()
}

/// How many digits a printed number has.
pub(super) fn digits(printed: &str) -> usize {
    let digits: String = printed.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len()
}

#[cfg(test)]
mod tests {
    use super::{Factor, digits, product};
    use crate::output::fixture::money;
    use crate::output::xlsx::sheet::Cell;

    fn written(quantity: &str, amount: &str) -> Option<String> {
        let factor = Factor {
            printed: quantity,
            cell: "B5",
        };
        match product(&factor, "D5", false, money(amount)) {
            Cell::Formula(formula, _) => Some(formula),
            _ => None,
        }
    }

    #[test]
    fn a_product_is_rounded_to_its_own_decimals_first() {
        let usual = Some("ROUND(ROUND(B5*D5,6),2)".to_owned());
        assert_eq!(written("12", "50.28"), usual);
        assert_eq!(written("12.125", "50.28"), usual);
        assert_eq!(
            written("0.123456", "0.28"),
            Some("ROUND(ROUND(B5*D5,8),2)".to_owned())
        );
    }

    #[test]
    fn what_a_spreadsheet_cannot_keep_gets_no_formula() {
        assert!(written("1", "999999999.99").is_some());
        assert_eq!(written("1", "1000000000.00"), None);
        assert_eq!(
            written("0.33333333333", "12.30"),
            Some("ROUND(ROUND(B5*D5,13),2)".to_owned())
        );
        assert_eq!(written("0.333333333333", "12.30"), None);
    }

    #[test]
    fn digits_are_counted_without_sign_point_and_leading_noughts() {
        for (printed, count) in [("0.05", 1), ("-0.50", 2), ("123.40", 5), ("1000", 4)] {
            assert_eq!(digits(printed), count, "{printed}");
        }
    }
}
