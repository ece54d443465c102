use super::raw::{BySize, Exact, RawHours, RawRates};
use super::{Crew, Hire, Hours, PaymentShare, Rates, SystemHours, TaxRule};
use crate::money::{Currency, Money};
use crate::quote::Company;
use bom::finding::{Finding, did_you_mean, stops};
use bom::quantity::Size;
use bom::source::{Source, Span};
use bom::system::Joint;
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

/// People of a crew.
const CREW: std::ops::RangeInclusive<u32> = 1..=100;

pub(super) struct Reader {
    pub(super) findings: Vec<Finding>,
}

impl Reader {
    fn rates(&mut self, raw: RawRates) -> Option<Rates> {
        let currency = self.currency(&raw.currency);
        let wage = self.number(&raw.wage, "the wage");
        let payment = self.payment(&raw);
        let hours = self.hours(&raw.hours);
        let crew = self.crew(&raw);
        let hired: Vec<Decimal> = raw
            .hire
            .iter()
            .map(|row| self.number(&row.price, &format!("the hire of the {}", row.tool)))
            .collect();
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
        let buying = self.buying(&raw, currency);
        Some(Rates {
            buying,
            sample: raw.sample,
            company: Company {
                name: raw.company.name,
                lines: raw.company.lines,
            },
            currency,
            wage: Money::new(wage, currency),
            hours,
            crew,
            hire: raw
                .hire
                .into_iter()
                .zip(hired)
                .map(|(row, price)| Hire {
                    tool: row.tool,
                    joints: row.joints,
                    price: Money::new(price, currency),
                })
                .collect(),
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

    fn hours(&mut self, raw: &RawHours) -> Hours {
        let joint = [
            (Joint::Threaded, &raw.joint),
            (Joint::Soldered, &raw.joint_soldered),
            (Joint::Brazed, &raw.joint_brazed),
            (Joint::Pressed, &raw.joint_pressed),
            (Joint::PushFit, &raw.joint_push_fit),
        ];
        let joint = joint.map(|(joint, hours)| (joint, self.by_size(hours)));
        let mut of = BTreeMap::new();
        for (system, own) in &raw.of {
            let own = SystemHours {
                joint: self.by_size(&own.joint),
                pipe_10ft: self.by_size(&own.pipe_10ft),
            };
            of.insert(system.clone(), own);
        }
        Hours {
            joint: joint.into(),
            pipe_10ft: self.by_size(&raw.pipe_10ft),
            of,
            support: self.number(&raw.support, "the hours for a support"),
            device: self.number(&raw.device, "the hours for a device"),
            drop: self.number(&raw.drop, "the hours for a drop"),
            drain: self.number(&raw.drain, "the hours for a drain"),
            mobilisation: self.number(&raw.mobilisation, "the hours for mobilisation"),
            pressure_test: self.number(&raw.pressure_test, "the hours for the pressure test"),
        }
    }

    /// Where one of the two entries stands, the other is one person or eight
    /// hours.
    fn crew(&mut self, raw: &RawRates) -> Option<Crew> {
        if raw.crew.is_none() && raw.day_hours.is_none() {
            return None;
        }
        let people = raw.crew.as_ref().map_or(1, |people| *people.get_ref());
        if let Some(written) = raw.crew.as_ref().filter(|_| !CREW.contains(&people)) {
            self.findings.push(Finding::unreadable(
                "rates-crew",
                Span::from(written.span()),
                format!("a crew cannot be {people} people"),
                "write a number from 1 to 100",
            ));
        }
        let day_hours = match &raw.day_hours {
            Some(written) => {
                let Exact(hours) = *written.get_ref();
                if hours < Decimal::ONE || hours > Decimal::from(24) {
                    self.findings.push(Finding::unreadable(
                        "rates-crew",
                        Span::from(written.span()),
                        format!("a day cannot have {hours} hours of work"),
                        "write a number from 1 to 24",
                    ));
                }
                hours
            }
            None => Decimal::from(8),
        };
        Some(Crew { people, day_hours })
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

    pub(super) fn number(&mut self, written: &Spanned<Exact>, what: &str) -> Decimal {
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
