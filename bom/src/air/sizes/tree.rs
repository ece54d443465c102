//! The network as a tree of pipes to be sized.

use super::chain::Chain;
use super::needs::{Need, Wants};
use super::plan::Planner;
use super::{Costs, SMALLEST};
use crate::air::demand::Demand;
use crate::air::ladder::Wear;
use crate::air::ladder::cases::Case;
use crate::air::ladder::piping::Piping;
use crate::air::sizing::{self, Choice, Problem, Tie};
use crate::job::{Job, SizeChoice};
use crate::library::Library;
use crate::network::{Network, Owner};
use crate::quantity::{Length, Size, Speed};
use crate::system::SizeRow;
use std::collections::{BTreeMap, BTreeSet};

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
    pub(super) source: Vec<f64>,
    /// The pipe that ends at the foot of each drop.
    pub(super) feet: Vec<Option<usize>>,
    /// Its rings, for sizes that differ round them.
    pub(super) chains: Vec<Chain>,
}

/// A pipe of the tree.
#[derive(Debug, Clone)]
pub(super) struct Branch {
    pub(super) parent: Option<usize>,
    pub(super) tie: Tie,
    pub(super) of: Of,
    /// The cases that change its flow, rising.
    pub(super) inside: Vec<usize>,
    /// Whether the job leaves its size open.
    pub(super) is_open: bool,
    pub(super) system: usize,
    /// Its sizes, rising, and what they are to the tree.
    pub(super) sizes: Vec<Size>,
    pub(super) choices: Vec<Choice>,
    /// Of a ring: the size of each open leg with each of its sizes.
    pub(super) in_ring: Vec<BTreeMap<usize, Size>>,
    /// The most that its end may have in each case, with the largest sizes, Pa².
    pub(super) most: Vec<f64>,
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
            .map(SizeRow::bore)
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
                chains: Vec::new(),
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
pub(super) fn open(job: &Job, leg: Option<usize>, owner: Owner) -> bool {
    match (leg, owner) {
        (Some(leg), _) => size_of_leg(job, leg) == SizeChoice::Auto,
        (None, Owner::Outlet(outlet)) => size_of_drop(job, outlet) == Some(SizeChoice::Auto),
        (None, Owner::Supply(_) | Owner::Leg(_) | Owner::Drain(_)) => false,
    }
}

/// The sizes of a system that may be chosen, rising.
pub(super) fn options(library: &Library, costs: &Costs<'_>, system: usize) -> Vec<Size> {
    let smallest = library.size_in(system, 0, SMALLEST);
    let rows = library.systems()[system].sizes().map(|row| row.size);
    rows.filter(|size| *size >= smallest && (costs.of)(system, *size).is_some())
        .collect()
}
