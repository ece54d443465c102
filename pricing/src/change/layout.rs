//! What differs between two layouts.

use super::item::{Item, ItemKind};
use super::legs;
use super::things::{Lie, Place, Thing, compare, pair};
use bom::Plan;
use bom::job::{Foot, TakeOff, Threading, Unions, UnlikeMetals};
use bom::library::Library;
use bom::network::{Network, NodeId};
use bom::quantity::{Fall, Length, Size, Units};
use bom::summary::Summary;
use std::collections::BTreeMap;

/// Every thing that differs, by kind and name. Lengths print in the new job's
/// units.
pub(super) fn items(old: &Plan, new: &Plan, library: &Library) -> Vec<Item> {
    let units = new.summary.units;
    let (was, is) = (Laid::of(old, new, library), Laid::of(new, new, library));
    let lie = Lie {
        shift: shift(&old.network, &new.network),
        units,
    };
    let mut items = Vec::new();
    items.extend(pair(ItemKind::Main, &was.main(), &is.main(), lie));
    for (kind, old, new) in [
        (ItemKind::Connection, was.connections(), is.connections()),
        (ItemKind::Outlet, was.outlets(), is.outlets()),
        (ItemKind::Drain, was.drains(), is.drains()),
        (ItemKind::Valve, was.valves(), is.valves()),
    ] {
        items.extend(compare(kind, old, new, lie));
    }
    items.extend(legs::compare(old, new, library, lie));
    items
}

/// What is moved together is moved once: where most of the named places lie
/// otherwise to the tank by the same way, it is the tank that moved, and all
/// places are seen from there.
fn shift(old: &Network, new: &Network) -> Place {
    let (old, new) = (places(old), places(new));
    let mut votes: BTreeMap<(i64, i64), (usize, Place)> = BTreeMap::new();
    let mut all = 0;
    for (name, was) in &old {
        if let Some(is) = new.get(name) {
            let way = is.from(*was);
            votes.entry(way.rounded()).or_insert((0, way)).0 += 1;
            all += 1;
        }
    }
    // One or two things that move together have moved themselves.
    let most = votes.into_values().max_by_key(|(count, _)| *count);
    let most = most.filter(|(count, _)| *count > 2 && 2 * count > all);
    most.map_or_else(Place::default, |(_, way)| way)
}

/// Everything with a name, tanks included.
fn places(network: &Network) -> BTreeMap<String, Place> {
    let supplies = network.supplies.iter().map(|(name, _)| name);
    let supplies = supplies.zip(network.ports());
    let drops = network
        .drops
        .iter()
        .map(|drop| (&drop.name, drop.take_off_at));
    let drains = network.drains.iter().map(|drain| (&drain.name, drain.at));
    let valves = network.valves.iter().map(|valve| (&valve.name, valve.at));
    let all = supplies.chain(drops).chain(drains).chain(valves);
    all.map(|(name, node)| (name.clone(), place(network, node)))
        .collect()
}

pub(super) fn place(network: &Network, node: NodeId) -> Place {
    let at = network.node(node).at;
    Place {
        east: at.east,
        north: at.north,
    }
}

/// A layout with its facts in the units of the paper.
struct Laid<'a> {
    plan: &'a Plan,
    summary: Summary,
}

impl<'a> Laid<'a> {
    fn of(plan: &'a Plan, new: &Plan, library: &Library) -> Self {
        let units = new.summary.units;
        let mut job = plan.job.clone();
        let mut network = plan.network.clone();
        job.units = units;
        network.units = units;
        Self {
            plan,
            summary: network.summary(&job, library),
        }
    }

    fn main(&self) -> Thing {
        let (summary, network) = (&self.summary, &self.plan.network);
        let units = summary.units;
        let pipe = summary
            .main_pipe
            .iter()
            .map(|pipe| pipe.system_title.as_str());
        let sizes: Vec<String> = summary.main_sizes.iter().map(Size::to_string).collect();
        let facts = [
            ("pipe", pipe.collect::<Vec<_>>().join(", ")),
            ("size", sizes.join(", ")),
            ("length", summary.main_length.show_total(units)),
            ("rings", summary.rings.to_string()),
            ("height", summary.main_height.show(units)),
            ("fall", fall(self.plan.job.main.fall.value, units)),
            ("unions", unions(network.unions).to_owned()),
            ("threads", threads(network.threading).to_owned()),
            ("unlike metals", unlike(network.unlike).to_owned()),
            ("air supply", summary.supply.join("; ")),
        ];
        Thing {
            name: String::new(),
            place: None,
            tank: String::new(),
            facts: facts.into(),
        }
    }

