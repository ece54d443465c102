//! From the estimate to the customer's quote: the costs stay behind, the
//! words come in.

pub mod beside;
mod scope;
pub(crate) mod terms;

use crate::catalog::Catalog;
use crate::cut_sheet::Heading;
use crate::estimate::{self, Estimate, EstimateSection, EstimateSheet};
use crate::money::{Money, MoneyError};
use crate::quote::{Level, OutletRow, PaymentStep, Quote, QuoteLine, Section, Tax};
use crate::rates::{Rates, TaxOn};
use bom::summary::Summary;
use bom::takeoff::Takeoff;
use jiff::{ToSpan, civil::Date};
use rust_decimal::Decimal;
use terms::Reader;

/// The work in plain words: the main, its water, the tank, the drops, the test.
#[must_use]
pub fn scope(summary: &Summary) -> Vec<String> {
    scope::paragraphs(summary)
}

/// Everything that a quote stands on.
#[derive(Debug, Clone, Copy)]
pub struct Inputs<'a> {
    /// The layout in a few facts.
    pub summary: &'a Summary,
    /// The count.
    pub takeoff: &'a Takeoff,
    /// The user's prices.
    pub catalog: &'a Catalog,
    /// The contractor's figures.
    pub rates: &'a Rates,
    /// The day of the offer.
    pub date: Date,
    /// Fingerprint of the layout and of the prices.
    pub fingerprint: &'a str,
}

impl Inputs<'_> {
    /// The estimate behind the quote.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn estimate(&self) -> Result<Estimate, MoneyError> {
        estimate::estimate(self.takeoff, self.summary.units, self.catalog, self.rates)
    }

    /// The contractor's own paper.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn sheet(&self) -> Result<EstimateSheet, MoneyError> {
        let mut estimate = self.estimate()?;
        let stale = estimate.stale_prices(self.date);
        estimate.warnings.extend(stale);
        let Sums {
            tax,
            total,
            payment,
        } = Sums::of(&estimate, self.rates)?;
        let summary = self.summary;
        Ok(EstimateSheet {
            heading: Heading {
                title: summary.title.clone(),
                revision: summary.revision.clone(),
                fingerprint: self.fingerprint.to_owned(),
                date: self.date,
                units: summary.units,
            },
            customer: summary.customer.clone(),
            owner: self.rates.is_owner(),
            tax,
            total,
            payment: if self.rates.is_owner() {
                Vec::new()
            } else {
                payment
            },
            unrated: terms::unrated(&estimate),
            assumptions: terms::assumptions(self, &estimate, Reader::Contractor),
            notices: terms::notices(self.rates, &estimate.purchases, Reader::Contractor),
            estimate,
        })
    }

    /// What the customer sees.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn quote(&self) -> Result<Quote, MoneyError> {
        self.quote_of(self.estimate()?)
    }

    /// What the customer sees of an estimate of these inputs.
    ///
    /// # Errors
    /// A sum with too many digits.
    pub fn quote_of(&self, estimate: Estimate) -> Result<Quote, MoneyError> {
        let (summary, rates) = (self.summary, self.rates);
        let Sums {
            tax,
            total,
            payment,
        } = Sums::of(&estimate, rates)?;
        Ok(Quote {
            company: rates.company.clone(),
            customer: summary.customer.clone(),
            title: summary.title.clone(),
            revision: summary.revision.clone(),
            fingerprint: self.fingerprint.to_owned(),
            date: self.date,
            valid_until: self
                .date
                .saturating_add(i64::from(rates.validity_days).days()),
            scope: scope::of(summary, self.takeoff),
            outlets: outlets(summary),
            rounding: estimate.rounding,
            provisional: rates.provisional.clone(),
            subtotal: with_provisional(&estimate, rates)?,
            tax,
            total,
            payment,
            assumptions: terms::assumptions(self, &estimate, Reader::Customer),
            level: Level::Lines,
            small_items: rates.small_items,
            added: None,
            alternates: Vec::new(),
            options: None,
            terms: rates.terms.clone(),
            exclusions: rates.exclusions.clone(),
            cautions: terms::cautions(rates, &self.takeoff.cautions),
            notices: terms::notices(rates, &estimate.purchases, Reader::Customer),
            unrated: terms::unrated(&estimate),
            missing: estimate.missing,
            sections: estimate.sections.into_iter().map(sold).collect(),
        })
    }
}

