//! What two revisions of a job differ in: the layout, the lines of their quotes,
//! the time, the pressure. It is the customer's paper: no cost and no margin is in
//! it.
//!
//! **Invariant:** every line's change is one printed amount less another, so the
//! changes add up to the difference of the two quotes; [`change`] proves it.

mod air;
mod item;
mod layout;
mod legs;
mod lines;
mod needs;
mod sums;
mod things;

pub use air::{Worst, worst};
pub use item::{Fact, Fate, Item, ItemKind};
pub use lines::{Kind, Line, Side};

use crate::money::{Currency, Money, MoneyError};
use crate::offer::Inputs;
use crate::quote::{Company, MissingPrice, Quote, Tax};
use bom::Plan;
use bom::library::Library;
use bom::quantity::Units;
use jiff::civil::Date;
use rust_decimal::Decimal;
use std::collections::BTreeSet;
use std::fmt;

/// One revision of a job with its prices.
#[derive(Debug, Clone, Copy)]
pub struct Revision<'a> {
    /// What its quote stands on.
    pub inputs: Inputs<'a>,
    /// The job as it was read and laid out.
    pub plan: &'a Plan,
}

/// Something of both revisions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Both<T> {
    /// Of the old one.
    pub old: T,
    /// Of the new one.
    pub new: T,
}

/// A figure of both revisions, and the new one less the old one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step<T> {
    /// Of the old one.
    pub old: T,
    /// Of the new one.
    pub new: T,
    /// What is more; below nought what is less.
    pub change: T,
}

/// A finished change order: renderers print it and compute nothing.
#[derive(Debug, Clone)]
pub struct Change {
    /// Who makes the offer, as the new rates say it.
    pub company: Company,
    /// Who it is for.
    pub customer: String,
    /// The new job's title.
    pub title: String,
    /// Why the job changes.
    pub reason: String,
    /// How lengths and pressures print.
    pub units: Units,
    /// The currency of every price.
    pub currency: Currency,
    /// The day of the change order.
    pub date: Date,
    /// The last day on which it can be accepted.
    pub valid_until: Date,
    /// The revision of each job file.
    pub revision: Both<String>,
    /// The fingerprint of each: of its layout and of its prices.
    pub fingerprint: Both<String>,
    /// What of the layout differs.
    pub items: Vec<Item>,
    /// The lines that differ, by kind; kinds without lines are left out.
    pub parts: Vec<Part>,
    /// The sums; none while a price or hours are missing.
    pub totals: Option<Totals>,
    /// Hours of work; none while hours are missing.
    pub hours: Option<Step<Decimal>>,
    /// Days on site; none if the rates name no crew, or while hours are missing.
    pub days: Option<Step<Decimal>>,
    /// The tool that is worst off, where the job names tools.
    pub worst: Both<Option<Worst>>,
    /// What good practice finds in the new layout and did not find in the old one.
    pub findings: Vec<String>,
    /// What the contractor should mend before it is signed.
    pub warnings: Vec<String>,
    /// How lines were told apart, where that is not plain.
    pub notes: Vec<String>,
    /// Whether prices or rates come from invented samples, and which.
    pub notices: Vec<String>,
    /// Parts that no price list prices.
    pub missing: Both<Vec<MissingPrice>>,
    /// Work for which the rates have no hours, and the entry to add.
    pub unrated: Both<Vec<String>>,
}

/// The lines of one kind.
#[derive(Debug, Clone)]
pub struct Part {
    /// What they are.
    pub kind: Kind,
    /// The lines, in the order of the quote.
    pub lines: Vec<Line>,
    /// The sum of their changes; none while a price or hours are missing.
    pub change: Option<Money>,
}

/// Both quotes' sums.
#[derive(Debug, Clone)]
pub struct Totals {
    /// Before tax: the change is the sum of all lines' changes.
    pub before_tax: Step<Money>,
    /// The tax.
    pub tax: Step<Money>,
    /// What each tax is taken on.
    pub tax_of: Both<Tax>,
    /// With tax.
    pub total: Step<Money>,
}

/// Why there is no change order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChangeError {
    /// The two are in two currencies, or a sum has too many digits.
    Money(MoneyError),
    /// The changes of the lines and the difference of the quotes are not the same:
    /// a fault of this tool.
    DoesNotAddUp {
        /// The sum of the lines' changes.
        lines: Money,
        /// The difference of the quotes, before tax.
        quotes: Money,
    },
}

