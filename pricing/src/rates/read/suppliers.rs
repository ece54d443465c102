//! Whom one buys from, and what they charge.

use super::super::raw::{Exact, RawRates, RawSupplier};
use super::Reader;
use crate::buying::{MOST_SUPPLIERS, Named, SupplierTerms, Terms};
use crate::money::{Currency, Money};
use bom::source::Span;
use rust_decimal::Decimal;
use toml::Spanned;

/// The rule of all findings here.
const RULE: &str = "rates-supplier";

impl Reader {
    pub(super) fn buying(&mut self, raw: &RawRates, currency: Currency) -> Terms {
        let mut suppliers = Vec::new();
        for (at, (name, written)) in raw.supplier.iter().enumerate() {
            let supplier = self.named(name);
            if at == MOST_SUPPLIERS {
                self.refuse(
                    RULE,
                    supplier.span,
                    format!("more than {MOST_SUPPLIERS} suppliers have terms"),
                    "keep those that you buy from",
                );
            }
            suppliers.push(self.supplier(supplier, written, currency));
        }
        let mut buy_from: Vec<Named> = Vec::new();
        for name in &raw.buy_from {
            let named = self.named(name);
            if buy_from.iter().any(|known| known.name == named.name) {
                let message = format!("`{}` stands twice", named.name);
                self.refuse(RULE, named.span, message, "delete one of the two");
            }
            buy_from.push(named);
        }
        Terms {
            suppliers,
            buy_from,
        }
    }

    fn named(&mut self, written: &Spanned<String>) -> Named {
        let (name, span) = (written.get_ref().trim(), Span::from(written.span()));
        if name.is_empty() {
            let help = "write the name as the price list has it";
            self.refuse(RULE, span, "a supplier has no name".to_owned(), help);
        }
        Named {
            name: name.to_owned(),
            span,
        }
    }

    fn supplier(
        &mut self,
        supplier: Named,
        raw: &RawSupplier,
        currency: Currency,
    ) -> SupplierTerms {
        let span = supplier.span;
        let terms = [
            &raw.delivery,
            &raw.free_from,
            &raw.least_order,
            &raw.preferred,
        ];
        if terms.into_iter().all(Option::is_none) {
            let message = format!("the supplier `{}` has no terms", supplier.name);
            let help = "write delivery, free_from, least_order or preferred, or delete it";
            self.refuse(RULE, span, message, help);
        }
        let mut sum = |written: &Option<Spanned<Exact>>, what: &str| {
            let what = format!("{what} of {}", supplier.name);
            written
                .as_ref()
                .map(|written| self.price(written, &what, currency))
        };
        let delivery = sum(&raw.delivery, "the delivery");
        let free_from = sum(&raw.free_from, "the sum for free delivery");
        let least_order = sum(&raw.least_order, "the least order");
        let preferred = raw.preferred.as_ref().map(|written| {
            let Exact(percent) = *written.get_ref();
            if percent < Decimal::ZERO || percent > Decimal::ONE_HUNDRED {
                self.refuse(
                    RULE,
                    Span::from(written.span()),
                    format!("a supplier cannot be preferred at {percent} % more"),
                    "write how many percent more the whole purchase may cost, from 0 to 100",
                );
            }
            percent
        });
        if let (Some(written), None) = (&raw.free_from, &delivery) {
            self.refuse(
                RULE,
                Span::from(written.span()),
                "a delivery that costs nothing cannot be free from a sum".to_owned(),
                "write the delivery too, like delivery = \"45.00\"",
            );
        }
        SupplierTerms {
            supplier,
            delivery: delivery.unwrap_or_else(|| Money::zero(currency)),
            free_from,
            least_order,
            preferred,
        }
    }
}
