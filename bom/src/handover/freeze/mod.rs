//! The job frozen as it was built: what to write otherwise in its file, so that the next
//! visit starts from what stands. What writes it decides nothing.

mod edit;
mod kinds;
mod legs;

pub use edit::{Edit, Place, Written};

use crate::Plan;
use crate::job::{AsBuilt, Direction, Job, SizeChoice, State};
use crate::library::Library;
use crate::network::Network;
use crate::quantity::Size;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

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
