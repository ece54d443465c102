//! A plain ring whose legs may differ in size: the least that it can lose to each
//! of its places.
//!
//! Let x be what flows into the ring by its first end. What each pipe carries is
//! then known, since what is drawn between the two ends is. A place gets all of its
//! air by the first end if x is large, by the second if it is small, by both in
//! between. Along a way on which all air runs towards the place, the losses
//! add up, and none of them is less than in the largest size that its leg may
//! have. So the first way gives a loss that no mixture stays below and that rises
//! with x, the second one that falls with x, and the least over all x at which no air
//! is too fast is a bound. Where a line valve is shut x is known, and the sums are
//! what is lost. A fitting between two sizes takes no less than one in the size of
//! the pipe behind it.

use super::curve::Curve;
use super::plan::{Flow, Planner};
use super::speeds;
use crate::air::ladder::cases::draws;
use crate::network::{LinkId, NodeId};
use crate::quantity::Size;
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

/// How often the x is guessed at which both ways lose as much, and how near it, as a
/// share of all that is drawn: the loss is then nearer than needs are told apart.
const GUESSES: usize = 60;
const NEAR: f64 = 1e-9;

/// A ring, as far as it bounds what its legs do in sizes of their own.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    /// Its pipe in the tree.
    pub(super) pipe: usize,
    /// The pipes in the tree of the ways to its places, in their order round it.
    pub(super) rounds: Vec<usize>,
    pub(super) legs: Vec<OpenLeg>,
    /// What its other pipe costs.
    pub(super) given: f64,
    /// The pipes of it in their order; none if rings share pipe.
    edges: Vec<RingEdge>,
    curves: Vec<Curve>,
    /// In each case that changes its flow.
    inside: Vec<Drawn>,
    /// The places at which line valves stand.
    valves: Vec<usize>,
    pub(super) at_tank: f64,
}

/// A leg of a ring whose size is open.
#[derive(Debug, Clone)]
pub(super) struct OpenLeg {
    pub(super) leg: usize,
    /// Its sizes, rising, with their ranks and what its pipe in the ring costs.
    pub(super) sizes: Vec<Size>,
    pub(super) ranks: Vec<u8>,
    pub(super) costs: Vec<f64>,
}

#[derive(Debug, Clone)]
struct RingEdge {
    /// Its open leg, by the place in the chain's list.
    leg: Option<usize>,
    /// In each size.
    sized: Vec<Sized>,
}

#[derive(Debug, Clone)]
struct Sized {
    rank: u8,
    /// The chain's curve of its size, and its length, m.
    curve: usize,
    metres: f64,
    /// The fitting before it, for air by the first end and by the second.
    k: [f64; 2],
    /// The most that it may carry, kg/s per Pa of absolute pressure.
    most: f64,
}

/// What is drawn from the ring.
#[derive(Debug, Clone, Default)]
struct Drawn {
    /// Before each of its pipes, from the first end, kg/s; the last is all.
    before: Vec<f64>,
    /// The most pressure that can be in it, Pa.
    most: f64,
    /// The places behind which a tool runs.
    wanted: Vec<usize>,
}

