//! Hired tools, and what a job costs besides.

use super::{LARGEST, Reader};
use crate::money::{Currency, Money};
use crate::rates::raw::{RawCost, RawHire};
use crate::rates::{Basis, Cost, Crew, Hire, Per};
use bom::quantity::Length;
use bom::source::Span;
use rust_decimal::Decimal;

impl Reader {
    pub(super) fn hire(&mut self, raw: &[RawHire], currency: Currency) -> Vec<Hire> {
        let hire = raw.iter().map(|row| Hire {
            tool: row.tool.clone(),
            joints: row.joints.clone(),
            price: self.price(
                &row.price,
                &format!("the hire of the {}", row.tool),
                currency,
            ),
        });
        hire.collect()
    }

    pub(super) fn costs(
        &mut self,
        raw: &[RawCost],
        crew: Option<Crew>,
        currency: Currency,
    ) -> Vec<Cost> {
        raw.iter()
            .map(|row| Cost {
                text: self.said(&row.text, "a cost"),
                basis: self.basis(row, crew, currency),
                above: self.when(row),
                taxed: row.taxed,
            })
            .collect()
    }

    fn basis(&mut self, row: &RawCost, crew: Option<Crew>, currency: Currency) -> Basis {
        let name = row.text.get_ref();
        if let Some(percent) = &row.percent {
            let per = row.per.as_ref().map(|per| per.span());
            let unit = row.unit.as_ref().map(|unit| unit.span());
            let more = [&row.price, &row.quantity];
            let more = more.into_iter().flatten().map(toml::Spanned::span);
            for span in more.chain(per).chain(unit) {
                self.refuse(
                    "rates-cost",
                    Span::from(span),
                    format!("`{name}` is a percentage of the materials and has a price as well"),
                    "keep `percent` alone, or price, quantity, unit and per",
                );
            }
            return Basis::OfMaterials(self.percent(percent, &format!("`{name}`"), 100));
        }
        let price = row.price.as_ref();
        let price = price.map(|price| self.price(price, &format!("`{name}`"), currency));
        if price.is_none() {
            self.refuse(
                "rates-cost",
                Span::from(row.text.span()),
                format!("`{name}` has no price"),
                "add `price` and `per`, or `percent` (of the materials)",
            );
        }
        let per = row.per.as_ref().map_or(Per::Job, |per| *per.get_ref());
        if let Some(written) = row
            .per
            .as_ref()
            .filter(|_| per != Per::Job && crew.is_none())
        {
            self.refuse(
                "rates-cost",
                Span::from(written.span()),
                format!("`{name}` is paid by the day, and nothing says how long a day is"),
                "add `crew` and `day_hours` above the first table",
            );
        }
        Basis::Each {
            price: price.unwrap_or_else(|| Money::zero(currency)),
            quantity: self.quantity(row),
            unit: match &row.unit {
                Some(unit) => self.said(unit, "a unit"),
                None => per.word().to_owned(),
            },
            per,
        }
    }

    fn quantity(&mut self, row: &RawCost) -> Decimal {
        let Some(written) = &row.quantity else {
            return Decimal::ONE;
        };
        let quantity = self.number(
            written,
            &format!("the quantity of `{}`", row.text.get_ref()),
        );
        if quantity.is_zero() {
            self.refuse(
                "rates-number",
                Span::from(written.span()),
                "a cost of nothing is none".to_owned(),
                &format!("write a number up to {LARGEST}, or delete the entry"),
            );
        }
        quantity
    }

    /// `above 12-0`: where the job has pipe up there.
    fn when(&mut self, row: &RawCost) -> Option<Length> {
        let written = row.when.as_ref()?;
        let span = Span::from(written.span());
        match written.get_ref().trim().strip_prefix("above ") {
            Some(height) => self.height(height.trim(), span),
            None => {
                self.refuse(
                    "rates-cost",
                    span,
                    format!("`{}` is no condition", written.get_ref()),
                    "write `when = \"above 12-0\"`, or leave it out",
                );
                None
            }
        }
    }
}
