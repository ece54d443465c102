use super::raw::{BySize, Exact, RawRates};
use super::{Hours, PaymentShare, Rates, TaxRule};
use crate::money::{Currency, Money};
use crate::quote::Company;
use bom::finding::{Finding, did_you_mean, stops};
use bom::quantity::Size;
use bom::source::{Source, Span};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
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
        let wage = self.number(&raw.wage, "the wage");
        let payment = self.payment(&raw);
        let hours = Hours {
            joint: self.by_size(&raw.hours.joint),
            pipe_10ft: self.by_size(&raw.hours.pipe_10ft),
            support: self.number(&raw.hours.support, "the hours for a support"),
            device: self.number(&raw.hours.device, "the hours for a device"),
            drop: self.number(&raw.hours.drop, "the hours for a drop"),
            drain: self.number(&raw.hours.drain, "the hours for a drain"),
            mobilisation: self.number(&raw.hours.mobilisation, "the hours for mobilisation"),
            pressure_test: self.number(&raw.hours.pressure_test, "the hours for the pressure test"),
        };
        let overhead = self.number(&raw.overhead, "the overhead");
        let margin = self.number(&raw.margin, "the margin");
        if margin >= Decimal::ONE_HUNDRED {
            self.findings.push(Finding::unreadable(
                "rates-margin",
                Span::from(raw.margin.span()),
                "a margin is a part of the price and stays under 100 %",
                "a job that costs 100 and sells for 125 has a margin of \"20\"",
            ));
        }
        let percent = self.number(&raw.tax.percent, "the tax");
        let currency = currency?;
        Some(Rates {
            sample: raw.sample,
            company: Company {
                name: raw.company.name,
                lines: raw.company.lines,
            },
            currency,
            wage: Money::new(wage, currency),
            hours,
            overhead,
            margin,
            tax: TaxRule {
                label: raw.tax.label,
                percent,
                on: raw.tax.on,
            },
            validity_days: raw.validity_days,
            payment,
            exclusions: raw.exclusions,
            cautions: raw.cautions,
            notices: raw.notices,
        })
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

    fn by_size(&mut self, written: &BySize) -> BTreeMap<Size, Decimal> {
        let mut hours = BTreeMap::new();
        for (size, number) in written {
            let span = Span::from(size.span());
            match Size::parse(size.get_ref()) {
                Ok(read) => {
                    let number = self.number(number, &format!("the hours for {read}"));
                    if hours.insert(read, number).is_some() {
                        self.findings.push(Finding::unreadable(
                            "rates-size",
                            span,
                            format!("the size {read} stands twice"),
                            "delete one of the two",
                        ));
                    }
                }
                Err(error) => self.findings.push(Finding::unreadable(
                    "rates-size",
                    span,
                    error.message,
                    error.help,
                )),
            }
        }
        hours
    }

    fn payment(&mut self, raw: &RawRates) -> Vec<PaymentShare> {
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
