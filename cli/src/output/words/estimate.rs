//! What every form of the contractor's estimate says in the same words.

use pricing::estimate::EstimateSheet;
use pricing::money::tenths;
use pricing::quote::MissingPrice;
use pricing::rates::TaxOn;

/// Stands over every sheet of it.
pub(in crate::output) const INTERNAL: &str = "INTERNAL: not for the customer";

/// One line of the way from the costs to the total.
#[derive(Debug)]
pub(in crate::output) struct StepRow {
    pub(in crate::output) text: String,
    /// For people: with thousands.
    pub(in crate::output) amount: String,
    /// For machines; empty where it is open.
    pub(in crate::output) plain: String,
    /// Whether it is the sum of those before it.
    pub(in crate::output) is_sum: bool,
}

/// From the costs to what is paid.
pub(in crate::output) fn estimate_steps(sheet: &EstimateSheet) -> Vec<StepRow> {
    let steps = sheet.estimate.steps.iter();
    let mut rows: Vec<StepRow> = steps
        .map(|step| StepRow {
            text: step.text.clone(),
            amount: step.amount.show(),
            plain: step.amount.plain(),
            is_sum: step.is_sum,
        })
        .collect();
    if sheet.tax.on != TaxOn::None {
        rows.push(StepRow {
            text: super::tax(&sheet.tax),
            amount: sheet.tax.amount.show(),
            plain: sheet.tax.amount.plain(),
            is_sum: false,
        });
    }
    let total = sheet.total;
    rows.push(StepRow {
        text: format!("Total {}", sheet.tax.amount.currency().code()),
        amount: total.map_or_else(|| "incomplete".to_owned(), |total| total.show()),
        plain: total.map_or_else(String::new, |total| total.plain()),
        is_sum: true,
    });
    rows
}

/// The same profit both ways; none for an owner, or while the price is open.
pub(in crate::output) fn margin(sheet: &EstimateSheet) -> Option<String> {
    sheet.total?;
    let estimate = &sheet.estimate;
    let (margin, markup) = (estimate.margin_percent?, estimate.markup_percent?);
    (!sheet.owner).then(|| {
        format!(
            "The profit of {} is a margin of {} % of the price, and a markup of {} % on the cost with all that it bears.",
            estimate.profit.show(),
            tenths(margin),
            tenths(markup)
        )
    })
}

/// What keeps a paper from its total, a line each.
pub(in crate::output) fn holes(missing: &[MissingPrice], unrated: &[String]) -> Vec<String> {
    let missing = missing.iter().map(|part| {
        let words = format!("{} {}", part.words, part.key.size);
        let words = format!("{} {} {}", part.quantity, part.unit, words.trim_end());
        match part.reason.as_str() {
            "" => format!("{words}: no price"),
            reason => format!("{words}: {reason}"),
        }
    });
    unrated.iter().cloned().chain(missing).collect()
}