impl Planner<'_> {
    /// A ring's legs (`legs` with their systems, which may have these sizes), with its
    /// pipes in their order if it is a plain one, and the nodes of its places in that
    /// order. `most` squared pressure stands at its entry in each inside case.
    pub(super) fn chain(
        &self,
        (ring, nodes, entry): (&[LinkId], &[usize], usize),
        flow: &Flow<'_>,
        legs: &BTreeMap<usize, usize>,
        (system, sizes): (usize, &[Size]),
        most: &[f64],
    ) -> Option<(Chain, Vec<usize>)> {
        let mut open_legs = Vec::new();
        for (leg, of) in legs {
            let own = |size: &Size| self.library.size_in(*of, system, *size);
            let links = || {
                let links = ring.iter().map(|link| self.network.link(*link));
                links.filter(|link| link.leg == Some(*leg))
            };
            let cost = |size: &Size| {
                let each = links()
                    .map(|link| self.cost(*of, own(size), (link.pipe.unwrap_or_default(), 2.0)));
                each.sum()
            };
            let ranks: Option<Vec<u8>> =
                sizes.iter().map(|size| self.rank(*of, own(size))).collect();
            open_legs.push(OpenLeg {
                leg: *leg,
                sizes: sizes.iter().map(own).collect(),
                ranks: ranks?,
                costs: sizes.iter().map(cost).collect(),
            });
        }
        let mut chain = Chain {
            pipe: 0,
            rounds: Vec::new(),
            given: self.given(ring, legs),
            legs: open_legs,
            edges: Vec::new(),
            curves: Vec::new(),
            inside: vec![Drawn::default(); most.len()],
            valves: Vec::new(),
            at_tank: self.at_tank,
        };
        let Some((links, places)) = self.round_from(ring, nodes, entry) else {
            let places = nodes.iter().copied().filter(|node| *node != entry);
            return Some((chain, places.collect()));
        };
        let in_ring: BTreeSet<LinkId> = links.iter().copied().collect();
        let behind: Vec<Vec<usize>> = places
            .iter()
            .map(|place| self.behind(*place, &in_ring))
            .collect();
        let cases = flow.more.keys().zip(most);
        chain.inside = cases
            .map(|(case, most)| self.drawn_from(&behind, *case, most.sqrt()))
            .collect();
        let valves = self.network.valves.iter().map(|valve| valve.at.index());
        let valves: BTreeSet<usize> = valves.collect();
        let at = places.iter().enumerate();
        chain.valves = at
            .filter(|(_, place)| valves.contains(place))
            .map(|(at, _)| at)
            .collect();
        let before = |at: usize| match at.checked_sub(1) {
            Some(at) => (places[at], Some(links[at])),
            None => (entry, self.fed[entry].1),
        };
        let after = |at: usize| match places.get(at) {
            Some(place) => (*place, Some(links[at + 1])),
            None => (entry, self.fed[entry].1),
        };
        let flows = chain.inside.iter().filter_map(|drawn| drawn.before.last());
        let most_flow = flows.copied().fold(0.0, f64::max);
        let (mut curves, mut curve_of) = (Vec::new(), BTreeMap::new());
        for (at, link) in links.iter().enumerate() {
            let of = self.network.link(*link);
            let leg = of
                .leg
                .and_then(|leg| chain.legs.iter().position(|one| one.leg == leg));
            let sizes = leg.map_or(vec![of.size], |leg| chain.legs[leg].sizes.clone());
            let sized: Option<Vec<Sized>> = sizes
                .iter()
                .map(|size| {
                    let k = |(above, by): (usize, Option<LinkId>)| self.k(above, by, *link, *size);
                    let pipe = self
                        .piping
                        .pipe_of(of.system, *size, of.pipe.unwrap_or_default());
                    let next = curves.len();
                    let curve = *curve_of.entry((of.system, *size)).or_insert(next);
                    if curve == next {
                        curves.push(Curve::of(pipe, most_flow));
                    }
                    let [limit, _] = speeds(self.job);
                    let most = limit.metres_per_second() / self.speed(1.0, 1.0, of.system, *size);
                    Some(Sized {
                        rank: self.rank(of.system, *size)?,
                        curve,
                        metres: pipe.length,
                        k: [k(before(at)), k(after(at))],
                        most: leg.map_or(f64::INFINITY, |_| most),
                    })
                })
                .collect();
            chain.edges.push(RingEdge { leg, sized: sized? });
        }
        chain.curves = curves;
        Some((chain, places))
    }

    /// What the pipe of a ring costs whose size is given.
    fn given(&self, ring: &[LinkId], open: &BTreeMap<usize, usize>) -> f64 {
        let links = ring.iter().map(|link| self.network.link(*link));
        let given = links.filter(|link| link.leg.is_none_or(|leg| !open.contains_key(&leg)));
        let costs = given.map(|link| {
            let ends = (link.pipe.unwrap_or_default(), 2.0);
            self.cost(link.system, link.size, ends)
        });
        costs.sum()
    }

    /// The links of a plain ring in their order from its entry, and the places
    /// between them; none if rings share pipe.
    fn round_from(
        &self,
        ring: &[LinkId],
        nodes: &[usize],
        entry: usize,
    ) -> Option<(Vec<LinkId>, Vec<usize>)> {
        if ring.len() != nodes.len() {
            return None;
        }
        let (mut links, mut places) = (Vec::new(), Vec::new());
        let mut here = entry;
        loop {
            let next = ring.iter().find_map(|link| {
                let [from, to] = self.network.ends_of(*link).map(NodeId::index);
                let far = match here {
                    here if here == from => to,
                    here if here == to => from,
                    _ => return None,
                };
                (!links.contains(link)).then_some((*link, far))
            });
            let (link, far) = next?;
            links.push(link);
            if far == entry {
                break;
            }
            places.push(far);
            here = far;
        }
        (links.len() == ring.len()).then_some((links, places))
    }

    /// The drops that get their air from a place of a ring.
    fn behind(&self, place: usize, ring: &BTreeSet<LinkId>) -> Vec<usize> {
        let mut seen = BTreeSet::from([place]);
        let mut stack: Vec<NodeId> = self.piping.node(place).into_iter().collect();
        while let Some(here) = stack.pop() {
            let ends = self.network.ends(here);
            for end in ends.filter(|end| !ring.contains(&end.link)) {
                if seen.insert(end.far.index()) {
                    stack.push(end.far);
                }
            }
        }
        let drops = self.network.drops.iter().enumerate();
        drops
            .filter(|(_, drop)| seen.contains(&drop.foot_at.index()))
            .map(|(drop, _)| drop)
            .collect()
    }

    /// What is drawn in a case behind each place.
    fn drawn_from(&self, behind: &[Vec<usize>], case: usize, most: f64) -> Drawn {
        let case = &self.cases[case];
        let at_drops = draws(self.demand, case, self.network.drops.len());
        let runs = |drop: &usize| {
            let mut tools = case.running.iter();
            tools.any(|tool| self.demand.tools[*tool].outlet == *drop)
        };
        let mut drawn = Drawn {
            before: vec![0.0],
            most,
            wanted: Vec::new(),
        };
        let mut all = 0.0;
        for (place, drops) in behind.iter().enumerate() {
            all += drops.iter().map(|drop| at_drops[*drop]).sum::<f64>();
            drawn.before.push(all);
            if drops.iter().any(runs) {
                drawn.wanted.push(place);
            }
        }
        drawn
    }
}