/// What stands below the lines.
pub(crate) struct Sums {
    pub(crate) tax: Tax,
    pub(crate) total: Option<Money>,
    payment: Vec<PaymentStep>,
}

impl Sums {
    pub(crate) fn of(estimate: &Estimate, rates: &Rates) -> Result<Self, MoneyError> {
        let tax = tax(estimate, rates)?;
        let total = estimate
            .is_complete()
            .then(|| with_provisional(estimate, rates)?.plus(tax.amount))
            .transpose()?;
        let payment = match total {
            Some(total) => payment(total, rates)?,
            None => Vec::new(),
        };
        Ok(Self {
            tax,
            total,
            payment,
        })
    }
}

/// The price with the provisional sums that are in the total.
fn with_provisional(estimate: &Estimate, rates: &Rates) -> Result<Money, MoneyError> {
    let sums = rates.provisional.iter().filter(|one| one.in_total);
    sums.map(|one| one.price)
        .try_fold(estimate.price, Money::plus)
}

/// A section without its costs.
fn sold(section: EstimateSection) -> Section {
    let lines = section.lines.into_iter().map(|line| QuoteLine {
        text: line.text,
        quantity: line.quantity,
        unit: line.unit,
        unit_price: line.price.map(|price| price.unit),
        amount: line.price.map(|price| price.amount),
        taxed: line.taxed,
    });
    Section {
        title: section.title.to_owned(),
        lines: lines.collect(),
        subtotal: section.price,
    }
}

fn tax(estimate: &Estimate, rates: &Rates) -> Result<Tax, MoneyError> {
    let base = match rates.tax.on {
        TaxOn::Materials => {
            let sums = rates.provisional.iter();
            sums.filter(|one| one.in_total && one.taxed)
                .map(|one| one.price)
                .try_fold(estimate.goods, Money::plus)?
        }
        TaxOn::All => with_provisional(estimate, rates)?,
        TaxOn::None => Money::zero(rates.currency),
    };
    Ok(Tax {
        label: rates.tax.label.clone(),
        percent: rates.tax.percent,
        on: rates.tax.on,
        base,
        amount: base.scaled(rates.tax.percent, Decimal::ONE_HUNDRED)?,
    })
}

/// Every step less what is kept of it, and at the end what was kept.
fn payment(total: Money, rates: &Rates) -> Result<Vec<PaymentStep>, MoneyError> {
    let kept = rates.retainage.as_ref();
    let percent = kept.map_or(Decimal::ZERO, |kept| kept.percent);
    let of_steps = rates.payment.iter();
    let mut weights: Vec<Decimal> = of_steps
        .map(|share| share.percent * (Decimal::ONE_HUNDRED - percent))
        .collect();
    let mut whens: Vec<String> = rates.payment.iter().map(|one| one.when.clone()).collect();
    if let Some(kept) = kept {
        weights.push(Decimal::ONE_HUNDRED * percent);
        whens.push(format!(
            "{}: the {percent} % kept of each payment",
            kept.until
        ));
    }
    let sums = total.allocate(&weights)?;
    let steps = whens.into_iter().zip(sums);
    Ok(steps
        .map(|(when, amount)| PaymentStep { when, amount })
        .collect())
}

fn outlets(summary: &Summary) -> Vec<OutletRow> {
    let rows = summary.outlets.iter().map(|outlet| OutletRow {
        number: outlet.number,
        name: outlet.name.clone(),
        height: outlet.height.show(summary.units),
        drop: format!("{}, {}", outlet.size, outlet.take_off),
        sides: outlet.sides.clone(),
        drain: outlet.drain.clone(),
    });
    rows.collect()
}

#[cfg(test)]
mod tests;
