//! The job frozen as it was built: what to write otherwise in its file, so that the next
//! visit starts from what stands. What writes it decides nothing.

use crate::Plan;
use crate::job::{AsBuilt, Direction, DropKind, Job, Leg, Outlet, SizeChoice, State, Unmeasured};
use crate::library::Library;
use crate::network::Network;
use crate::quantity::Size;
use crate::source::Source;
use crate::survey::as_written;
use std::collections::{BTreeMap, BTreeSet};

/// A table of the job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// `[main]`.
    One(&'static str),
    /// `[outlet.bench]`.
    Named(&'static str, String),
    /// The leg of this number.
    Leg(usize),
    /// Its marks.
    Marks(usize),
}

/// What is written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Written {
    /// Text.
    Text(String),
    /// A list of texts.
    List(Vec<String>),
}

/// A change of a job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edit {
    /// Writes a key of a table, which is made where the file has none.
    Write(Place, &'static str, Written),
    /// Adds a mark to a leg: its name and its reading.
    Mark(usize, String, String),
    /// Takes a key out.
    Erase(Place, String),
    /// Repeats a named table under another name.
    Repeat(&'static str, String, String),
    /// Takes a table out.
    TakeOut(Place),
    /// Takes every table of the second walk out that names one of these places.
    Unread(BTreeSet<String>),
}

/// The changes, those of legs taken out last and from the end, so that numbers hold until
/// then.
#[must_use]
pub fn freeze(source: &Source, plan: &Plan, library: &Library, from: &AsBuilt) -> Vec<Edit> {
    let Some(file) = crate::job::read(source, library).0 else {
        return Vec::new();
    };
    let built = plan.job.clone().as_built(&plan.network);
    let mut freezer = Freezer {
        kept: kept_names(plan, &built),
        later: plan.job.to_come.as_deref(),
        plan,
        library,
        file,
        built,
        edits: Vec::new(),
        lost: BTreeSet::new(),
    };
    freezer.write(Place::One("as_built"), "mark", from.mark.clone());
    freezer.write(Place::One("as_built"), "date", from.date.clone());
    freezer.main();
    freezer.named();
    freezer.kinds();
    freezer.plugs();
    freezer.together();
    freezer.legs();
    if !freezer.lost.is_empty() {
        freezer.edits.push(Edit::Unread(freezer.lost));
    }
    freezer.edits
}

/// The findings that were taken and are none once nothing is new, with their reasons: the
/// file says them in words from then on.
#[must_use]
pub fn done_with(plan: &Plan, frozen: &Plan) -> Vec<(String, String)> {
    let finds = |plan: &Plan, rule: &str| plan.practice.iter().any(|found| found.rule == rule);
    let taken = frozen.job.accept.iter();
    let taken = taken.filter(|one| finds(plan, &one.rule.value) && !finds(frozen, &one.rule.value));
    taken
        .map(|one| (one.rule.value.clone(), one.reason.clone()))
        .collect()
}

struct Freezer<'a> {
    plan: &'a Plan,
    library: &'a Library,
    /// The job as its file has it, what is offered besides included.
    file: Job,
    /// The job as it stands after the work.
    built: Job,
    /// With what is to come.
    later: Option<&'a Job>,
    /// Names of places at which something stands, is plugged or is to come.
    kept: BTreeSet<String>,
    edits: Vec<Edit>,
    /// Names of places that are left nowhere.
    lost: BTreeSet<String>,
}

