//! Outlets taken out, and the main that led to them alone.

use crate::job::{Job, Leg, Mark, Outlet};
use crate::quantity::Length;
use crate::source::Spanned;
use std::collections::BTreeSet;

impl Job {
    /// The job without some outlets. Main that led to nothing else goes with them: a leg
    /// that has neither marks nor legs behind it, or its end behind its last mark.
    #[must_use]
    pub fn without(mut self, outlets: &BTreeSet<String>) -> Self {
        if outlets.is_empty() {
            return self;
        }
        self.drop_outlets(outlets);
        self.to_come = self.to_come.map(|job| Box::new(job.without(outlets)));
        let mut ended = BTreeSet::new();
        for (index, leg) in self.legs.iter_mut().enumerate() {
            if leg.take_out(outlets) {
                ended.insert(index);
            }
        }
        self.cut_back(ended);
        self
    }

    /// Takes outlets out of every list but the legs' marks.
    pub(in crate::job) fn drop_outlets(&mut self, outlets: &BTreeSet<String>) {
        let gone = |outlet: &Outlet| outlets.contains(&outlet.name.value);
        let mut kept = 0;
        let numbers: Vec<Option<usize>> = self
            .outlets
            .iter()
            .map(|outlet| {
                let number = (!gone(outlet)).then_some(kept);
                kept += usize::from(number.is_some());
                number
            })
            .collect();
        self.outlets.retain(|outlet| !gone(outlet));
        self.declared.retain(|name| !outlets.contains(name));
        for together in &mut self.together {
            let of = together.outlets.iter();
            together.outlets = of.filter_map(|outlet| *numbers.get(*outlet)?).collect();
        }
        self.together
            .retain(|together| !together.outlets.is_empty());
    }

    /// Takes out what of these legs, and of those before them, leads to nothing.
    fn cut_back(&mut self, mut ended: BTreeSet<usize>) {
        let mut dead = BTreeSet::new();
        while let Some(index) = ended.pop_last() {
            if dead.contains(&index) || self.goes_on(index, &dead) {
                continue;
            }
            let serves = self.legs[index].marks.iter().map(|mark| &mark.name.value);
            let serves = serves
                .filter(|name| self.serves(name, &dead))
                .cloned()
                .collect();
            let (lives, behind) = self.legs[index].cut_at_last_of(&serves);
            // A valve behind the last of what it could shut off goes too.
            self.valves
                .retain(|valve| !behind.contains(&valve.name.value));
            self.declared.retain(|name| !behind.contains(name));
            if lives {
                continue;
            }
            dead.insert(index);
            let Some(from) = self.legs[index].from.clone() else {
                ended.extend(index.checked_sub(1));
                continue;
            };
            let legs = self.legs.iter().enumerate();
            let mut alive = legs.filter(|(other, _)| !dead.contains(other));
            let is_from = |name: &Option<Spanned<String>>| {
                name.as_ref().is_some_and(|name| name.value == from.value)
            };
            if self.declared.contains(&from.value) || alive.any(|(_, leg)| is_from(&leg.from)) {
                continue;
            }
            // Nothing is left of what the name stood for.
            let name = BTreeSet::from([from.value]);
            for (other, leg) in self.legs.iter_mut().enumerate() {
                if !dead.contains(&other) && leg.take_out(&name) {
                    ended.insert(other);
                }
            }
        }
        let mut index = 0;
        self.legs.retain(|_| {
            index += 1;
            !dead.contains(&(index - 1))
        });
    }

    /// Whether the main leads to this place for its own sake: an outlet, a drain, or where
    /// another leg starts.
    fn serves(&self, name: &str, dead: &BTreeSet<usize>) -> bool {
        let legs = self.legs.iter().enumerate();
        let mut alive = legs.filter(|(leg, _)| !dead.contains(leg));
        let valve = self.valves.iter().any(|valve| valve.name.value == name);
        let starts = |leg: &Leg| leg.from.as_ref().is_some_and(|from| from.value == name);
        (self.declared.contains(name) && !valve) || alive.any(|(_, leg)| starts(leg))
    }

    /// Whether another leg starts where this one ends.
    fn goes_on(&self, index: usize, dead: &BTreeSet<usize>) -> bool {
        let to = self.legs[index].to.as_ref().map(|to| &to.value);
        let legs = self.legs.iter().enumerate();
        let mut alive = legs.filter(|(other, _)| !dead.contains(other));
        alive.any(|(other, leg)| match &leg.from {
            None => other == index + 1,
            Some(from) => to == Some(&from.value),
        })
    }
}

impl Leg {
    /// Takes out the marks of these names, and says whether one of them was its end.
    fn take_out(&mut self, outlets: &BTreeSet<String>) -> bool {
        let end = self.length();
        let is_end = |mark: &Mark| self.place_of(mark) == end;
        let gone = |mark: &Mark| outlets.contains(&mark.name.value);
        let to_outlet = self
            .to
            .as_ref()
            .is_some_and(|to| outlets.contains(&to.value));
        let ended = to_outlet || self.marks.iter().any(|mark| gone(mark) && is_end(mark));
        let stays = self.marks.iter().any(|mark| !gone(mark) && is_end(mark));
        if to_outlet {
            self.to = None;
        }
        if self.marks.iter().any(gone) {
            self.left = None;
        }
        self.marks
            .retain(|mark| !outlets.contains(&mark.name.value));
        ended && !stays
    }

    /// Ends the leg at the last mark of these names, and says whether there is one and
    /// whose marks stood behind it.
    fn cut_at_last_of(&mut self, names: &BTreeSet<String>) -> (bool, BTreeSet<String>) {
        let whole = self.length();
        for mark in &mut self.marks {
            if mark.back {
                mark.reading.value = whole - mark.reading.value;
                mark.back = false;
            }
        }
        let serving = self
            .marks
            .iter()
            .filter(|mark| names.contains(&mark.name.value));
        let last = serving.map(|mark| mark.reading.value).max();
        let end = last.unwrap_or(Length::ZERO);
        let (kept, behind): (Vec<Mark>, Vec<Mark>) = std::mem::take(&mut self.marks)
            .into_iter()
            .partition(|mark| last.is_some() && mark.reading.value <= end);
        self.marks = kept;
        let mut begun = Length::ZERO;
        for straight in &mut self.straights {
            let left = (end - begun).max(Length::ZERO);
            begun += straight.value.length;
            straight.value.length = straight.value.length.min(left);
        }
        self.straights
            .retain(|straight| straight.value.length > Length::ZERO);
        (self.left, self.to) = (None, None);
        let behind = behind.into_iter().map(|mark| mark.name.value);
        (last.is_some(), behind.collect())
    }
}
