//! Lays the tree of pipes along the network, from the tank outwards.

use super::needs::{HOPELESS, Wants};
use super::tree::{Bond, Branch, Of, Tree, open, options};
use super::{Costs, SizeCost, speeds};
use crate::air::GAS;
use crate::air::demand::{Demand, mass};
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::{PIPE_TEMPERATURE, Piping, through};
use crate::air::sizing::{Choice, Tie};
use crate::air::solve::{Element, Pipe, walk};
use crate::job::Job;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId, Owner};
use crate::quantity::{Length, Size, Speed};
use std::collections::BTreeMap;
use std::f64::consts::FRAC_PI_4;

/// Cases and what each adds to the average flow, kg/s.
pub(super) type More = BTreeMap<usize, f64>;

pub(super) struct Planner<'a> {
    pub(super) job: &'a Job,
    pub(super) network: &'a Network,
    pub(super) library: &'a Library,
    pub(super) demand: &'a Demand,
    pub(super) cases: &'a [Case],
    pub(super) costs: &'a Costs<'a>,
    pub(super) wants: &'a Wants,
    pub(super) bond: Bond,
    pub(super) piping: Piping<'a>,
    pub(super) at_tank: f64,
    /// Bores of all sizes, rising: their places are the ranks.
    pub(super) bores: Vec<Length>,
    /// The pipe that ends at each node, and the link by which the air comes.
    pub(super) fed: Vec<(Option<usize>, Option<LinkId>)>,
    pub(super) tree: Tree,
}

