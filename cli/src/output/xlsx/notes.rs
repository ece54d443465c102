//! Words beside a label: the front of a paper, and the notes behind its lines.

use super::formula;
use super::sheet::{Cell, Column, Look, Sheet};
use pricing::money::{Currency, Money};
use pricing::quote::PaymentStep;
use std::io;

/// Label, words, and an amount where there is one.
pub(super) const FRONT: &[Column] = &[
    Column::left("", 18.0),
    Column::left("", 66.0),
    Column::right("", 15.0),
];
/// Where the amounts of such a sheet stand.
pub(super) const AMOUNT: u8 = 2;

/// A sheet of such rows under its warnings.
pub(super) fn front(
    name: &str,
    currency: Option<Currency>,
    warnings: &[&str],
) -> io::Result<Sheet> {
    let mut sheet = Sheet::new(name, FRONT, currency)?;
    for warning in warnings {
        sheet.row(Look::Strong, [Cell::Blank, Cell::text(*warning)])?;
    }
    Ok(sheet)
}

/// Facts that are not empty, a row each.
pub(super) fn facts(sheet: &mut Sheet, facts: &[(&str, &str)]) -> io::Result<()> {
    for (label, text) in facts {
        if !text.trim().is_empty() {
            sheet.row(Look::Plain, [Cell::text(*label), Cell::text(*text)])?;
        }
    }
    Ok(())
}

/// Texts under each other, the label beside the first.
pub(super) fn list(sheet: &mut Sheet, label: &str, texts: &[String]) -> io::Result<()> {
    if texts.is_empty() {
        return Ok(());
    }
    sheet.skip();
    for (at, text) in texts.iter().enumerate() {
        let label = match at {
            0 => Cell::text(label),
            _ => Cell::Blank,
        };
        sheet.row(Look::Plain, [label, Cell::text(text)])?;
    }
    Ok(())
}

/// The payments as they are printed, and what they come to.
pub(super) fn payment(
    sheet: &mut Sheet,
    steps: &[PaymentStep],
    total: Option<Money>,
) -> io::Result<()> {
    let Some(total) = total.filter(|_| !steps.is_empty()) else {
        return Ok(());
    };
    sheet.skip();
    let first = sheet.next();
    for step in steps {
        let label = match sheet.next() == first {
            true => Cell::text("Payment"),
            false => Cell::Blank,
        };
        let row = [label, Cell::text(&step.when), Cell::Money(step.amount)];
        sheet.row(Look::Plain, row)?;
    }
    let sum = formula::down(AMOUNT, first, sheet.next() - 1, total);
    sheet.row(Look::Sum, [Cell::Blank, Cell::text("All payments"), sum])?;
    Ok(())
}