impl Freezer<'_> {
    fn write(&mut self, at: Place, key: &'static str, text: impl Into<String>) {
        self.edits
            .push(Edit::Write(at, key, Written::Text(text.into())));
    }

    fn stands(&mut self, at: Place) {
        self.write(at, "state", State::Existing.word());
    }

    /// The file's own stages: after the work, before it, and with what is to come.
    fn stages(&self) -> impl Iterator<Item = &Job> {
        let others = self.file.before.iter().chain(&self.file.to_come);
        std::iter::once(&self.file).chain(others.map(|job| &**job))
    }

    fn main(&mut self) {
        if let (SizeChoice::Auto, SizeChoice::Given(size)) =
            (self.file.main.size, self.built.main.size)
        {
            self.write(Place::One("main"), "size", size.to_string());
        }
        for supply in self.built.supplies.clone() {
            self.stands(Place::Named("supply", supply.name.value));
        }
    }

    /// Outlets, drains and valves: those that stand, and those that are left nowhere.
    fn named(&mut self) {
        for (word, names) in NAMED {
            let stand: BTreeSet<String> = names(&self.built).into_iter().collect();
            let come: BTreeSet<String> = self.later.map(names).into_iter().flatten().collect();
            let mut in_file: Vec<String> = self.stages().flat_map(names).collect();
            in_file.sort_unstable();
            in_file.dedup();
            for name in in_file {
                let at = Place::Named(word, name);
                let Place::Named(_, name) = &at else { continue };
                if stand.contains(name) {
                    self.stands(at);
                } else if !come.contains(name) {
                    self.edits.push(Edit::TakeOut(at));
                }
            }
        }
        for outlet in self.built.outlets.clone() {
            if outlet.head == Some(true) {
                self.write(Place::Named("outlet", outlet.name.value), "head", "valve");
            }
        }
        // What is offered besides was not built, and what may be chosen was chosen.
        if !self.file.alternates.is_empty() {
            self.edits.push(Edit::TakeOut(Place::One("alternate")));
        }
        if !self.file.options.is_empty() {
            self.edits.push(Edit::TakeOut(Place::One("option")));
        }
    }

    /// The sizes of drops that the file leaves open: one kind has one size, and what is
    /// not built yet keeps it open.
    fn kinds(&mut self) {
        for index in 0..self.file.drops.len() {
            let kind = self.file.drops[index].clone();
            if kind.state.is_some_and(|state| state.value != State::Later) {
                let at = Place::Named("drop", kind.name.value.clone());
                self.edits.push(Edit::Erase(at, "state".to_owned()));
            }
            if kind.size == SizeChoice::Auto {
                self.sized(&kind);
            }
        }
    }

    fn sized(&mut self, kind: &DropKind) {
        let of_it = |job: &Job, outlet: &Outlet| {
            let own = outlet.drop.and_then(|own| job.drops.get(own));
            own.is_some_and(|own| own.name.value == kind.name.value)
        };
        let mut drops: Vec<(String, Option<Size>)> = Vec::new();
        for drop in &self.plan.network.drops {
            if drop.kind == kind.name.value {
                drops.push((drop.name.clone(), Some(drop.size)));
            }
        }
        if let Some(later) = self.later {
            for outlet in later.outlets.iter().filter(|one| of_it(later, one)) {
                let name = &outlet.name.value;
                if !drops.iter().any(|(one, _)| one == name) {
                    let mut plugs = self.plan.job.plugs.iter();
                    let plug = plugs.find(|plug| plug.to_come && plug.name == *name);
                    drops.push((name.clone(), plug.and_then(|plug| plug.size)));
                }
            }
        }
        let mut count: BTreeMap<Option<Size>, usize> = BTreeMap::new();
        for (_, size) in &drops {
            *count.entry(*size).or_default() += 1;
        }
        // The kind itself has the size that most have; one that stays open stays so.
        let usual = match count.contains_key(&None) {
            true => None,
            false => count
                .iter()
                .rev()
                .max_by_key(|(_, count)| **count)
                .and_then(|(size, _)| *size),
        };
        let name = &kind.name.value;
        if let Some(size) = usual {
            self.write(Place::Named("drop", name.clone()), "size", size.to_string());
        }
        let others: BTreeSet<Size> = count.into_keys().flatten().collect();
        for size in others.into_iter().filter(|size| Some(*size) != usual) {
            let own = format!("{name} {size}");
            self.edits
                .push(Edit::Repeat("drop", name.clone(), own.clone()));
            self.write(Place::Named("drop", own.clone()), "size", size.to_string());
            for (outlet, _) in drops.iter().filter(|(_, one)| *one == Some(size)) {
                let at = Place::Named("outlet", outlet.clone());
                self.write(at, "drop", own.clone());
            }
        }
    }

    /// The branches that are left plugged.
    fn plugs(&mut self) {
        let mut plugged = BTreeSet::new();
        for (place, direction, size, system) in left_plugged(&self.plan.job, &self.plan.network) {
            if !plugged.insert(place.clone()) {
                continue;
            }
            let at = || Place::Named("plug", place.clone());
            self.write(at(), "way", direction.word());
            self.write(at(), "size", size.to_string());
            if let Some(system) = system {
                let name = self.library.systems()[system].name.clone();
                self.write(at(), "system", name);
            }
        }
    }

    /// Outlets that are left nowhere run together with nothing.
    fn together(&mut self) {
        let mut sets: BTreeMap<String, Vec<(String, usize)>> = BTreeMap::new();
        for job in self.stages() {
            for together in &job.together {
                let set = sets.entry(together.name.value.clone()).or_default();
                let outlets = together
                    .outlets
                    .iter()
                    .filter_map(|at| job.outlets.get(*at));
                for outlet in outlets {
                    let one = (outlet.name.value.clone(), outlet.tools.len());
                    if !set.contains(&one) {
                        set.push(one);
                    }
                }
            }
        }
        for (name, mut set) in sets {
            let in_file = set.len();
            set.retain(|(outlet, _)| self.stays(outlet));
            if set.len() == in_file {
                continue;
            }
            let at = Place::Named("together", name);
            let tools: usize = set.iter().map(|(_, tools)| tools).sum();
            let names = set.into_iter().map(|(outlet, _)| outlet).collect();
            self.edits.push(match tools {
                0 | 1 => Edit::TakeOut(at),
                _ => Edit::Write(at, "outlets", Written::List(names)),
            });
        }
    }

    /// Whether an outlet stands or is to come.
    fn stays(&self, outlet: &str) -> bool {
        let jobs = std::iter::once(&self.built).chain(self.later);
        let mut outlets = jobs.flat_map(|job| &job.outlets);
        outlets.any(|one| one.name.value == outlet)
    }

    fn legs(&mut self) {
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

/// A kind of table with names, and what gives its names.
type Names = (&'static str, fn(&Job) -> Vec<String>);

/// The kinds of tables whose things are marked on legs.
const NAMED: [Names; 3] = [
    ("outlet", |job| {
        job.outlets
            .iter()
            .map(|one| one.name.value.clone())
            .collect()
    }),
    ("drain", |job| {
        job.drains
            .iter()
            .map(|one| one.name.value.clone())
            .collect()
    }),
    ("valve", |job| {
        job.valves
            .iter()
            .map(|one| one.name.value.clone())
            .collect()
    }),
];

/// Names of places at which something stands, is plugged, starts or is to come.
fn kept_names(plan: &Plan, built: &Job) -> BTreeSet<String> {
    let jobs = || std::iter::once(built).chain(plan.job.to_come.as_deref());
    let named = jobs().flat_map(|job| NAMED.iter().flat_map(|(_, names)| names(job)));
    let starts = jobs()
        .flat_map(|job| &job.legs)
        .filter_map(|leg| leg.from.clone());
    let plugs = left_plugged(&plan.job, &plan.network);
    let said = plan.job.plugs.iter().filter(|plug| plug.span.is_some());
    named
        .chain(starts.map(|name| name.value))
        .chain(plugs.into_iter().map(|(place, ..)| place))
        .chain(said.map(|plug| plug.place.clone()))
        .collect()
}

/// The branches that are plugged and for which nothing is to come: their places, where
/// they leave the main, their sizes, and their systems where these are not the main's.
fn left_plugged(job: &Job, network: &Network) -> Vec<(String, Direction, Size, Option<usize>)> {
    let left = network.plugged.iter().filter(|plugged| !plugged.to_come);
    let left = left.filter_map(|plugged| {
        let mut plugs = job.plugs.iter().filter(|plug| plug.span.is_none());
        let plug = plugs.find(|plug| (&plug.name, plug.of) == (&plugged.name, plugged.of))?;
        let end = network
            .ends(plugged.at)
            .find(|end| end.far == plugged.plug)?;
        let link = network.link(end.link);
        let mut main = network.ends(plugged.at).map(|end| network.link(end.link));
        let of_main = main.any(|one| one.is_main() && one.system == link.system);
        let system = (!of_main).then_some(link.system);
        Some((plug.place.clone(), end.direction, link.size, system))
    });
    left.collect()
}
