//! The walk along the legs: places with positions, and the pipe between them.

mod closing;
mod starts;
mod stops;

use super::{Origin, Owner, Point, Spot};
use crate::finding::Finding;
use crate::job::{Direction, Job, SizeChoice};
use crate::library::Gender;
use crate::quantity::{Length, Size};
use crate::source::Span;
use petgraph::graph::{NodeIndex, UnGraph};
use starts::names_on_from;
use std::collections::{BTreeMap, BTreeSet};

/// The layout while it is built: sizes may still be open, fittings undecided.
pub(super) type Draft = UnGraph<DraftNode, DraftLink>;

/// A place before its fitting is decided.
#[derive(Debug, Clone, Copy)]
pub(super) struct DraftNode {
    pub(super) at: Point,
    pub(super) kind: DraftKind,
    pub(super) origin: Origin,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum DraftKind {
    Port {
        size: Size,
        gender: Gender,
    },
    /// Whatever the pipes that meet here ask for.
    Place,
    Device {
        device: usize,
        size: Size,
        length: Option<Length>,
    },
}

/// A link of the main whose size may be left to be chosen.
#[derive(Debug, Clone, Copy)]
pub(super) struct DraftLink {
    pub(super) pipe: Option<Length>,
    pub(super) direction: Direction,
    pub(super) size: SizeChoice,
    /// Index of its pipe's system.
    pub(super) system: usize,
    /// The leg that it is walked on; none before the first.
    pub(super) leg: Option<usize>,
}

impl DraftLink {
    /// How far it runs level: what falls.
    pub(super) fn level(&self) -> Length {
        self.pipe
            .filter(|_| self.direction.is_level())
            .unwrap_or_default()
    }
}

/// The walked legs.
#[derive(Debug)]
pub(super) struct Route {
    pub(super) draft: Draft,
    /// Where each name stands, in walking order of the legs.
    pub(super) places: BTreeMap<String, Place>,
}

/// A named place of the main.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) node: NodeIndex,
    /// The leg that placed it, if one did.
    pub(super) leg: Option<usize>,
    /// Where its name stands.
    pub(super) span: Span,
}

/// Positions this far apart are the same place: what 45° offsets round to.
const CLOSURE: Length = Length::from_64ths(4);

struct Walker<'a> {
    job: &'a Job,
    route: Route,
    /// The node at which each leg starts, once it is walked.
    starts: Vec<Option<NodeIndex>>,
    /// The node at which each leg ends, once it is walked.
    ends: Vec<Option<NodeIndex>>,
    /// The supply with which each node is connected so far: the least of several.
    part_of: Vec<usize>,
    findings: &'a mut Vec<Finding>,
}

/// Walks every leg from `starts`, the ends of the supplies' connections. Where
/// the supplies behind the first stand follows from the places at which their
/// legs meet the rest.
pub(super) fn walk(
    job: &Job,
    draft: Draft,
    starts: &[NodeIndex],
    findings: &mut Vec<Finding>,
) -> Route {
    let mut places = BTreeMap::new();
    for (supply, start) in job.supplies.iter().zip(starts) {
        places.insert(
            supply.name.value.clone(),
            Place {
                node: *start,
                leg: None,
                span: supply.name.span,
            },
        );
    }
    let part_of = draft.node_weights().map(|node| match node.origin.owner {
        Owner::Supply(supply) => supply,
        _ => 0,
    });
    let mut walker = Walker {
        job,
        part_of: part_of.collect(),
        route: Route { draft, places },
        starts: vec![None; job.legs.len()],
        ends: vec![None; job.legs.len()],
        findings,
    };
    walker.walk_all();
    walker.route
}