impl Chain {
    /// The largest sizes.
    pub(super) fn largest(&self) -> Vec<usize> {
        let last = |leg: &OpenLeg| leg.sizes.len().saturating_sub(1);
        self.legs.iter().map(last).collect()
    }

    /// The largest rank at each place, with these sizes of its legs.
    pub(super) fn ranks(&self, sizes: &[usize]) -> Vec<u8> {
        let rank = |edge: &RingEdge| self.sized(edge, sizes).rank;
        let largest = |at: usize| match self.edges.get(at..=at + 1) {
            Some([one, other]) => rank(one).max(rank(other)),
            // Where rings share pipe, any leg may meet the place.
            _ => u8::MAX,
        };
        (0..self.rounds.len()).map(largest).collect()
    }

    /// The least lost to each place in each inside case in which a tool runs behind
    /// it, Pa², if no leg is larger than these sizes; none if air must be too fast then.
    pub(super) fn least(&self, largest: &[usize], places: usize) -> Option<Vec<Vec<f64>>> {
        let mut least = vec![vec![0.0; self.inside.len()]; places];
        if self.edges.is_empty() {
            return Some(least);
        }
        for (case, drawn) in self.inside.iter().enumerate() {
            for (place, loss) in self.lost(largest, drawn)? {
                least[place][case] = loss;
            }
        }
        Some(least)
    }

