//! Where a leg stops: its corners, its marks, its end.

use super::Walker;
use crate::finding::Finding;
use crate::job::Leg;
use crate::network::Spot;
use crate::quantity::Length;
use crate::source::Spanned;
use std::collections::BTreeMap;

#[derive(Debug)]
pub(super) struct Stop {
    pub(super) at: Length,
    pub(super) spot: Spot,
    pub(super) marks: Vec<usize>,
}

impl Stop {
    const fn new(at: Length, spot: Spot) -> Self {
        Self {
            at,
            spot,
            marks: Vec::new(),
        }
    }
}

impl Walker<'_> {
    /// Where the leg stops: its corners, its marks, its end; in order, each
    /// once. Says what is wrong with its marks.
    pub(super) fn stops(&mut self, index: usize, leg: &Leg) -> Vec<Stop> {
        let length = leg.length();
        let units = self.job.units;
        let mut stops: BTreeMap<Length, Stop> = BTreeMap::new();
        let mut corner = Length::ZERO;
        for straight in &leg.straights {
            corner += straight.value.length;
            let spot = if corner == length {
                Spot::End
            } else {
                Spot::Corner
            };
            stops.insert(corner, Stop::new(corner, spot));
        }
        let mut last_mark: Option<(Length, &str)> = None;
        for (number, mark) in leg.marks.iter().enumerate() {
            let reading = mark.reading.value;
            if reading > length {
                self.findings.push(
                    Finding::unreadable(
                        "mark-past-end",
                        mark.reading.span,
                        format!(
                            "`{}` is marked at {}, and the leg is {} long",
                            mark.name.value,
                            reading.show(units),
                            length.show(units)
                        ),
                        "check the reading, and from which end the tape was read",
                    )
                    .related(leg.span, leg.label()),
                );
                continue;
            }
            let at = leg.place_of(mark);
            stops
                .entry(at)
                .or_insert_with(|| Stop::new(at, Spot::Mark(number)))
                .marks
                .push(number);
            if last_mark.is_none_or(|(last, _)| at > last) {
                last_mark = Some((at, &mark.name.value));
            }
        }
        if let Some(left) = leg.left {
            let (at, name) = last_mark.unwrap_or((Length::ZERO, "its start"));
            let over = at + left.value - length;
            if over != Length::ZERO {
                self.findings.push(
                    Finding::unreadable(
                        "closing-reading",
                        left.span,
                        format!(
                            "from {name} to the end {} are left, which makes the leg {} {} than its {}",
                            left.value.show(units),
                            over.abs().show(units),
                            if over > Length::ZERO { "longer" } else { "shorter" },
                            length.show(units)
                        ),
                        "one of the marks, the closing reading or the length is wrong: measure again",
                    )
                    .related(leg.span, format!("leg {}", index + 1)),
                );
            }
        }
        stops.into_values().collect()
    }
}

impl Leg {
    /// The names of what stands at a stop, its last one or another.
    pub(super) fn names_at(
        &self,
        stop: &Stop,
        last: bool,
    ) -> impl Iterator<Item = &Spanned<String>> {
        let marks = stop.marks.iter().map(|mark| &self.marks[*mark].name);
        marks.chain(self.to.iter().filter(move |_| last))
    }
}
