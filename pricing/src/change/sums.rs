//! Both sides' sums and their differences, and the proof that they add up.

use super::lines::{Kind, Line};
use super::{Both, ChangeError, Part, Step, Totals};
use crate::money::{Currency, Money, MoneyError};
use crate::quote::Quote;
use rust_decimal::Decimal;

pub(super) fn count(old: Decimal, new: Decimal) -> Step<Decimal> {
    Step {
        old,
        new,
        change: (new - old).normalize(),
    }
}

pub(super) fn step(old: Money, new: Money) -> Result<Step<Money>, MoneyError> {
    let change = new.minus(old)?;
    Ok(Step { old, new, change })
}

pub(super) fn totals(quotes: &Both<Quote>) -> Result<Option<Totals>, MoneyError> {
    let Both { old, new } = quotes;
    let Some((old_total, new_total)) = old.total.zip(new.total) else {
        return Ok(None);
    };
    Ok(Some(Totals {
        before_tax: step(old.subtotal, new.subtotal)?,
        tax: step(old.tax.amount, new.tax.amount)?,
        tax_of: Both {
            old: old.tax.clone(),
            new: new.tax.clone(),
        },
        total: step(old_total, new_total)?,
    }))
}

/// The lines by kind. While a sum is open no difference is stated, and lines in
/// which nothing but the price differs say nothing.
pub(super) fn parts(
    mut lines: Vec<Line>,
    complete: bool,
    currency: Currency,
) -> Result<Vec<Part>, MoneyError> {
    if !complete {
        lines.retain(|line| !line.more.is_zero());
        lines.iter_mut().for_each(Line::without_money);
    }
    let mut parts = Vec::new();
    for kind in Kind::ALL {
        let own = lines.iter().filter(|line| line.kind == kind);
        let lines: Vec<Line> = own.cloned().collect();
        if lines.is_empty() {
            continue;
        }
        let changes = lines.iter().filter_map(|line| line.change);
        let change = Money::sum(currency, changes)?;
        parts.push(Part {
            kind,
            lines,
            change: complete.then_some(change),
        });
    }
    Ok(parts)
}

/// Proves that the lines' changes are the difference of the quotes, and that tax
/// makes it that of the totals.
pub(super) fn adds_up(parts: &[Part], totals: &Totals) -> Result<(), ChangeError> {
    let quotes = totals.before_tax.change;
    let lines = parts.iter().flat_map(|part| &part.lines);
    let changes = lines.filter_map(|line| line.change);
    let lines = Money::sum(quotes.currency(), changes)?;
    let of_parts = Money::sum(
        quotes.currency(),
        parts.iter().filter_map(|part| part.change),
    )?;
    let with_tax = quotes.plus(totals.tax.change)?;
    if lines != quotes || of_parts != quotes || with_tax != totals.total.change {
        return Err(ChangeError::DoesNotAddUp { lines, quotes });
    }
    Ok(())
}