    fn sized<'a>(&self, edge: &'a RingEdge, sizes: &[usize]) -> &'a Sized {
        &edge.sized[edge.leg.map_or(0, |leg| sizes[leg])]
    }

    /// The least that is lost to places where that is wanted.
    fn lost(&self, largest: &[usize], drawn: &Drawn) -> Option<Vec<(usize, f64)>> {
        let edges: Vec<&Sized> = self
            .edges
            .iter()
            .map(|edge| self.sized(edge, largest))
            .collect();
        let before = &drawn.before;
        let all = before.last().copied()?;
        // Where air may run at all without being too fast.
        let (mut low, mut high) = (0.0_f64, all);
        for (edge, before) in edges.iter().zip(before) {
            let most = edge.most * drawn.most * (1.0 + 1e-9);
            low = low.max(before - most);
            high = high.min(before + most);
        }
        if low > high {
            return None;
        }
        let loss = |edge: &Sized, way: usize, flow: f64| {
            self.curves[edge.curve].loss(edge.metres, edge.k[way], flow)
        };
        // By the first end through so many pipes, and by the second through all
        // but so many.
        let first = |pipes: usize, x: f64| -> f64 {
            let pipes = edges.iter().zip(before).take(pipes);
            let lost = pipes.map(|(edge, before)| loss(edge, 0, (x - before).max(0.0)));
            lost.sum()
        };
        let second = |pipes: usize, x: f64| -> f64 {
            let pipes = edges.iter().zip(before).skip(pipes);
            let lost = pipes.map(|(edge, before)| loss(edge, 1, (before - x).max(0.0)));
            lost.sum()
        };
        let even = even(all, |x| first(edges.len(), x) - second(0, x));
        let of_place = |place: usize| {
            let (first, second) = (|x| first(place + 1, x), |x| second(place + 1, x));
            let best = even.clamp(before[place], before[place + 1]);
            let x = best.clamp(low, high);
            let open = match x.total_cmp(&best).then(even.total_cmp(&best)) {
                Ordering::Less => second(x),
                Ordering::Greater => first(x),
                Ordering::Equal => first(x).min(second(x)),
            };
            let shut = self.valves.iter().map(|valve| {
                let x = before[valve + 1];
                match place.cmp(valve) {
                    Ordering::Less => first(x),
                    Ordering::Greater => second(x),
                    Ordering::Equal => 0.0,
                }
            });
            shut.fold(open, f64::max)
        };
        Some(
            drawn
                .wanted
                .iter()
                .map(|place| (*place, of_place(*place)))
                .collect(),
        )
    }
}

/// Where something that rises with x from 0 to `all` is nothing: by secants, of which a
/// side that stays counts half (the Illinois rule).
fn even(all: f64, rises: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = ((0.0, rises(0.0)), (all, rises(all)));
    let mut last_low = None;
    for _ in 0..GUESSES {
        if high.0 - low.0 <= NEAR * all || low.1 >= 0.0 || high.1 <= 0.0 {
            break;
        }
        let x = (low.0 * high.1 - high.0 * low.1) / (high.1 - low.1);
        let here = rises(x);
        let is_low = here <= 0.0;
        if is_low {
            low = (x, here);
        } else {
            high = (x, here);
        }
        if last_low == Some(is_low) {
            let stays = if is_low { &mut high.1 } else { &mut low.1 };
            *stays *= 0.5;
        }
        last_low = Some(is_low);
    }
    let nearer_low = -low.1 <= high.1;
    if nearer_low { low.0 } else { high.0 }
}
