//! Legs: where they start, how they go, what is marked on them, and which are gone.

use super::{Edit, Freezer, Place, Written};
use crate::job::{Job, Leg, SizeChoice, Unmeasured};
use crate::survey::as_written;

impl Freezer<'_> {
    pub(super) fn legs(&mut self) {
        let numbers = self.stages().flat_map(|job| &job.legs);
        let last = numbers.map(|leg| leg.number).max().unwrap_or_default();
        let find = |job: &Job, number: usize| {
            let mut legs = job.legs.iter();
            legs.find(|leg| leg.number == number).cloned()
        };
        let mut out = Vec::new();
        for number in 1..=last {
            let stands = find(&self.built, number);
            let later = self.later.and_then(|job| find(job, number));
            let before = number - 1;
            let follows = out.last() == Some(&before);
            let as_filed = self.stages().find_map(|job| find(job, number));
            match (stands, later, as_filed) {
                (Some(leg), _, Some(filed)) => {
                    self.leg(&leg, &filed, follows);
                    self.stands(Place::Leg(number));
                }
                (None, Some(leg), Some(filed)) => self.leg_to_come(&leg, &filed, follows),
                (_, _, filed) => {
                    let names = filed.iter().flat_map(Leg::names);
                    let names = names.map(|name| name.value.clone());
                    let gone = names.filter(|name| !self.kept.contains(name));
                    self.lost.extend(gone.collect::<Vec<_>>());
                    out.push(number);
                }
            }
        }
        let out = out.into_iter().rev();
        self.edits
            .extend(out.map(|number| Edit::TakeOut(Place::Leg(number))));
    }

    fn leg(&mut self, leg: &Leg, filed: &Leg, follows: bool) {
        self.places(leg, filed, follows);
        let (SizeChoice::Given(size), open) = (
            leg.size.map_or(self.built.main.size, |size| size.value),
            filed.size.map_or(self.file.main.size, |size| size.value) == SizeChoice::Auto,
        ) else {
            return;
        };
        let of_main = self.built.main.size == SizeChoice::Given(size);
        if open && (filed.size.is_some() || !of_main) {
            self.write(Place::Leg(leg.number), "size", size.to_string());
        }
    }

    /// What is not built keeps an open size, unless a plug waits for it.
    fn leg_to_come(&mut self, leg: &Leg, filed: &Leg, follows: bool) {
        self.places(leg, filed, follows);
        let open = filed.size.map_or(self.file.main.size, |size| size.value) == SizeChoice::Auto;
        if !open {
            return;
        }
        let mut plugs = self.plan.job.plugs.iter();
        let plug = plugs.find(|plug| plug.to_come && plug.name == leg.label());
        let size = plug.and_then(|plug| plug.size);
        let size = size.map_or_else(|| "auto".to_owned(), |size| size.to_string());
        if filed.size.is_none() || size != "auto" {
            self.write(Place::Leg(leg.number), "size", size);
        }
    }

    /// Where a leg starts, its way and its marks, where these are others than in the file.
    fn places(&mut self, leg: &Leg, filed: &Leg, follows: bool) {
        let (number, units) = (leg.number, self.file.units);
        if let Some(from) = leg.from.as_ref().filter(|_| follows) {
            self.write(Place::Leg(number), "from", from.value.clone());
        }
        let lengths = |leg: &Leg| -> Vec<_> { leg.straights.iter().map(|one| one.value).collect() };
        if lengths(leg) != lengths(filed) {
            let unmeasured = &self.file.unmeasured;
            let steps = leg.straights.iter().map(|one| {
                let paced = unmeasured
                    .iter()
                    .any(|open: &Unmeasured| open.span == one.span);
                format!(
                    "{} {}{}",
                    one.value.direction.word(),
                    if paced { "~" } else { "" },
                    as_written(one.value.length, units)
                )
            });
            let steps = Written::List(steps.collect());
            self.edits
                .push(Edit::Write(Place::Leg(number), "go", steps));
            if filed.point.is_some() {
                self.erase(number, "to_point");
            }
        }
        if leg.to.is_none() && filed.to.is_some() {
            self.erase(number, "to");
        }
        let given = |leg: &Leg, name: &str| {
            let valve = self.built.valves.iter();
            let mut valve = valve.filter(|valve| valve.name.value == name);
            // One that a branch was given stands where its leg does.
            valve.any(|valve| valve.name.span == leg.span)
        };
        let mut new = Vec::new();
        let mut gone = Vec::new();
        for mark in &filed.marks {
            let name = &mark.name.value;
            if given(leg, name) {
                new.push((name.clone(), as_written(mark.reading.value, units)));
            } else if !self.kept.contains(name) {
                gone.push(name.clone());
            }
        }
        for (name, reading) in new {
            self.edits.push(Edit::Mark(number, name, reading));
        }
        if filed.left.is_some() && (!gone.is_empty() || leg.left.is_none()) {
            self.erase(number, "left");
        }
        for name in gone {
            self.edits
                .push(Edit::Erase(Place::Marks(number), name.clone()));
            self.lost.insert(name);
        }
    }

    fn erase(&mut self, leg: usize, key: &str) {
        self.edits
            .push(Edit::Erase(Place::Leg(leg), key.to_owned()));
    }
}