impl Planner<'_> {
    pub(super) fn plan(&mut self) -> Option<()> {
        for case in self.cases {
            let total = draws(self.demand, case, self.network.drops.len())
                .iter()
                .sum();
            // Where the air does not get through there is no pressure.
            let start = self.piping.at_start(self.at_tank, total);
            let start = start.unwrap_or_default();
            self.tree.source.push(start * start);
        }
        let (circuit, links) = self.piping.bare();
        let walk = walk(&circuit);
        let mut average = vec![0.0; walk.cores.len()];
        let mut more = vec![More::new(); walk.cores.len()];
        self.drawn(&walk.core_of, &mut average, &mut more);
        for (number, core) in walk.cores.iter().enumerate().rev() {
            let above = core.bridge.and_then(|(_, above)| walk.core_of[above]);
            if let Some(above) = above {
                average[above] += average[number];
                let below = more[number].clone();
                for (case, flow) in below {
                    *more[above].entry(case).or_default() += flow;
                }
            }
        }
        for (number, core) in walk.cores.iter().enumerate() {
            let flow = Flow {
                average: average[number],
                more: &more[number],
            };
            let entry = core.nodes.last().copied()?;
            if let Some((edge, above)) = core.bridge {
                self.lay(links[edge], above, entry, &flow)?;
            }
            if core.nodes.len() > 1 {
                let inside = |link: &LinkId| {
                    let ends = self.network.ends_of(*link).map(NodeId::index);
                    ends.iter().all(|end| walk.core_of[*end] == Some(number))
                };
                let ring: Vec<LinkId> = links.iter().filter(|link| inside(link)).copied().collect();
                self.lay_ring(&ring, &core.nodes, entry, &flow)?;
            }
        }
        for (drop, built) in self.network.drops.iter().enumerate() {
            self.tree.feet[drop] = self.fed[built.foot_at.index()].0;
        }
        Some(())
    }

    /// What is drawn in each core itself.
    fn drawn(&self, core_of: &[Option<usize>], average: &mut [f64], more: &mut [More]) {
        let core_of_drop = |drop: usize| {
            let foot = self.network.drops.get(drop)?.foot_at;
            core_of[foot.index()]
        };
        for (number, tool) in self.demand.tools.iter().enumerate() {
            let Some(core) = core_of_drop(tool.outlet) else {
                continue;
            };
            average[core] += mass(tool.average);
            for (case, of) in self.cases.iter().enumerate() {
                if of.running.contains(&number) {
                    let above = mass(tool.running.value) - mass(tool.average);
                    *more[core].entry(case).or_default() += above;
                }
            }
        }
    }

    /// Adds the pipe of a link that air comes through from `above`.
    fn lay(&mut self, id: LinkId, above: usize, end: usize, flow: &Flow<'_>) -> Option<()> {
        let link = *self.network.link(id);
        let (parent, by) = self.fed[above];
        let to = self.network.ends_of(id)[1];
        let of = match (link.leg, self.network.node(to).origin.owner) {
            (Some(leg), _) => Of::Leg(leg),
            (None, Owner::Outlet(outlet)) => Of::Drop(outlet),
            // Drains and the feed carry nothing that is sized.
            (None, Owner::Supply(_) | Owner::Leg(_) | Owner::Drain(_)) => {
                self.fed[end] = (parent, by);
                return Some(());
            }
        };
        self.fed[end].1 = Some(id);
        let is_open = open(self.job, link.leg, self.network.node(to).origin.owner);
        let tie = self.tie(parent, &of, is_open, link.system);
        let sizes = match is_open {
            true => self.capped(parent, tie, link.system),
            false => vec![link.size],
        };
        let inside: Vec<usize> = flow.more.keys().copied().collect();
        let length = self.length_for_cost(id, &of);
        let above_most: Vec<f64> = inside
            .iter()
            .map(|case| self.most_above(parent, *case))
            .collect();
        let foot_of = match of {
            Of::Drop(outlet) if self.network.drops[outlet].foot_at.index() == end => Some(outlet),
            _ => None,
        };
        let limit = speeds(self.job)[usize::from(matches!(of, Of::Drop(_)))];
        let mut branch = Branch {
            parent,
            tie,
            of,
            inside,
            is_open,
            system: link.system,
            sizes: Vec::new(),
            choices: Vec::new(),
            in_ring: Vec::new(),
            most: Vec::new(),
            too_fast: None,
        };
        for (place, size) in sizes.iter().enumerate() {
            let k = self.k(above, by, id, *size);
            let pipe = self.pipe(id, *size, k);
            let loss = |flow: f64| self.loss(&pipe, flow);
            let flows = flow.more.values().map(|more| flow.average + more);
            // Tools of one kind make one flow.
            let mut known = BTreeMap::new();
            let of_flow = |flow: f64| *known.entry(flow.to_bits()).or_insert_with(|| loss(flow));
            let mut inside: Vec<f64> = flows.clone().map(of_flow).collect();
            let most: Vec<f64> = above_most
                .iter()
                .zip(&inside)
                .map(|(above, loss)| (above - loss).max(0.0))
                .collect();
            let fastest = match flow.is_nothing() {
                true => self.speed(self.largest_tool(), self.at_tank, link.system, *size),
                false => {
                    let volumes = flows.zip(&most).map(|(flow, most)| flow / most.sqrt());
                    let most = volumes.fold(0.0, f64::max);
                    self.speed(most, 1.0, link.system, *size)
                }
            };
            let speed = Speed::from_metres_per_second(fastest);
            let fast = is_open && speed > limit;
            if fast && place + 1 < sizes.len() {
                branch.too_fast = Some((*size, speed));
                continue;
            }
            if let Some(outlet) = foot_of {
                for (loss, case) in inside.iter_mut().zip(&branch.inside) {
                    *loss += self.wants.more(outlet, *size, *case);
                }
            }
            branch.choices.push(Choice {
                rank: self.rank(link.system, *size)?,
                cost: self.cost(link.system, *size, length),
                outside: loss(flow.average),
                inside,
            });
            branch.sizes.push(*size);
            branch.most = most;
        }
        self.fed[end].0 = Some(self.push(branch)?);
        Some(())
    }

    /// The sizes of a system that a pipe may have behind its parent.
    pub(super) fn capped(&self, parent: Option<usize>, tie: Tie, system: usize) -> Vec<Size> {
        let mut sizes = options(self.library, self.costs, system);
        let parent = parent.filter(|_| tie != Tie::Free);
        let widest = parent.and_then(|parent| self.tree.pipes[parent].choices.last());
        if let Some(widest) = widest {
            sizes.retain(|size| {
                self.rank(system, *size)
                    .is_some_and(|rank| rank <= widest.rank)
            });
        }
        sizes
    }

    /// The most squared pressure that there is above a pipe, Pa².
    pub(super) fn most_above(&self, parent: Option<usize>, case: usize) -> f64 {
        let Some(parent) = parent.map(|parent| &self.tree.pipes[parent]) else {
            return self.tree.source[case];
        };
        let at = parent.inside.binary_search(&case).ok();
        at.and_then(|at| parent.most.get(at))
            .copied()
            .unwrap_or(self.at_tank * self.at_tank)
    }

    pub(super) fn push(&mut self, mut branch: Branch) -> Option<usize> {
        if branch.choices.is_empty() {
            return None;
        }
        branch.choices = rising(branch.choices);
        self.tree.pipes.push(branch);
        Some(self.tree.pipes.len() - 1)
    }

    /// How a pipe's size is tied to that of the pipe before it.
    pub(super) fn tie(&self, parent: Option<usize>, of: &Of, is_open: bool, system: usize) -> Tie {
        let Some(parent) = parent else {
            return Tie::Free;
        };
        let same = match (&self.tree.pipes[parent].of, of) {
            (Of::Leg(one), Of::Leg(other)) | (Of::Drop(one), Of::Drop(other)) => one == other,
            (Of::Leg(leg), Of::Ring(ring)) | (Of::Ring(ring) | Of::Round(ring), Of::Leg(leg)) => {
                ring.contains(leg)
            }
            _ => false,
        };
        let bound = match self.bond {
            Bond::Free => false,
            Bond::Main => !matches!(of, Of::Drop(_)),
            Bond::All => true,
        };
        let bound = bound && self.tree.pipes[parent].system == system;
        match (same || bound, is_open) {
            // A pipe of a given size follows whatever there is.
            (_, false) => Tie::Free,
            (true, true) => Tie::Same,
            (false, true) => Tie::AtMost,
        }
    }

    /// The length that a pipe is paid for, and how many ends: a drop's first pipe
    /// stands for all of the drop.
    fn length_for_cost(&self, id: LinkId, of: &Of) -> (Length, f64) {
        let own = self.network.link(id).pipe.unwrap_or_default();
        let Of::Drop(outlet) = of else {
            return (own, 2.0);
        };
        let first = self.network.drops.get(*outlet).is_some_and(|drop| {
            let ends = self.network.ends_of(id);
            ends.contains(&drop.take_off_at)
        });
        if !first {
            return (Length::ZERO, 0.0);
        }
        let links = self.network.links().filter(|(_, _, to, link)| {
            link.leg.is_none()
                && link.pipe.is_some()
                && self.network.node(*to).origin.owner == Owner::Outlet(*outlet)
        });
        let lengths: Vec<Length> = links.filter_map(|(_, _, _, link)| link.pipe).collect();
        let ends = lengths.iter().map(|_| 2.0).sum();
        (lengths.into_iter().sum(), ends)
    }

    pub(super) fn cost(&self, system: usize, size: Size, (length, ends): (Length, f64)) -> f64 {
        // A given size may have no price; it costs the same whatever is chosen.
        let cost = (self.costs.of)(system, size).unwrap_or(SizeCost {
            metre: 0.0,
            end: 0.0,
        });
        cost.metre * length.mm() / 1e3 + cost.end * ends
    }

    pub(super) fn rank(&self, system: usize, size: Size) -> Option<u8> {
        let bore = self.library.systems()[system].row(size)?.bore();
        let place = self.bores.binary_search(&bore).ok()?;
        u8::try_from(place).ok()
    }

    /// Air that a pipe must be able to carry where no tool is named: the largest
    /// of the job may hang there, kg/s.
    pub(super) fn largest_tool(&self) -> f64 {
        let tools = self.demand.tools.iter();
        tools
            .map(|tool| mass(tool.running.value))
            .fold(0.0, f64::max)
    }

    /// How fast air runs at an absolute pressure in Pa, m/s.
    pub(super) fn speed(&self, kg_per_s: f64, pressure: f64, system: usize, size: Size) -> f64 {
        let bore = self.piping.bore_of(system, size).mm() / 1e3;
        let area = FRAC_PI_4 * bore * bore;
        kg_per_s * GAS * PIPE_TEMPERATURE.kelvin() / (pressure * area)
    }

    /// A pipe with its fitting.
    fn pipe(&self, id: LinkId, size: Size, k: f64) -> Element {
        let link = self.network.link(id);
        let length = link.pipe.unwrap_or_default();
        let pipe = self.piping.pipe_of(link.system, size, length);
        Element::Pipe(Pipe { k, ..pipe })
    }

    /// What it loses of squared pressure.
    fn loss(&self, pipe: &Element, kg_per_s: f64) -> f64 {
        // Where the air does not get through nothing is left.
        through(pipe, self.at_tank, kg_per_s).map_or(HOPELESS, |behind| {
            self.at_tank * self.at_tank - behind * behind
        })
    }

    /// What the air comes through into a pipe, both of it in one size.
    pub(super) fn k(&self, above: usize, by: Option<LinkId>, out: LinkId, size: Size) -> f64 {
        let Some(at) = self.piping.node(above) else {
            return 0.0;
        };
        let bore = self.piping.bore_of(self.network.link(out).system, size);
        self.piping.k(at, by, out, |_| bore)
    }
}

/// What flows through a pipe of the tree.
pub(super) struct Flow<'a> {
    /// kg/s.
    average: f64,
    pub(super) more: &'a More,
}

impl Flow<'_> {
    pub(super) fn is_nothing(&self) -> bool {
        self.average <= 0.0 && self.more.values().all(|more| *more <= 0.0)
    }
}

/// A larger size loses no more than a smaller one; where it does in a ring, by the
/// ways of the air, the smaller is taken to lose as much.
fn rising(mut choices: Vec<Choice>) -> Vec<Choice> {
    for at in (1..choices.len()).rev() {
        let larger = choices[at].clone();
        let smaller = &mut choices[at - 1];
        smaller.outside = smaller.outside.max(larger.outside);
        for (one, other) in smaller.inside.iter_mut().zip(larger.inside) {
            *one = one.max(other);
        }
    }
    choices
}
