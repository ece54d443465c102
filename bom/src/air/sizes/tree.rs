//! The network as a tree of pipes to be sized.

use super::needs::{HOPELESS, Need, Wants};
use super::{Costs, SMALLEST, SizeCost, speeds};
use crate::air::GAS;
use crate::air::demand::{Demand, mass};
use crate::air::ladder::Wear;
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::{PIPE_TEMPERATURE, Piping, through};
use crate::air::resistance::{Port, Way, per_k};
use crate::air::sizing::{self, Choice, Problem, Tie};
use crate::air::solve::{Element, walk};
use crate::job::{Job, SizeChoice};
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId, NodeKind, Owner};
use crate::quantity::{Length, Size, Speed};
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::FRAC_PI_4;

/// What must have one size beside each leg, each drop and each ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bond {
    /// Nothing else.
    Free,
    /// All of the main.
    Main,
    /// All pipe.
    All,
}

/// The pipes that are sized, parents before children.
#[derive(Debug, Clone)]
pub(super) struct Tree {
    pub(super) pipes: Vec<Branch>,
    /// Squared absolute pressure where the main begins, in each case, Pa².
    source: Vec<f64>,
    /// The pipe that ends at the foot of each drop.
    feet: Vec<Option<usize>>,
}

/// A pipe of the tree.
#[derive(Debug, Clone)]
pub(super) struct Branch {
    parent: Option<usize>,
    tie: Tie,
    pub(super) of: Of,
    /// The cases that change its flow, rising.
    pub(super) inside: Vec<usize>,
    /// Whether the job leaves its size open.
    is_open: bool,
    system: usize,
    /// Its sizes, rising, and what they are to the tree.
    pub(super) sizes: Vec<Size>,
    choices: Vec<Choice>,
    /// Of a ring: the size of each open leg with each of its sizes.
    in_ring: Vec<BTreeMap<usize, Size>>,
    /// The most that its end may have in each case, with the largest sizes, Pa².
    most: Vec<f64>,
    /// The largest size in which the air would run too fast, and how fast.
    pub(super) too_fast: Option<(Size, Speed)>,
}

/// What a pipe of the tree belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Of {
    /// A leg.
    Leg(usize),
    /// The drop of an outlet.
    Drop(usize),
    /// A ring of these legs.
    Ring(BTreeSet<usize>),
    /// The way round a ring to one of its places.
    Round(BTreeSet<usize>),
}

/// The size that the job gives a leg, or leaves open.
pub(super) fn size_of_leg(job: &Job, leg: usize) -> SizeChoice {
    let own = job.legs[leg].size.map(|size| size.value);
    own.unwrap_or(job.main.size)
}

/// The size that the job gives the drop of an outlet, or leaves open.
pub(super) fn size_of_drop(job: &Job, outlet: usize) -> Option<SizeChoice> {
    job.outlets[outlet].drop.map(|drop| job.drops[drop].size)
}

/// Cases and what each adds to the average flow, kg/s.
type More = BTreeMap<usize, f64>;

struct Planner<'a> {
    job: &'a Job,
    network: &'a Network,
    library: &'a Library,
    demand: &'a Demand,
    cases: &'a [Case],
    costs: &'a Costs<'a>,
    wants: &'a Wants,
    bond: Bond,
    piping: Piping<'a>,
    at_tank: f64,
    /// Bores of all sizes, rising: their places are the ranks.
    bores: Vec<Length>,
    /// The pipe that ends at each node, and the link by which the air comes.
    fed: Vec<(Option<usize>, Option<LinkId>)>,
    tree: Tree,
}

/// The sizes from which drops are chosen.
pub(super) fn sizes_of_drops(
    job: &Job,
    network: &Network,
    library: &Library,
    costs: &Costs<'_>,
) -> BTreeSet<Size> {
    let drops = network.drops.iter().enumerate();
    let drops = drops.filter(|(outlet, _)| size_of_drop(job, *outlet) == Some(SizeChoice::Auto));
    let systems: BTreeSet<usize> = drops.map(|(_, drop)| drop.system).collect();
    let sizes = systems.into_iter();
    sizes
        .flat_map(|system| options(library, costs, system))
        .collect()
}