impl fmt::Display for ChangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Money(error) => error.fmt(f),
            Self::DoesNotAddUp { lines, quotes } => write!(
                f,
                "the changes add up to {} and the quotes differ by {}: nothing was written, please report it",
                lines.show(),
                quotes.show()
            ),
        }
    }
}

impl std::error::Error for ChangeError {}

impl From<MoneyError> for ChangeError {
    fn from(error: MoneyError) -> Self {
        Self::Money(error)
    }
}

impl Change {
    /// Whether the two are the same in everything that is built and paid.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.items.is_empty() && self.parts.is_empty() && !self.tax_changes()
    }

    fn tax_changes(&self) -> bool {
        let totals = self.totals.as_ref();
        totals.is_some_and(|totals| !totals.tax.change.amount().is_zero())
    }
}

/// The change order from one revision to another.
///
/// # Errors
/// Two currencies, or a sum with too many digits.
pub fn change(
    old: &Revision<'_>,
    new: &Revision<'_>,
    library: &Library,
    reason: &str,
) -> Result<Change, ChangeError> {
    let currency = new.inputs.rates.currency;
    if old.inputs.rates.currency != currency {
        let error = MoneyError::Mixed(old.inputs.rates.currency, currency);
        return Err(error.into());
    }
    let old_quote = Quoted::of(old)?;
    let new_quote = Quoted::of(new)?;
    let found = lines::lines(&old_quote, &new_quote)?;
    let quotes = Both {
        old: old_quote.quote,
        new: new_quote.quote,
    };
    let totals = sums::totals(&quotes)?;
    let parts = sums::parts(found.lines, totals.is_some(), currency)?;
    if let Some(totals) = &totals {
        sums::adds_up(&parts, totals)?;
    }
    let hours = old_quote.hours.zip(new_quote.hours);
    let days = old_quote.days.zip(new_quote.days);
    let items = layout::items(old.plan, new.plan, library);
    let rebuilt = parts.iter().any(|part| part.kind != Kind::Prices);
    let Both { old: was, new: is } = quotes;
    let mut notices = is.notices;
    notices.extend(was.notices);
    let mut seen = BTreeSet::new();
    notices.retain(|notice| seen.insert(notice.clone()));
    Ok(Change {
        warnings: not_raised(&was.revision, &is.revision, rebuilt || !items.is_empty()),
        company: is.company,
        customer: is.customer,
        title: is.title,
        reason: reason.to_owned(),
        units: new.plan.summary.units,
        currency,
        date: is.date,
        valid_until: is.valid_until,
        revision: Both {
            old: was.revision,
            new: is.revision,
        },
        fingerprint: Both {
            old: was.fingerprint,
            new: is.fingerprint,
        },
        items,
        parts,
        totals,
        hours: hours.map(|(old, new)| sums::count(old, new)),
        days: days.map(|(old, new)| sums::count(old, new)),
        worst: Both {
            old: air::worst(old.plan, library),
            new: air::worst(new.plan, library),
        },
        findings: air::new_findings(old.plan, new.plan),
        notes: found.notes,
        notices,
        missing: Both {
            old: was.missing,
            new: is.missing,
        },
        unrated: Both {
            old: was.unrated,
            new: is.unrated,
        },
    })
}

/// A revision's quote, and what of its estimate a customer may know.
struct Quoted<'a> {
    inputs: &'a Inputs<'a>,
    quote: Quote,
    hours: Option<Decimal>,
    days: Option<Decimal>,
}

impl<'a> Quoted<'a> {
    fn of(revision: &'a Revision<'a>) -> Result<Self, MoneyError> {
        let inputs = &revision.inputs;
        let estimate = inputs.estimate()?;
        Ok(Self {
            inputs,
            hours: estimate.unrated.is_empty().then_some(estimate.hours),
            days: estimate.days,
            quote: inputs.quote_of(estimate)?,
        })
    }
}

/// Says that two layouts go by the same revision.
fn not_raised(old: &str, new: &str, differ: bool) -> Vec<String> {
    let (old, new) = (old.trim(), new.trim());
    if !differ || old != new {
        return Vec::new();
    }
    vec![match new {
        "" => "Neither job file has a revision: write `revision` under [job] into both, so that nobody takes one for the other.".to_owned(),
        same => format!("Both job files are revision {same} and differ: raise `revision` under [job] in the new one."),
    }]
}

#[cfg(test)]
mod tests;
