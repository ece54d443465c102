//! Overhead, contingency, margin, rounding, and how the customer pays.

use super::Reader;
use crate::money::Currency;
use crate::rates::raw::{Exact, RawRates, RoundingOf};
use crate::rates::{Floor, PaymentShare, Retainage, Rounding};
use bom::finding::Finding;
use bom::source::Span;
use rust_decimal::Decimal;
use toml::Spanned;

/// What a total may be rounded to.
const STEPS: [u32; 7] = [1, 5, 10, 50, 100, 500, 1_000];

/// What is put on a cost.
pub(super) struct Markup {
    pub(super) overhead: Decimal,
    pub(super) contingency: Decimal,
    pub(super) margin: Decimal,
}

impl Reader {
    /// An owner bears no overhead and makes no margin on their own job.
    pub(super) fn markup(&mut self, raw: &RawRates, owner: bool) -> Markup {
        let overhead = self.needed(raw.overhead.as_ref(), "overhead", owner);
        let overhead = overhead.map(|written| self.percent(written, "the overhead", 1_000));
        let margin = self.needed(raw.margin.as_ref(), "margin", owner);
        let margin = margin.map(|written| self.part_of_price(written, "the margin"));
        let contingency = raw.contingency.as_ref();
        let contingency = contingency.map(|raw| self.percent(raw, "the contingency", 100));
        let of_contractor = |percent: Option<Decimal>| percent.filter(|_| !owner);
        Markup {
            overhead: of_contractor(overhead).unwrap_or_default(),
            contingency: contingency.unwrap_or_default(),
            margin: of_contractor(margin).unwrap_or_default(),
        }
    }

    fn needed<'a>(
        &mut self,
        written: Option<&'a Spanned<Exact>>,
        key: &str,
        owner: bool,
    ) -> Option<&'a Spanned<Exact>> {
        if written.is_none() && !owner {
            self.refuse(
                "rates-missing",
                Span::default(),
                format!("there is a `wage`, and no `{key}`"),
                "add it in percent (\"0\" for none), or write `owner = true` for your own work",
            );
        }
        written
    }

    pub(super) fn floor(&mut self, raw: &RawRates, currency: Currency) -> Floor {
        let margin = raw.floor_margin.as_ref();
        let price = raw.least_price.as_ref();
        Floor {
            margin: margin.map(|raw| self.part_of_price(raw, "the least margin")),
            price: price.map(|raw| self.price(raw, "the least price", currency)),
        }
    }

    pub(super) fn rounding(&mut self, raw: &RawRates) -> Rounding {
        let policy = raw.rounding.as_ref();
        let policy = policy.map_or(RoundingOf::Line, |policy| *policy.get_ref());
        let step = raw.round_to.as_ref().map_or(1, |step| *step.get_ref());
        if let Some(written) = &raw.round_to {
            let span = Span::from(written.span());
            if policy == RoundingOf::Line {
                self.refuse(
                    "rates-rounding",
                    span,
                    "the total is not rounded, so there is nothing to round it to".to_owned(),
                    "add `rounding = \"total\"`, or delete `round_to`",
                );
            } else if !STEPS.contains(&step) {
                self.refuse(
                    "rates-rounding",
                    span,
                    format!("a total is not rounded to {step}"),
                    "write 1, 5, 10, 50, 100, 500 or 1000",
                );
            }
        }
        match policy {
            RoundingOf::Line => Rounding::Lines,
            RoundingOf::Total => Rounding::Total(step.max(1)),
        }
    }

    pub(super) fn retainage(&mut self, raw: &RawRates) -> Option<Retainage> {
        let written = raw.retainage.as_ref()?;
        if raw.payment.is_empty() {
            self.refuse(
                "rates-payment",
                Span::from(written.percent.span()),
                "there are no payments of which something could be kept".to_owned(),
                "add the [[payment]] steps, or delete [retainage]",
            );
        }
        Some(Retainage {
            percent: self.percent(&written.percent, "the retainage", 50),
            until: self.said(&written.until, "the end of the retainage"),
        })
    }

    pub(super) fn payment(&mut self, raw: &RawRates) -> Vec<PaymentShare> {
        let mut shares = Vec::new();
        for step in &raw.payment {
            shares.push(PaymentShare {
                when: step.when.clone(),
                percent: self.number(&step.percent, "a payment"),
            });
        }
        let whole: Decimal = shares.iter().map(|share| share.percent).sum();
        if let Some(last) = raw.payment.last()
            && whole != Decimal::ONE_HUNDRED
        {
            self.findings.push(Finding::unreadable(
                "rates-payment",
                Span::from(last.percent.span()),
                format!("the payments add up to {whole} % of the total"),
                "let them add up to 100",
            ));
        }
        shares
    }
}
