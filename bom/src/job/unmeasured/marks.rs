//! Marks that were not measured.

use super::{Guess, Settling};
use crate::job::Leg;
use crate::quantity::{Length, Units};
use crate::source::Span;

impl Settling<'_> {
    /// A leg ends where its closing reading says, and no nearer than its furthest mark.
    pub(super) fn reach(&mut self) {
        for leg in 0..self.legs.len() {
            let straights = (0..self.legs[leg].straights.len()).map(|number| (leg, number));
            let Some(open) = self.only_open(straights) else {
                continue;
            };
            let taken = self.legs[leg].straights[open.1].value.length;
            let others = self.legs[leg].length() - taken;
            let marks = self.legs[leg].marks.iter();
            let known = marks.filter(|mark| !mark.back && !self.is_guess(mark.reading.span));
            let Some(furthest) = known.max_by_key(|mark| mark.reading.value) else {
                continue;
            };
            let furthest = (furthest.reading.value, furthest.name.span);
            let last = self.legs[leg].marks.last().map(|mark| mark.name.span);
            match self.legs[leg].left {
                Some(left) if last == Some(furthest.1) => {
                    let length = furthest.0 + left.value - others;
                    self.take(open, length, "its last mark and what is left from there");
                }
                _ if furthest.0 > others + taken => {
                    self.take(open, furthest.0 - others, "as far as its furthest mark");
                }
                _ => {}
            }
        }
    }

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
