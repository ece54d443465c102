//! Allowances, provisional sums, and the contractor's own terms.

use super::Reader;
use crate::money::Currency;
use crate::quote::Term;
use crate::rates::raw::{RawAllowance, RawProvisional, RawTerms};
use crate::rates::{Allowance, AllowanceOf, Provisional};
use bom::finding::Finding;
use bom::source::Span;
use toml::Spanned;

impl Reader {
    pub(super) fn allowance(
        &mut self,
        raw: &Spanned<RawAllowance>,
        currency: Currency,
    ) -> Option<Allowance> {
        let (written, span) = (raw.get_ref(), Span::from(raw.span()));
        let text = self.said(&written.text, "an allowance");
        let of = match (&written.percent, &written.price) {
            (Some(percent), None) => AllowanceOf::Cost(self.percent(percent, "the allowance", 100)),
            (None, Some(price)) => AllowanceOf::Sum(self.price(price, "the allowance", currency)),
            _ => {
                self.refuse(
                    "rates-allowance",
                    span,
                    "an allowance is either a percentage of the cost or a sum".to_owned(),
                    "write `percent = \"3\"`, or `price = \"150.00\"`",
                );
                return None;
            }
        };
        Some(Allowance {
            text,
            of,
            taxed: written.taxed,
        })
    }

    pub(super) fn provisional(
        &mut self,
        raw: &[RawProvisional],
        currency: Currency,
    ) -> Vec<Provisional> {
        raw.iter()
            .map(|row| {
                let text = self.said(&row.text, "a provisional sum");
                Provisional {
                    price: self.price(&row.price, &format!("`{text}`"), currency),
                    text,
                    in_total: row.in_total,
                    taxed: row.taxed,
                }
            })
            .collect()
    }

    pub(super) fn terms(&mut self, raw: Option<&Spanned<RawTerms>>) -> Vec<Term> {
        let Some(raw) = raw else { return Vec::new() };
        let written = raw.get_ref();
        if written.cancellation.is_none() {
            self.findings.push(Finding::warning(
                "rates-cancellation",
                Span::from(raw.span()),
                "there are terms, and nothing on cancellation",
                "for work at a home many laws ask for a notice: add `cancellation` with the words that yours wants, or \"none\"",
            ));
        }
        let slots = [
            ("Warranty on the work", &written.warranty_work),
            ("Warranty on the parts", &written.warranty_parts),
            ("Changes", &written.changes),
            ("Start", &written.start),
            ("Shut-down of the air", &written.shut_down),
            ("Cancellation", &written.cancellation),
        ];
        let mut terms = Vec::new();
        for (label, text) in slots {
            let Some(text) = text else { continue };
            let text = self.said(text, &format!("`{label}`"));
            if text != "none" {
                terms.push(Term { label, text });
            }
        }
        terms
    }
}