    /// The tank from which places are seen.
    fn tank(&self) -> String {
        match &self.plan.network.supplies[..] {
            [(first, _), _, ..] => format!("the tank of {first}"),
            _ => "the tank".to_owned(),
        }
    }

    fn connections(&self) -> Vec<Thing> {
        let connections = self.summary.connections.iter();
        let things = connections.map(|connection| Thing {
            name: connection.supply.clone(),
            place: None,
            tank: String::new(),
            facts: vec![(
                "items",
                match connection.items.is_empty() {
                    true => "pipe screwed into the tank".to_owned(),
                    false => connection.items.join(", "),
                },
            )],
        });
        things.collect()
    }

    fn outlets(&self) -> Vec<Thing> {
        let network = &self.plan.network;
        let things = network.drops.iter().map(|drop| {
            let mut facts = vec![
                ("height", drop.height.show(self.summary.units)),
                ("size", drop.size.to_string()),
                (
                    "drop",
                    format!("{}, {}", take_off(drop.take_off), foot(drop.foot)),
                ),
            ];
            // A foot has two sides at most.
            facts.extend(
                ["side 1", "side 2"]
                    .into_iter()
                    .zip(drop.sides.iter().cloned()),
            );
            facts.push((
                "drain",
                drop.drain.clone().unwrap_or_else(|| "none".to_owned()),
            ));
            Thing {
                name: drop.name.clone(),
                place: Some(place(network, drop.take_off_at)),
                tank: self.tank(),
                facts,
            }
        });
        things.collect()
    }

    fn drains(&self) -> Vec<Thing> {
        let network = &self.plan.network;
        let things = network.drains.iter().map(|drain| Thing {
            name: drain.name.clone(),
            place: Some(place(network, drain.at)),
            tank: self.tank(),
            facts: vec![("valve", drain.valve.to_string())],
        });
        things.collect()
    }

    fn valves(&self) -> Vec<Thing> {
        let network = &self.plan.network;
        let things = network.valves.iter().map(|valve| Thing {
            name: valve.name.clone(),
            place: Some(place(network, valve.at)),
            tank: self.tank(),
            facts: vec![("size", valve.size.to_string())],
        });
        things.collect()
    }
}

/// However it was written, so that one fall reads as one.
pub(super) fn fall(fall: Fall, units: Units) -> String {
    let run = match units {
        Units::Feet => Length::from_feet(100),
        Units::Metric => Length::from_mm(10_000),
    };
    let back = if fall.is_back() { ", back" } else { "" };
    match fall.is_level() {
        true => "level".to_owned(),
        false => format!(
            "{} in {}{back}",
            fall.over(run).abs().show(units),
            run.show(units)
        ),
    }
}

const fn take_off(take_off: TakeOff) -> &'static str {
    match take_off {
        TakeOff::Top => "from the top",
        TakeOff::Side => "from the side",
        TakeOff::Bottom => "from below",
    }
}

const fn foot(foot: Foot) -> &'static str {
    match foot {
        Foot::Cross => "with a cross",
        Foot::Tee => "with a tee",
        Foot::Elbow => "with an elbow",
    }
}

const fn unions(unions: Unions) -> &'static str {
    match unions {
        Unions::None => "in rings only",
        Unions::Loops => "in rings and at hoses",
        Unions::Service => "wherever something is taken out for service",
    }
}

const fn threads(threading: Threading) -> &'static str {
    match threading {
        Threading::Cut => "cut to measure",
        Threading::Bought => "ready-threaded lengths",
    }
}

const fn unlike(unlike: UnlikeMetals) -> &'static str {
    match unlike {
        UnlikeMetals::InsulatingUnion => "insulating unions",
        UnlikeMetals::Brass => "brass between them",
        UnlikeMetals::Bare => "nothing between them",
    }
}
