//! What every form of the quote says in the same words.

use pricing::money::Money;
use pricing::quote::{Quote, Section, Tax};

/// Stands over a quote without a total.
pub(super) const INCOMPLETE: &str = "PRICE INCOMPLETE - this is not an offer";

/// A price or amount of a line.
pub(super) fn price(money: Option<Money>) -> String {
    money.map_or_else(|| "no price".to_owned(), |money| money.show())
}

/// The words beside a section's sum, which say so where a price is missing.
pub(super) fn section_sum(section: &Section, words: &str) -> String {
    if section.lines.iter().any(|line| line.amount.is_none()) {
        format!("{words}, without its missing prices")
    } else {
        words.to_owned()
    }
}

/// The words beside the sum of the sections.
pub(super) const fn before_tax(quote: &Quote) -> &'static str {
    match quote.total {
        Some(_) => "Total before tax",
        None => "Priced so far, before tax",
    }
}

/// The tax with what it is taken on.
pub(super) fn tax(tax: &Tax) -> String {
    format!("{}, {} % of {}", tax.label, tax.percent, tax.base.show())
}

/// The total.
pub(super) fn total(quote: &Quote) -> String {
    let total = quote.total.map(|total| total.show());
    total.unwrap_or_else(|| "incomplete".to_owned())
}