impl Tree {
    #[expect(
        clippy::too_many_arguments,
        reason = "all of them are looked at throughout"
    )]
    pub(super) fn of(
        job: &Job,
        network: &Network,
        library: &Library,
        demand: &Demand,
        cases: &[Case],
        costs: &Costs<'_>,
        wants: &Wants,
        bond: Bond,
    ) -> Option<Self> {
        let widest = network.resized(|link, to| {
            let open = open(job, link.leg, network.node(to).origin.owner);
            let sizes = if open {
                options(library, costs, link.system)
            } else {
                Vec::new()
            };
            sizes.last().copied().unwrap_or(link.size)
        });
        let piping = Piping::of(job, &widest, library, Wear::Aged);
        let at_tank = piping.absolute(job.cut_in());
        let mut bores: Vec<Length> = widest
            .systems()
            .into_iter()
            .flat_map(|system| library.systems()[system].sizes())
            .map(crate::system::SizeRow::bore)
            .collect();
        bores.sort_unstable();
        bores.dedup();
        let mut planner = Planner {
            job,
            network: &widest,
            library,
            demand,
            cases,
            costs,
            wants,
            bond,
            at_tank,
            bores,
            fed: vec![(None, None); widest.node_count()],
            tree: Self {
                pipes: Vec::new(),
                source: Vec::new(),
                feet: vec![None; widest.drops.len()],
            },
            piping,
        };
        planner.plan()?;
        Some(planner.tree)
    }

    /// The problem of these needs.
    pub(super) fn problem(&self, needs: &[Need]) -> Problem {
        let pipes = self.pipes.iter().map(|branch| sizing::Pipe {
            parent: branch.parent,
            tie: branch.tie,
            inside: branch.inside.clone(),
            choices: branch.choices.clone(),
        });
        let needs = self.needed(needs).map(|(pipe, inside)| sizing::Need {
            pipe,
            outside: 0.0,
            inside,
        });
        Problem {
            source: self.source.clone(),
            pipes: pipes.collect(),
            needs: needs.collect(),
        }
    }

    /// For each drop at which something is needed, its pipe and what is needed
    /// in each of the pipe's cases.
    fn needed<'a>(&'a self, needs: &'a [Need]) -> impl Iterator<Item = (usize, Vec<f64>)> + 'a {
        let drops = self.feet.iter().enumerate();
        drops.filter_map(move |(drop, pipe)| {
            let pipe = (*pipe)?;
            let here = || needs.iter().filter(move |need| need.drop == drop);
            here().next()?;
            let least = |case: &usize| {
                let of_case = here().filter(|need| need.case == *case);
                of_case.map(Need::asked).fold(0.0, f64::max)
            };
            Some((pipe, self.pipes[pipe].inside.iter().map(least).collect()))
        })
    }

    /// The need that stands behind a row of the problem.
    pub(super) fn need_in(&self, needs: &[Need], row: usize, case: usize) -> Option<usize> {
        let (pipe, _) = self.needed(needs).nth(row)?;
        let drop = self.feet.iter().position(|foot| *foot == Some(pipe))?;
        let at_drop = needs.iter().enumerate();
        at_drop
            .filter(|(_, need)| (need.drop, need.case) == (drop, case))
            .max_by(|a, b| a.1.asked().total_cmp(&b.1.asked()))
            .map(|(index, _)| index)
    }

    /// The sizes that these choices come to, of legs and of drops.
    pub(super) fn sizes(
        &self,
        choices: &[usize],
    ) -> (BTreeMap<usize, Size>, BTreeMap<usize, Size>) {
        let (mut legs, mut drops) = (BTreeMap::new(), BTreeMap::new());
        for (branch, choice) in self.pipes.iter().zip(choices) {
            let size = branch.sizes[*choice];
            if !branch.is_open {
                continue;
            }
            match &branch.of {
                Of::Leg(leg) => {
                    legs.insert(*leg, size);
                }
                Of::Drop(outlet) => {
                    drops.insert(*outlet, size);
                }
                Of::Ring(_) => legs.extend(&branch.in_ring[*choice]),
                Of::Round(_) => {}
            }
        }
        (legs, drops)
    }

    /// Refuses the size that a pipe has by these choices, and all smaller ones, since
    /// its air runs so fast. False if there is no larger one.
    pub(super) fn refuse(&mut self, choices: &[usize], pipes: &BTreeMap<usize, Speed>) -> bool {
        let mut refused = false;
        for (pipe, speed) in pipes {
            let (branch, choice) = (&mut self.pipes[*pipe], choices[*pipe]);
            if choice + 1 == branch.choices.len() {
                continue;
            }
            branch.too_fast = Some((branch.sizes[choice], *speed));
            branch.choices.drain(..=choice);
            branch.sizes.drain(..=choice);
            if !branch.in_ring.is_empty() {
                branch.in_ring.drain(..=choice);
            }
            refused = true;
        }
        refused
    }

    /// The open pipe of the tree that stands for a leg, or for the drop of an outlet.
    pub(super) fn pipe_of(&self, leg: Option<usize>, owner: Owner) -> Option<usize> {
        self.pipes.iter().position(|branch| {
            let same = match (&branch.of, leg, owner) {
                (Of::Leg(own), Some(leg), _) => *own == leg,
                (Of::Ring(legs), Some(leg), _) => legs.contains(&leg),
                (Of::Drop(own), None, Owner::Outlet(outlet)) => *own == outlet,
                _ => false,
            };
            same && branch.is_open
        })
    }
}