impl Walker<'_> {
    /// Walks legs as soon as their start is known, so that their order in the
    /// file does not matter where they name it.
    fn walk_all(&mut self) {
        let mut waiting: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
        let job = self.job;
        for (index, leg) in job.legs.iter().enumerate() {
            match &leg.from {
                Some(from) => waiting.entry(&from.value).or_default().push(index),
                None if index == 0 => self.findings.push(Finding::unreadable(
                    "first-leg-without-from",
                    leg.span,
                    "the first leg does not say where it starts",
                    format!("add `from = \"{}\"`", job.supplies[0].name.value),
                )),
                None => {}
            }
        }
        let supplies = job.supplies.iter().enumerate();
        let mut left: Vec<(usize, BTreeSet<&str>)> = supplies
            .map(|(supply, of)| (supply, names_on_from(job, &waiting, &of.name.value)))
            .collect();
        while let Some(supply) = self.next_supply(&mut left) {
            let name = job.supplies[supply].name.value.as_str();
            let from_it = waiting.remove(name).unwrap_or_default();
            self.walk_from(from_it.into_iter().collect(), &mut waiting);
        }
        for supply in 1..job.supplies.len() {
            if self.part_of_supply(supply) != 0 {
                self.apart(supply);
            }
        }
        self.unreached(&waiting);
    }

    /// Walks legs, and all that start where these lead.
    fn walk_from(&mut self, mut ready: BTreeSet<usize>, waiting: &mut BTreeMap<&str, Vec<usize>>) {
        let job = self.job;
        while let Some(index) = ready.pop_first() {
            let leg = &job.legs[index];
            let start = match &leg.from {
                Some(from) => self.route.places.get(&from.value).map(|place| place.node),
                None => index.checked_sub(1).and_then(|before| self.ends[before]),
            };
            let Some(start) = start else { continue };
            self.walk_leg(index, start);
            if job
                .legs
                .get(index + 1)
                .is_some_and(|next| next.from.is_none())
            {
                ready.insert(index + 1);
            }
            for name in leg.names() {
                if self.route.places.contains_key(&name.value) {
                    ready.extend(waiting.remove(name.value.as_str()).unwrap_or_default());
                }
            }
        }
    }

    fn walk_leg(&mut self, index: usize, start: NodeIndex) {
        let job = self.job;
        let leg = &job.legs[index];
        // Where it runs to a point, its length is not known before it is reached.
        if leg.straights.is_empty() {
            return;
        }
        self.starts[index] = Some(start);
        let stops = self.stops(index, leg);
        let size = leg.size.map_or(job.main.size, |size| size.value);
        let system = leg.system.map_or(job.system, |system| system.value);
        let closing = leg
            .to
            .as_ref()
            .and_then(|to| self.route.places.get(&to.value).copied());

        let mut here = start;
        let mut begun = Length::ZERO;
        let mut stops = stops.into_iter().peekable();
        for (number, straight) in leg.straights.iter().enumerate() {
            let direction = straight.value.direction;
            let mut from = self.route.draft[here].at;
            let (mut done, end) = (begun, begun + straight.value.length);
            while let Some(stop) = stops.next_if(|stop| stop.at <= end) {
                let node = if stop.at == done {
                    here
                } else {
                    let last = stop.at == end && number + 1 == leg.straights.len();
                    let at = from.moved(direction.displacement(stop.at - begun));
                    let known = leg.names_at(&stop, last).find_map(|name| {
                        let place = *self.route.places.get(&name.value)?;
                        self.meets(leg, here, name, place).then_some((name, place))
                    });
                    let node = match (known, closing) {
                        (Some((name, place)), _) => {
                            let before = self.route.draft[here].at;
                            self.meet(name, here, place, at);
                            let moved = self.route.draft[here].at;
                            from.east += moved.east - before.east;
                            from.north += moved.north - before.north;
                            place.node
                        }
                        (None, Some(place)) if last => self.close(index, leg, place, at),
                        _ => self.add_place(index, stop.spot, here, at),
                    };
                    self.route.draft.add_edge(
                        here,
                        node,
                        DraftLink {
                            pipe: Some(stop.at - done),
                            direction,
                            size,
                            system,
                            leg: Some(index),
                        },
                    );
                    node
                };
                for mark in &stop.marks {
                    let name = &leg.marks[*mark].name;
                    self.name_place(index, &name.value, name.span, node);
                }
                here = node;
                done = stop.at;
            }
            begun = end;
        }
        if let (Some(to), None) = (&leg.to, closing) {
            self.name_place(index, &to.value, to.span, here);
        }
        self.ends[index] = Some(here);
    }

    fn add_place(&mut self, leg: usize, spot: Spot, before: NodeIndex, at: Point) -> NodeIndex {
        self.part_of.push(self.part_of[before.index()]);
        self.route.draft.add_node(DraftNode {
            at,
            kind: DraftKind::Place,
            origin: Origin {
                owner: Owner::Leg(leg),
                spot,
            },
        })
    }

    fn name_place(&mut self, leg: usize, name: &str, span: Span, node: NodeIndex) {
        let place = Place {
            node,
            leg: Some(leg),
            span,
        };
        if let Some(first) = self.route.places.insert(name.to_owned(), place)
            && first.node != node
        {
            self.findings.push(
                Finding::unreadable(
                    "placed-twice",
                    span,
                    format!("`{name}` stands in two places"),
                    "keep the mark on the leg where it is, and take the other out",
                )
                .related(first.span, "it stands here too"),
            );
        }
    }
}

impl Point {
    pub(super) fn moved(self, (east, north, up): (Length, Length, Length)) -> Self {
        Self {
            east: self.east + east,
            north: self.north + north,
            up: self.up + up,
        }
    }
}
