//! From the rates file as it is written to the figures, with all problems.

mod costs;
mod hours;
mod offered;
mod suppliers;
mod terms;

use super::raw::{Exact, RawRates};
use super::{Rates, TaxRule};
use crate::money::{Currency, Money};
use crate::quote::Company;
use bom::finding::{Finding, did_you_mean, stops};
use bom::quantity::{Length, Units};
use bom::source::{Source, Span};
use rust_decimal::Decimal;
use toml::Spanned;

pub(super) fn rates(source: &Source) -> (Option<Rates>, Vec<Finding>) {
    match toml::from_str::<RawRates>(source.text()) {
        Ok(raw) => {
            let mut reader = Reader {
                findings: Vec::new(),
            };
            let rates = reader.rates(raw);
            let findings = reader.findings;
            (rates.filter(|_| !stops(&findings)), findings)
        }
        Err(error) => (None, vec![unreadable(&error)]),
    }
}

/// The reader's message with its place and, for a mistyped word, the nearest
/// word that was expected there.
fn unreadable(error: &toml::de::Error) -> Finding {
    let message = error.message();
    let words: Vec<&str> = message.split('`').skip(1).step_by(2).collect();
    let near = words
        .split_first()
        .and_then(|(written, known)| did_you_mean(written, known.iter().copied()));
    let help = near.map_or_else(
        || "the sample rates file shows every entry".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    let span = error.span().map_or_else(Span::default, Span::from);
    Finding::unreadable("rates-syntax", span, message, help)
}

/// No hour, wage or percentage is near this; it keeps every product in reach
/// of exact decimals.
const LARGEST: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);

struct Reader {
    findings: Vec<Finding>,
}

impl Reader {
    fn rates(&mut self, raw: RawRates) -> Option<Rates> {
        let currency = self.currency(&raw.currency);
        // Prices are still looked at where the currency cannot be read, by the
        // smallest coin that there is.
        let coin = currency.or_else(|| Currency::parse("KWD").ok())?;
        let wage = raw.wage.as_ref();
        let wage = wage.map(|wage| self.price(wage, "the wage", coin));
        let wage = wage.filter(|_| !raw.owner);
        let markup = self.markup(&raw, wage.is_none());
        let payment = self.payment(&raw);
        let retainage = self.retainage(&raw);
        let hours = self.hours(&raw.hours);
        let adders = self.adders(&raw.adders);
        let crew = self.crew(&raw);
        let hire = self.hire(&raw.hire, coin);
        let costs = self.costs(&raw.cost, crew, coin);
        let floor = self.floor(&raw, coin);
        let rounding = self.rounding(&raw);
        let disposal_lb = raw.disposal_lb.as_ref();
        let disposal_lb = disposal_lb.map(|raw| self.price(raw, "the disposal of a pound", coin));
        let small_items = raw.small_items.as_ref();
        let small_items = small_items.map(|raw| self.price(raw, "a small item", coin));
        let allowance = raw.allowance.as_ref();
        let allowance = allowance.and_then(|raw| self.allowance(raw, coin));
        let provisional = self.provisional(&raw.provisional, coin);
        let terms = self.terms(raw.terms.as_ref());
        let percent = self.percent(&raw.tax.percent, "the tax", 100);
        let buying = self.buying(&raw, coin);
        Some(Rates {
            buying,
            sample: raw.sample,
            company: Company {
                name: raw.company.name,
                lines: raw.company.lines,
            },
            currency: currency?,
            wage,
            hours,
            adders,
            crew,
            hire,
            costs,
            overhead: markup.overhead,
            contingency: markup.contingency,
            margin: markup.margin,
            floor,
            rounding,
            small_items,
            disposal_lb,
            allowance,
            provisional,
            terms,
            tax: TaxRule {
                label: raw.tax.label,
                percent,
                on: raw.tax.on,
            },
            validity_days: raw.validity_days,
            payment,
            retainage,
            exclusions: raw.exclusions,
            cautions: raw.cautions,
            notices: raw.notices,
        })
    }

    fn refuse(&mut self, rule: &'static str, span: Span, message: String, help: &str) {
        self.findings
            .push(Finding::unreadable(rule, span, message, help));
    }

    fn currency(&mut self, written: &Spanned<String>) -> Option<Currency> {
        Currency::parse(written.get_ref())
            .map_err(|error| {
                let span = Span::from(written.span());
                let finding =
                    Finding::unreadable("rates-currency", span, error.message, error.help);
                self.findings.push(finding);
            })
            .ok()
    }

    fn number(&mut self, written: &Spanned<Exact>, what: &str) -> Decimal {
        let Exact(number) = *written.get_ref();
        if number < Decimal::ZERO || number > LARGEST {
            self.findings.push(Finding::unreadable(
                "rates-number",
                Span::from(written.span()),
                format!("{what} cannot be {number}"),
                "write a number from 0 to 1000000",
            ));
        }
        number.clamp(Decimal::ZERO, LARGEST)
    }

    /// A percentage from 0 to `most`.
    fn percent(&mut self, written: &Spanned<Exact>, what: &str, most: u32) -> Decimal {
        let Exact(number) = *written.get_ref();
        let most = Decimal::from(most);
        if number < Decimal::ZERO || number > most {
            self.refuse(
                "rates-number",
                Span::from(written.span()),
                format!("{what} cannot be {number} %"),
                &format!("write a number from 0 to {most}"),
            );
        }
        number.clamp(Decimal::ZERO, most)
    }

    /// A percentage that is a part of the price, and so under 100.
    fn part_of_price(&mut self, written: &Spanned<Exact>, what: &str) -> Decimal {
        let number = self.number(written, what);
        if number < Decimal::ONE_HUNDRED {
            return number;
        }
        self.refuse(
            "rates-margin",
            Span::from(written.span()),
            format!("{what} is a part of the price and stays under 100 %"),
            "a job that costs 100 and sells for 125 has a margin of \"20\"",
        );
        Decimal::ZERO
    }

    /// A sum of money, no finer than the smallest coin.
    fn price(&mut self, written: &Spanned<Exact>, what: &str, currency: Currency) -> Money {
        let number = self.number(written, what);
        let money = Money::new(number, currency);
        if money.amount() != number {
            self.refuse(
                "rates-number",
                Span::from(written.span()),
                format!("{what} is {number}, finer than the smallest coin of {currency}"),
                &format!("write {}, or the price of more of it", money.plain()),
            );
        }
        money
    }

    /// A height above the floor; plain figures are feet and inches.
    fn height(&mut self, text: &str, span: Span) -> Option<Length> {
        match Length::parse(text, Units::Feet) {
            Ok(height) if height > Length::ZERO => Some(height),
            Ok(_) => {
                self.refuse(
                    "rates-height",
                    span,
                    format!("`{text}` is not above the floor"),
                    "write a height like \"12-0\" or \"3.6m\"",
                );
                None
            }
            Err(error) => {
                self.refuse("rates-height", span, error.message, &error.help);
                None
            }
        }
    }

    /// A text that is printed and so says something.
    fn said(&mut self, written: &Spanned<String>, what: &str) -> String {
        let text = written.get_ref().trim();
        if text.is_empty() {
            self.refuse(
                "rates-text",
                Span::from(written.span()),
                format!("{what} says nothing"),
                "write what the customer should read",
            );
        }
        text.to_owned()
    }
}