/// Whether the job leaves the size of a link open.
fn open(job: &Job, leg: Option<usize>, owner: Owner) -> bool {
    match (leg, owner) {
        (Some(leg), _) => size_of_leg(job, leg) == SizeChoice::Auto,
        (None, Owner::Outlet(outlet)) => size_of_drop(job, outlet) == Some(SizeChoice::Auto),
        (None, Owner::Supply(_) | Owner::Leg(_) | Owner::Drain(_)) => false,
    }
}

/// The sizes of a system that may be chosen, rising.
fn options(library: &Library, costs: &Costs<'_>, system: usize) -> Vec<Size> {
    let smallest = library.size_in(system, 0, SMALLEST);
    let rows = library.systems()[system].sizes().map(|row| row.size);
    rows.filter(|size| *size >= smallest && (costs.of)(system, *size).is_some())
        .collect()
}

impl Planner<'_> {
    fn plan(&mut self) -> Option<()> {
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
            let loss = |flow: f64| self.loss(id, *size, k, flow);
            let flows = flow.more.values().map(|more| flow.average + more);
            let mut inside: Vec<f64> = flows.clone().map(loss).collect();
            let most: Vec<f64> = above_most
                .iter()
                .zip(&inside)
                .map(|(above, loss)| (above - loss).max(0.0))
                .collect();
            let speed_at =
                |(flow, most): (f64, &f64)| self.speed(flow, most.sqrt(), link.system, *size);
            let fastest = match flow.is_nothing() {
                true => self.speed(self.largest_tool(), self.at_tank, link.system, *size),
                false => flows.zip(&most).map(speed_at).fold(0.0, f64::max),
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
    fn capped(&self, parent: Option<usize>, tie: Tie, system: usize) -> Vec<Size> {
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
    fn most_above(&self, parent: Option<usize>, case: usize) -> f64 {
        let Some(parent) = parent.map(|parent| &self.tree.pipes[parent]) else {
            return self.tree.source[case];
        };
        let at = parent.inside.binary_search(&case).ok();
        at.and_then(|at| parent.most.get(at))
            .copied()
            .unwrap_or(self.at_tank * self.at_tank)
    }

    fn push(&mut self, mut branch: Branch) -> Option<usize> {
        if branch.choices.is_empty() {
            return None;
        }
        branch.choices = rising(branch.choices);
        self.tree.pipes.push(branch);
        Some(self.tree.pipes.len() - 1)
    }

    /// Adds a ring, and the ways round it to its places.
    fn lay_ring(
        &mut self,
        ring: &[LinkId],
        nodes: &[usize],
        entry: usize,
        flow: &Flow<'_>,
    ) -> Option<()> {
        let (parent, by) = self.fed[entry];
        let legs: BTreeSet<usize> = ring
            .iter()
            .filter_map(|link| self.network.link(*link).leg)
            .collect();
        let first_open = ring.iter().find(|link| {
            let leg = self.network.link(**link).leg;
            open(self.job, leg, Owner::Supply(0))
        });
        let of = Of::Ring(legs.clone());
        let mut tie = Tie::Free;
        let open_legs: BTreeMap<usize, usize> = ring
            .iter()
            .filter_map(|link| {
                let link = self.network.link(*link);
                let leg = link
                    .leg
                    .filter(|_| open(self.job, link.leg, Owner::Supply(0)))?;
                Some((leg, link.system))
            })
            .collect();
        let (system, sizes) = match first_open {
            Some(link) => {
                let system = self.network.link(*link).system;
                tie = self.tie(parent, &of, true, system);
                let mut sizes = self.capped(parent, tie, system);
                // All systems of the ring must have the size.
                sizes.retain(|size| {
                    open_legs.values().all(|other| {
                        let size = self.library.size_in(*other, system, *size);
                        (self.costs.of)(*other, size).is_some()
                    })
                });
                (system, sizes)
            }
            None => {
                let link = self.network.link(*ring.first()?);
                (link.system, vec![link.size])
            }
        };
        let inside: Vec<usize> = flow.more.keys().copied().collect();
        let places: Vec<usize> = nodes
            .iter()
            .copied()
            .filter(|node| *node != entry)
            .collect();
        // For each place the choices of its way round, and the most it may have.
        let mut ways: Vec<Vec<Choice>> = vec![Vec::new(); places.len()];
        let mut branch = Branch {
            parent,
            tie,
            of,
            is_open: first_open.is_some(),
            system,
            most: inside
                .iter()
                .map(|case| self.most_above(parent, *case))
                .collect(),
            inside,
            sizes: Vec::new(),
            choices: Vec::new(),
            in_ring: Vec::new(),
            too_fast: None,
        };
        let [limit, _] = speeds(self.job);
        for (place, size) in sizes.iter().enumerate() {
            let last = place + 1 == sizes.len();
            let sized = self.network.resized(|link, _| {
                let in_ring = link.leg.is_some_and(|leg| legs.contains(&leg));
                let is_open = open(self.job, link.leg, Owner::Supply(0));
                if in_ring && is_open {
                    self.library.size_in(link.system, system, *size)
                } else {
                    link.size
                }
            });
            let round = self.round(&sized, ring, &places, entry, &branch.inside);
            let fastest = match flow.is_nothing() {
                true => self.speed(self.largest_tool(), self.at_tank, system, *size),
                false => round.fastest,
            };
            let speed = Speed::from_metres_per_second(fastest);
            let fast = branch.is_open && speed > limit;
            if fast && !last {
                branch.too_fast = Some((*size, speed));
                continue;
            }
            let rank = self.rank(system, *size)?;
            let cost = ring.iter().map(|link| {
                let of = sized.link(*link);
                self.cost(of.system, of.size, (of.pipe.unwrap_or_default(), 2.0))
            });
            branch.choices.push(Choice {
                rank,
                cost: cost.sum(),
                outside: 0.0,
                inside: vec![0.0; branch.inside.len()],
            });
            let in_ring = open_legs.iter();
            let in_ring = in_ring.map(|(leg, of)| (*leg, self.library.size_in(*of, system, *size)));
            branch.in_ring.push(in_ring.collect());
            branch.sizes.push(*size);
            for (way, (outside, inside)) in ways.iter_mut().zip(round.losses) {
                way.push(Choice {
                    rank,
                    cost: 0.0,
                    outside,
                    inside,
                });
            }
        }
        let (inside, kept, is_open) = (branch.inside.clone(), branch.sizes.clone(), branch.is_open);
        let most = branch.most.clone();
        let pipe = self.push(branch)?;
        self.fed[entry] = (Some(pipe), by);
        for (place, choices) in places.into_iter().zip(ways) {
            let losses = choices.last().map(|widest| widest.inside.clone());
            let most = most.iter().zip(losses.unwrap_or_default());
            let round = self.push(Branch {
                parent: Some(pipe),
                tie: Tie::Same,
                of: Of::Round(legs.clone()),
                inside: inside.clone(),
                is_open,
                system,
                most: most.map(|(most, loss)| (most - loss).max(0.0)).collect(),
                sizes: kept.clone(),
                choices,
                in_ring: Vec::new(),
                too_fast: None,
            })?;
            let by = ring.iter().find(|link| {
                let ends = self.network.ends_of(**link).map(NodeId::index);
                ends.contains(&place)
            });
            self.fed[place] = (Some(round), by.copied());
        }
        Some(())
    }

    /// What a ring loses to each of its places, with every valve in it shut in
    /// turn.
    fn round(
        &self,
        sized: &Network,
        ring: &[LinkId],
        places: &[usize],
        entry: usize,
        inside: &[usize],
    ) -> Round {
        let piping = Piping::of(self.job, sized, self.library, Wear::Aged);
        let drops = sized.drops.len();
        let average = Case {
            name: String::new(),
            running: Vec::new(),
        };
        let mut losses = vec![(0.0_f64, vec![0.0_f64; inside.len()]); places.len()];
        let mut fastest = 0.0_f64;
        let of_case = inside.iter().map(|case| Some(&self.cases[*case]));
        for (at, case) in std::iter::once(None).chain(of_case).enumerate() {
            let draws = draws(self.demand, case.unwrap_or(&average), drops);
            for shut in piping.shut_in_turn() {
                let flowing = piping.solve(self.at_tank, &draws, shut).ok();
                let square = |node: usize| {
                    let here = flowing.as_ref()?.pressures[node];
                    here.map(|here| here * here)
                };
                let from = square(entry);
                for (place, loss) in places.iter().zip(&mut losses) {
                    let lost = from.zip(square(*place));
                    let lost = lost.map_or(HOPELESS, |(from, to)| (from - to).max(0.0));
                    let worst = match at.checked_sub(1) {
                        Some(case) => &mut loss.1[case],
                        None => &mut loss.0,
                    };
                    *worst = worst.max(lost);
                }
                if let (None, Some(flowing)) = (shut, &flowing) {
                    let speeds = ring.iter().filter_map(|link| flowing.speeds[link.index()]);
                    fastest = speeds.fold(fastest, f64::max);
                }
            }
        }
        Round { losses, fastest }
    }

    /// How a pipe's size is tied to that of the pipe before it.
    fn tie(&self, parent: Option<usize>, of: &Of, is_open: bool, system: usize) -> Tie {
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

    fn cost(&self, system: usize, size: Size, (length, ends): (Length, f64)) -> f64 {
        // A given size may have no price; it costs the same whatever is chosen.
        let cost = (self.costs.of)(system, size).unwrap_or(SizeCost {
            metre: 0.0,
            end: 0.0,
        });
        cost.metre * length.mm() / 1e3 + cost.end * ends
    }

    fn rank(&self, system: usize, size: Size) -> Option<u8> {
        let bore = self.library.systems()[system].row(size)?.bore();
        let place = self.bores.binary_search(&bore).ok()?;
        u8::try_from(place).ok()
    }

    /// Air that a pipe must be able to carry where no tool is named: the largest
    /// of the job may hang there, kg/s.
    fn largest_tool(&self) -> f64 {
        let tools = self.demand.tools.iter();
        tools
            .map(|tool| mass(tool.running.value))
            .fold(0.0, f64::max)
    }

    /// How fast air runs at an absolute pressure in Pa, m/s.
    fn speed(&self, kg_per_s: f64, pressure: f64, system: usize, size: Size) -> f64 {
        let bore = self.piping.pipe_of(system, size, Length::ZERO).bore;
        let area = FRAC_PI_4 * bore * bore;
        kg_per_s * GAS * PIPE_TEMPERATURE.kelvin() / (pressure * area)
    }

    /// What a pipe with its fitting loses of squared pressure.
    fn loss(&self, id: LinkId, size: Size, k: f64, kg_per_s: f64) -> f64 {
        let link = self.network.link(id);
        let mut pipe = self
            .piping
            .pipe_of(link.system, size, link.pipe.unwrap_or_default());
        pipe.k = k;
        // Where the air does not get through nothing is left.
        through(&Element::Pipe(pipe), self.at_tank, kg_per_s).map_or(HOPELESS, |behind| {
            self.at_tank * self.at_tank - behind * behind
        })
    }

    /// What the air comes through into a pipe, both of it in one size.
    fn k(&self, above: usize, by: Option<LinkId>, out: LinkId, size: Size) -> f64 {
        let Some(at) = self.piping.node(above) else {
            return 0.0;
        };
        let link = self.network.link(out);
        let row = self.library.systems()[link.system].row(size);
        let Some(bore) = row.map(crate::system::SizeRow::bore) else {
            return 0.0;
        };
        match &self.network.node(at).kind {
            NodeKind::Fitting(fitting) => {
                let port = |id: LinkId| {
                    let end = self.network.ends(at).find(|end| end.link == id)?;
                    Some(Port {
                        direction: end.direction,
                        bore,
                    })
                };
                let ways = by.and_then(port).zip(port(out));
                let resistances = self.library.resistances();
                ways.and_then(|(from, to)| resistances.through(fitting, from, to))
                    .unwrap_or(0.0)
            }
            NodeKind::Device { .. } if self.network.is_line_valve(at) => {
                match self.piping.device(at) {
                    Element::Loss { r } => r / per_k(bore.mm()),
                    Element::Pipe(_) => 0.0,
                }
            }
            NodeKind::Port { .. } => {
                let entry = self.library.resistances().k("entry", Way::Straight, bore);
                entry.unwrap_or(0.0)
            }
            NodeKind::Device { .. } => 0.0,
        }
    }
}

/// What flows through a pipe of the tree.
struct Flow<'a> {
    /// kg/s.
    average: f64,
    more: &'a More,
}

impl Flow<'_> {
    fn is_nothing(&self) -> bool {
        self.average <= 0.0 && self.more.values().all(|more| *more <= 0.0)
    }
}

struct Round {
    /// To each place, at the average and in each inside case, Pa².
    losses: Vec<(f64, Vec<f64>)>,
    /// m/s.
    fastest: f64,
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
