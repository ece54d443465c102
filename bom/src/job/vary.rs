//! The same job otherwise: without some outlets, with one more, in other pipe. What
//! is priced beside a job is planned from here as the job itself is.

use super::{DropKind, Job, JobOption, Leg, Mark, Outlet, SizeChoice};
use crate::library::Library;
use crate::network::Network;
use crate::quantity::{Length, Units};
use crate::source::Spanned;
use std::collections::BTreeSet;

/// Where one more drop can leave the main: the middle of level pipe on which nothing
/// stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// The leg, by its index.
    pub leg: usize,
    /// Its middle, from the leg's start along the pipe: a whole inch or centimetre.
    pub at: Length,
    /// How long it is between what stands at its ends, centre to centre.
    pub length: Length,
}

impl Job {
    /// The job with the alternates of these names and without all others.
    #[must_use]
    pub fn with_alternates(mut self, taken: &[&str]) -> Self {
        let left = self.alternates.iter();
        let left = left.filter(|one| !taken.contains(&one.name.value.as_str()));
        let outlets: Vec<String> = left.flat_map(|one| one.outlets.clone()).collect();
        if !outlets.is_empty() {
            self.assumptions.push(format!(
                "Outlets of alternates are no part of this: {}.",
                outlets.join(", ")
            ));
        }
        self.without(&outlets.into_iter().collect())
    }

    /// The job without some outlets. Main that led to nothing else goes with them: a leg
    /// that has neither marks nor legs behind it, or its end behind its last mark.
    #[must_use]
    pub fn without(mut self, outlets: &BTreeSet<String>) -> Self {
        if outlets.is_empty() {
            return self;
        }
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
        let mut ended = BTreeSet::new();
        for (index, leg) in self.legs.iter_mut().enumerate() {
            if leg.take_out(outlets) {
                ended.insert(index);
            }
        }
        self.cut_back(ended);
        self
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

    /// The job as an option has it.
    #[must_use]
    pub fn with_option(self, option: &JobOption, library: &Library) -> Self {
        let mut job = self.without(&option.leave_out.iter().cloned().collect());
        if let Some(system) = option.system {
            job = job.in_system(system, library);
        }
        if let Some(size) = option.size {
            job.main.size = SizeChoice::Given(size.value);
            job.main.size_span = size.span;
        }
        job
    }

    /// The job with the sizes that its network has where it leaves them open, so that
    /// another drop changes none of them.
    #[must_use]
    pub fn sized_as(mut self, network: &Network) -> Self {
        for (index, leg) in self.legs.iter_mut().enumerate() {
            let mut links = network.links().map(|(_, _, _, link)| link);
            let open = leg.size.map_or(self.main.size, |size| size.value) == SizeChoice::Auto;
            if let Some(link) = links.find(|link| open && link.leg == Some(index)) {
                leg.size = Some(Spanned::new(SizeChoice::Given(link.size), leg.span));
            }
        }
        for (outlet, drop) in self.outlets.iter_mut().zip(&network.drops) {
            let kind = outlet.drop.and_then(|kind| self.drops.get(kind)).cloned();
            if let Some(kind) = kind.filter(|kind| kind.size == SizeChoice::Auto) {
                outlet.drop = Some(self.drops.len());
                self.drops.push(DropKind {
                    size: SizeChoice::Given(drop.size),
                    ..kind
                });
            }
        }
        let widest = network
            .links()
            .filter_map(|(_, _, _, link)| link.leg.map(|_| link.size));
        if let (SizeChoice::Auto, Some(widest)) = (self.main.size, widest.max()) {
            self.main.size = SizeChoice::Given(widest);
        }
        self
    }

    /// Level pipe of the main on which nothing stands, the longest first; of equal ones
    /// the first of the file.
    #[must_use]
    pub fn stretches(&self) -> Vec<Stretch> {
        let step = match self.units {
            Units::Feet => Length::from_64ths(64),
            Units::Metric => Length::from_mm(10),
        };
        let mut found = Vec::new();
        for (leg, of) in self.legs.iter().enumerate() {
            let mut begun = Length::ZERO;
            for straight in &of.straights {
                let end = begun + straight.value.length;
                if straight.value.direction.is_level() {
                    let marks = of.marks.iter().map(|mark| of.place_of(mark));
                    let mut places: BTreeSet<Length> =
                        marks.filter(|at| (begun..end).contains(at)).collect();
                    places.extend([begun, end]);
                    let places: Vec<Length> = places.into_iter().collect();
                    found.extend(places.windows(2).map(|ends| {
                        let length = ends[1] - ends[0];
                        let middle = ends[0] + length.scaled(1, 2);
                        Stretch {
                            leg,
                            at: Length::from_nm(middle.nm() - middle.nm() % step.nm()),
                            length,
                        }
                    }));
                }
                begun = end;
            }
        }
        found.retain(|stretch| stretch.length > step.times(2));
        found.sort_by_key(|stretch| std::cmp::Reverse(stretch.length));
        found
    }

    /// The job with one more outlet like one that it has, on which no tool hangs.
    #[must_use]
    pub fn with_one_more(mut self, like: usize, at: Stretch) -> Self {
        let (Some(outlet), Some(leg)) = (self.outlets.get(like), self.legs.get_mut(at.leg)) else {
            return self;
        };
        let mut name = outlet.name.clone();
        while self.declared.contains(&name.value) {
            name.value += "+";
        }
        let more = Outlet {
            name: name.clone(),
            tools: Vec::new(),
            ..outlet.clone()
        };
        leg.marks.push(Mark {
            name: name.clone(),
            reading: Spanned::new(at.at, leg.span),
            back: false,
        });
        // The closing reading was taken from the last of the marks that stand there.
        leg.left = None;
        self.declared.insert(name.value);
        self.outlets.push(more);
        self
    }
}

impl Leg {
    /// How far from the leg's start a mark stands.
    fn place_of(&self, mark: &Mark) -> Length {
        match mark.back {
            true => self.length() - mark.reading.value,
            false => mark.reading.value,
        }
    }

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
