//! The walk along the legs: places with positions, and the pipe between them.

use super::{Origin, Owner, Point, Spot};
use crate::finding::Finding;
use crate::job::{Direction, Job, Leg, SizeChoice, unknown_name};
use crate::library::Gender;
use crate::quantity::{Length, Size};
use crate::source::{Span, Spanned};
use petgraph::graph::{NodeIndex, UnGraph};
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

    /// The supply to be walked from next: the first of the file, then one whose
    /// legs come to a place that stands already.
    fn next_supply(&self, left: &mut Vec<(usize, BTreeSet<&str>)>) -> Option<usize> {
        let stands = |name: &&str| self.route.places.contains_key(*name);
        let next = match left.first()? {
            (0, _) => Some(0),
            _ => left.iter().position(|(_, names)| names.iter().any(stands)),
        };
        Some(left.remove(next.unwrap_or(0)).0)
    }

    fn part_of_supply(&self, supply: usize) -> usize {
        let place = self.route.places.get(&self.job.supplies[supply].name.value);
        place.map_or(0, |place| self.part_of[place.node.index()])
    }

    /// Says that the legs of a supply meet nothing of the rest.
    fn apart(&mut self, supply: usize) {
        let supplies = &self.job.supplies;
        let (first, name) = (&supplies[0].name, &supplies[supply].name);
        let message = match self.job.legs_from(&supplies[supply]).next() {
            Some(_) => format!(
                "the legs from `{}` never meet the pipe from `{}`",
                name.value, first.value
            ),
            None => format!("no leg starts at `{}`", name.value),
        };
        self.findings.push(
            Finding::unreadable(
                "supply-stands-apart",
                name.span,
                message,
                format!(
                    "let a leg start from = \"{}\" and the last leg from there end at a place on the main, a mark or an end: to = \"…\"; or describe this compressor in its own job",
                    name.value
                ),
            )
            .related(first.span, "the walk starts here"),
        );
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

    fn unreached(&mut self, waiting: &BTreeMap<&str, Vec<usize>>) {
        let named: BTreeSet<&str> = self
            .job
            .legs
            .iter()
            .flat_map(Leg::names)
            .map(|name| name.value.as_str())
            .collect();
        let mut known: Vec<&str> = named.iter().copied().collect();
        let supplies = self.job.supplies.iter();
        known.extend(supplies.map(|supply| supply.name.value.as_str()));
        for (name, legs) in waiting {
            for leg in legs.iter().map(|index| &self.job.legs[*index]) {
                let span = leg.from.as_ref().map_or(leg.span, |from| from.span);
                self.findings.push(if named.contains(name) {
                    Finding::unreadable(
                        "leg-from-nowhere",
                        span,
                        format!("`{name}` is never reached from the supply: these legs start from each other"),
                        format!("let one of them start from `{}` or from a place on the way", self.job.supplies[0].name.value),
                    )
                } else {
                    let mut finding = unknown_name("place", name, span, &known);
                    finding.rule = "leg-from-nowhere";
                    finding
                });
            }
        }
    }

    fn walk_leg(&mut self, index: usize, start: NodeIndex) {
        let job = self.job;
        let leg = &job.legs[index];
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

    /// Where the leg stops: its corners, its marks, its end; in order, each
    /// once. Says what is wrong with its marks.
    fn stops(&mut self, index: usize, leg: &Leg) -> Vec<Stop> {
        let length = leg.length();
        let units = self.job.units;
        let mut stops: BTreeMap<Length, Stop> = BTreeMap::new();
        let mut corner = Length::ZERO;
        for straight in &leg.straights {
            corner += straight.value.length;
            let spot = if corner == length {
                Spot::End
            } else {
                Spot::Corner
            };
            stops.insert(corner, Stop::new(corner, spot));
        }
        let mut last_mark: Option<(Length, &str)> = None;
        for (number, mark) in leg.marks.iter().enumerate() {
            let reading = mark.reading.value;
            if reading > length {
                self.findings.push(
                    Finding::unreadable(
                        "mark-past-end",
                        mark.reading.span,
                        format!(
                            "`{}` is marked at {}, and the leg is {} long",
                            mark.name.value,
                            reading.show(units),
                            length.show(units)
                        ),
                        "check the reading, and from which end the tape was read",
                    )
                    .related(leg.span, leg.label()),
                );
                continue;
            }
            let at = leg.place_of(mark);
            stops
                .entry(at)
                .or_insert_with(|| Stop::new(at, Spot::Mark(number)))
                .marks
                .push(number);
            if last_mark.is_none_or(|(last, _)| at > last) {
                last_mark = Some((at, &mark.name.value));
            }
        }
        if let Some(left) = leg.left {
            let (at, name) = last_mark.unwrap_or((Length::ZERO, "its start"));
            let over = at + left.value - length;
            if over != Length::ZERO {
                self.findings.push(
                    Finding::unreadable(
                        "closing-reading",
                        left.span,
                        format!(
                            "from {name} to the end {} are left, which makes the leg {} {} than its {}",
                            left.value.show(units),
                            over.abs().show(units),
                            if over > Length::ZERO { "longer" } else { "shorter" },
                            length.show(units)
                        ),
                        "one of the marks, the closing reading or the length is wrong: measure again",
                    )
                    .related(leg.span, format!("leg {}", index + 1)),
                );
            }
        }
        stops.into_values().collect()
    }

    /// Whether a leg meets another part at a place: one of the two ends there.
    fn meets(&self, leg: &Leg, here: NodeIndex, name: &Spanned<String>, place: Place) -> bool {
        let other = place.leg.map(|leg| &self.job.legs[leg]);
        let mut ends = [Some(leg), other].into_iter().flatten();
        self.part_of[here.index()] != self.part_of[place.node.index()]
            && ends.any(|leg| leg.to.as_ref().is_some_and(|to| to.value == name.value))
    }

    /// The leg comes to a place of another part: the part that does not hold the
    /// first supply is moved to where both agree. Heights are known from the floor,
    /// and must agree by themselves.
    fn meet(&mut self, name: &Spanned<String>, here: NodeIndex, place: Place, at: Point) {
        let stands = self.route.draft[place.node].at;
        let (part, other) = (self.part_of[here.index()], self.part_of[place.node.index()]);
        let by = (stands.east - at.east, stands.north - at.north);
        let (moves, stays, by) = match part {
            0 => (other, part, (-by.0, -by.1)),
            _ => (part, other, by),
        };
        // What ends at a supply itself is said otherwise.
        if (at.up - stands.up).abs() > CLOSURE && place.leg.is_some() {
            let supply = &self.job.supplies[moves];
            self.findings.push(
                Finding::unreadable(
                    "supply-height",
                    name.span,
                    format!(
                        "the pipe comes to `{}` at {} from `{}` and at {} from `{}`",
                        name.value,
                        at.up.show(self.job.units),
                        self.job.supplies[part].name.value,
                        stands.up.show(self.job.units),
                        self.job.supplies[other].name.value,
                    ),
                    "measure the risers, the ports' heights or that place's height again",
                )
                .related(place.span, "the place to come to")
                .related(supply.height.span, "the port"),
            );
        }
        for node in self.route.draft.node_indices() {
            if self.part_of[node.index()] == moves {
                self.part_of[node.index()] = stays;
                let at = &mut self.route.draft[node].at;
                *at = at.moved((by.0, by.1, Length::ZERO));
            }
        }
    }

    /// The leg's end is a place that stands already: it must be where the
    /// walk comes out.
    fn close(&mut self, index: usize, leg: &Leg, place: Place, at: Point) -> NodeIndex {
        let stands = self.route.draft[place.node].at;
        let units = self.job.units;
        let misses = [
            ("east-west", at.east - stands.east, "east", "west"),
            ("north-south", at.north - stands.north, "north", "south"),
            ("in height", at.up - stands.up, "up", "down"),
        ];
        for (axis, miss, forward, backward) in misses {
            if miss.abs() <= CLOSURE {
                continue;
            }
            let too_far = if miss > Length::ZERO {
                forward
            } else {
                backward
            };
            let to = leg.to.as_ref();
            let mut finding = Finding::unreadable(
                "misclosure",
                to.map_or(leg.span, |to| to.span),
                format!(
                    "the walk comes back to `{}` {} off, {axis}: it ends too far {too_far}",
                    to.map_or("", |to| &to.value),
                    miss.abs().show(units),
                ),
                format!("measure again what runs {forward} or {backward} on the way round"),
            )
            .related(place.span, "the place to come back to");
            for around in self.legs_around(index, place) {
                let steps = |direction: Direction| {
                    let (east, north, up) = direction.steps();
                    match axis {
                        "east-west" => east,
                        "north-south" => north,
                        _ => up,
                    }
                };
                let leg = &self.job.legs[around];
                for straight in &leg.straights {
                    if steps(straight.value.direction) != 0 {
                        finding = finding.related(
                            straight.span,
                            format!("{} runs {}", leg.label(), straight.value.direction.word()),
                        );
                    }
                }
            }
            self.findings.push(finding);
        }
        place.node
    }

    /// The legs of the way round that `closing` closes, in the file's order.
    fn legs_around(&self, closing: usize, place: Place) -> BTreeSet<usize> {
        let chain = |leg: Option<usize>| {
            let mut legs = BTreeSet::new();
            let mut at = leg;
            while let Some(leg) = at {
                if !legs.insert(leg) {
                    break;
                }
                at =
                    self.starts[leg].and_then(|start| match self.route.draft[start].origin.owner {
                        Owner::Leg(before) => Some(before),
                        _ => None,
                    });
            }
            legs
        };
        let (there, back) = (chain(place.leg), chain(Some(closing)));
        &there ^ &back
    }
}

impl Leg {
    /// The names of what stands at a stop, its last one or another.
    fn names_at(&self, stop: &Stop, last: bool) -> impl Iterator<Item = &Spanned<String>> {
        let marks = stop.marks.iter().map(|mark| &self.marks[*mark].name);
        marks.chain(self.to.iter().filter(move |_| last))
    }
}

/// The names of the places that one comes to from a supply, by the legs that start
/// at each name, before any is walked.
fn names_on_from<'a>(
    job: &'a Job,
    starting: &BTreeMap<&str, Vec<usize>>,
    supply: &str,
) -> BTreeSet<&'a str> {
    let mut names = BTreeSet::new();
    let mut seen = BTreeSet::new();
    let mut legs = starting.get(supply).cloned().unwrap_or_default();
    while let Some(index) = legs.pop() {
        if !seen.insert(index) {
            continue;
        }
        for name in job.legs[index].names() {
            if names.insert(name.value.as_str()) {
                legs.extend(starting.get(name.value.as_str()).into_iter().flatten());
            }
        }
        let next = job.legs.get(index + 1);
        legs.extend(next.filter(|next| next.from.is_none()).map(|_| index + 1));
    }
    names
}

#[derive(Debug)]
struct Stop {
    at: Length,
    spot: Spot,
    marks: Vec<usize>,
}

impl Stop {
    const fn new(at: Length, spot: Spot) -> Self {
        Self {
            at,
            spot,
            marks: Vec::new(),
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
