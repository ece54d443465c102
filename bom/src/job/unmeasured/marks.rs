//! Marks that were not measured.

use super::{Guess, Settling};
use crate::job::Leg;
use crate::quantity::{Length, Units};
use crate::source::Span;

impl Settling<'_> {
    /// Marks stand evenly between those that are known.
    pub(super) fn marks(&mut self) {
        for leg in self.legs.iter_mut() {
            let length = leg.length();
            let open = |span: Span| self.guesses.get(&span) == Some(&Guess::NotMeasured);
            let at = |number: usize, leg: &Leg| {
                let mark = &leg.marks[number];
                match mark.back {
                    true => length - mark.reading.value,
                    false => mark.reading.value,
                }
            };
            let mut number = 0;
            while number < leg.marks.len() {
                if !open(leg.marks[number].reading.span) {
                    number += 1;
                    continue;
                }
                let more = leg.marks[number..].iter();
                let count = more.take_while(|mark| open(mark.reading.span)).count();
                let low = number
                    .checked_sub(1)
                    .map_or(Length::ZERO, |one| at(one, leg));
                let next = number + count;
                let high = if next < leg.marks.len() {
                    at(next, leg)
                } else {
                    length
                };
                let high = if high > low { high } else { length };
                for mark in leg.marks[number..next].iter_mut() {
                    number += 1;
                    let parts = i64::try_from(count + 1).unwrap_or(i64::MAX);
                    let part = i64::try_from(number + count - next).unwrap_or(0);
                    let place = low + whole((high - low).scaled(part, parts), self.units);
                    mark.reading.value = if mark.back { length - place } else { place };
                    self.from
                        .insert(mark.reading.span, "evenly between its neighbours");
                }
            }
        }
    }
}

/// To the inch, or to 10 mm: a stand-in shall not look measured.
fn whole(length: Length, units: Units) -> Length {
    let step = match units {
        Units::Feet => Length::from_64ths(64),
        Units::Metric => Length::from_mm(10),
    };
    Length::from_nm(length.nm() / step.nm() * step.nm())
}
