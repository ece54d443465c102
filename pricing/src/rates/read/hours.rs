//! Hours, what adds to them, and who works them.

use super::Reader;
use crate::rates::raw::{BySize, Exact, RawAdders, RawHours, RawRates};
use crate::rates::{Adders, Crew, HeightAdder, Hours, SystemHours};
use bom::finding::Finding;
use bom::quantity::Size;
use bom::source::Span;
use bom::system::Joint;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use toml::Spanned;

/// People of a crew.
const CREW: std::ops::RangeInclusive<u32> = 1..=100;

/// Percent by which anything takes longer.
const LONGER: u32 = 1_000;

impl Reader {
    pub(super) fn hours(&mut self, raw: &RawHours) -> Hours {
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
            tie_in: self.hours_if(raw.tie_in.as_ref(), "a tie-in"),
            remove_10ft: self.hours_if(raw.remove_10ft.as_ref(), "pipe taken out"),
            remove_support: self.hours_if(raw.remove_support.as_ref(), "a support taken down"),
            remove_joint: self.hours_if(raw.remove_joint.as_ref(), "a joint undone"),
        }
    }

    fn hours_if(&mut self, written: Option<&Spanned<Exact>>, of: &str) -> Option<Decimal> {
        written.map(|written| self.number(written, &format!("the hours for {of}")))
    }

    /// Where one of the two entries stands, the other is one person or eight
    /// hours.
    pub(super) fn crew(&mut self, raw: &RawRates) -> Option<Crew> {
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

    pub(super) fn adders(&mut self, raw: &RawAdders) -> Adders {
        let height = raw.height.as_ref().and_then(|raw| {
            let percent = self.percent(&raw.percent, "what work at height adds", LONGER);
            let above = self.height(raw.above.get_ref(), Span::from(raw.above.span()))?;
            Some(HeightAdder { above, percent })
        });
        let congestion = raw.congestion.as_ref();
        let congestion = congestion.map(|raw| self.percent(raw, "the congestion", LONGER));
        let least = raw.least_hours.as_ref();
        let least = least.map(|raw| self.number(raw, "the least hours of a job"));
        Adders {
            height,
            congestion: congestion.unwrap_or_default(),
            least_hours: least.unwrap_or_default(),
        }
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
}
