//! The legs of two mains. A leg has no name, and its number is only its place in
//! the file: the same run is the same leg, and of the others those that start or
//! end at the same place belong together.

use super::item::{Item, ItemKind};
use super::layout::{self, place};
use super::things::{Lie, Place, Thing, compare as by_name, pair, paired};
use bom::Plan;
use bom::job::{Direction, Leg, Straight, Wall};
use bom::library::Library;
use bom::quantity::{Length, Size, Units};
use std::collections::BTreeSet;

/// A leg as it is held against others.
#[derive(Debug, Clone)]
struct Run {
    thing: Thing,
    walk: Vec<(Direction, Length)>,
    wall: Option<&'static str>,
    start: Place,
    end: Place,
}

pub(super) fn compare(old: &Plan, new: &Plan, library: &Library, lie: Lie) -> Vec<Item> {
    let (mut was, mut is) = (runs(old, library, lie.units), runs(new, library, lie.units));
    for run in &mut was {
        run.start = run.start.by(lie.shift);
        run.end = run.end.by(lie.shift);
    }
    let alike = |run: &Run| Some((run.walk.clone(), run.thing.facts.clone()));
    paired(&mut was, &mut is, alike);
    let walk = |run: &Run| Some(run.walk.clone());
    let start = |run: &Run| Some((run.walk.first()?.0, run.start.rounded()));
    let end = |run: &Run| Some((run.walk.last()?.0, run.end.rounded()));
    let wall = |run: &Run| Some((run.wall?, run.walk.first()?.0));
    let mut pairs = paired(&mut was, &mut is, walk);
    pairs.extend(paired(&mut was, &mut is, start));
    pairs.extend(paired(&mut was, &mut is, end));
    pairs.extend(paired(&mut was, &mut is, wall));
    let mut items: Vec<Item> = pairs
        .into_iter()
        .filter_map(|(old, new)| {
            let name = new.thing.name.clone();
            let old = Thing { name, ..old.thing };
            pair(ItemKind::Leg, &old, &new.thing, lie)
        })
        .collect();
    for run in was {
        items.extend(by_name(ItemKind::Leg, vec![run.thing], Vec::new(), lie));
    }
    for run in is {
        items.extend(by_name(ItemKind::Leg, Vec::new(), vec![run.thing], lie));
    }
    items.sort_by(|a, b| (a.fate, &a.name).cmp(&(b.fate, &b.name)));
    items
}

/// The legs of a job, by where they start and where they go.
fn runs(plan: &Plan, library: &Library, units: Units) -> Vec<Run> {
    let legs = plan.job.legs.iter().enumerate();
    let mut runs: Vec<Run> = legs
        .filter_map(|(index, leg)| run(plan, library, units, index, leg))
        .collect();
    runs.sort_by(|a, b| {
        let key = |run: &Run| (run.start, run.walk.clone(), run.end);
        key(a).cmp(&key(b))
    });
    runs
}

fn run(plan: &Plan, library: &Library, units: Units, index: usize, leg: &Leg) -> Option<Run> {
    let network = &plan.network;
    let mut sizes = BTreeSet::new();
    let mut system = None;
    let mut ends = None;
    for (id, _, _, link) in network.links() {
        if link.leg != Some(index) {
            continue;
        }
        sizes.insert(link.size);
        system = Some(link.system);
        let [from, to] = network.ends_of(id);
        let (start, _) = ends.unwrap_or((from, to));
        ends = Some((start, to));
    }
    let (start, end) = ends?;
    let sizes: Vec<String> = sizes.iter().rev().map(Size::to_string).collect();
    let system = library.systems().get(system?)?;
    let straights = || leg.straights.iter().map(|straight| straight.value);
    let go = go(straights(), units);
    let wall = leg.along.as_ref().map(|along| along.value.word());
    let mut facts = vec![
        ("run", go.clone()),
        ("size", sizes.join(", ")),
        ("pipe", system.title.clone()),
    ];
    let main = plan.job.main.fall.value;
    if let Some(fall) = leg.fall.map(|fall| fall.value).filter(|fall| *fall != main) {
        facts.push(("own fall", layout::fall(fall, units)));
    }
    Some(Run {
        thing: Thing {
            name: name(&go, leg.along.as_ref().map(|along| along.value)),
            place: None,
            tank: String::new(),
            facts,
        },
        walk: straights()
            .map(|straight| (straight.direction, straight.length))
            .collect(),
        wall,
        start: place(network, start),
        end: place(network, end),
    })
}

/// `up 7'-6", east 4'-0"`.
fn go(straights: impl Iterator<Item = Straight>, units: Units) -> String {
    let words = straights.map(|straight| {
        let length = straight.length.show(units);
        format!("{} {length}", straight.direction.word())
    });
    words.collect::<Vec<_>>().join(", ")
}

fn name(go: &str, wall: Option<Wall>) -> String {
    match wall {
        Some(wall) => format!("{go} ({} wall)", wall.word()),
        None => go.to_owned(),
    }
}
