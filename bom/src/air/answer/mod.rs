//! Will every tool get its pressure: each tool judged, where its pressure goes,
//! and how much more air there is room for, in figures and in sentences.

mod assume;
mod judge;
mod larger;
mod room;
mod say;
mod trouble;
pub mod yearly;

pub use judge::{Fate, Judged, State};
pub use room::{MOST_OUTLETS, Room, Until, rooms};

use super::demand::{Demand, demand};
use super::ladder::{Ladders, Part, Wear};
use super::supply::{Verdict, verdict};
use super::{DROP_SPEED, MAIN_SPEED};
use crate::job::Job;
use crate::library::Library;
use crate::network::{LinkId, Network, Owner};
use crate::quantity::{Pressure, Speed};

/// The answer.
#[derive(Debug, Clone)]
pub struct Air {
    /// What the tools want.
    pub demand: Demand,
    /// Whether the compressor and its tank give it.
    pub supply: Verdict,
    /// The pressure that all of it starts from: that of the tank when the
    /// compressor starts again.
    pub cut_in: Pressure,
    /// What every tool gets as the pipework is put in.
    pub new: Ladders,
    /// What it gets after years.
    pub aged: Ladders,
    /// What is to be said of every tool, in the order of the demand.
    pub tools: Vec<Judged>,
    /// The tool that is worst off, if anything says what tools need.
    pub worst: Option<usize>,
    /// The most that the main takes on the way to any tool.
    pub main_takes: Option<Pressure>,
    /// As fast as air should run.
    pub limits: Limits,
    /// How much more air there is room for at the outlet of the tool that is worst off.
    pub spare: Option<Room>,
    /// The answer in sentences, the supply's first.
    pub sentences: Vec<String>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

/// As fast as air should run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// In the main.
    pub main: Speed,
    /// In the drops.
    pub drop: Speed,
}

impl Limits {
    pub(in crate::air) fn of(job: &Job) -> Self {
        Self {
            main: job.main.speed.unwrap_or(MAIN_SPEED),
            drop: job.main.drop_speed.unwrap_or(DROP_SPEED),
        }
    }

    /// That of a pipe.
    #[must_use]
    pub fn at(&self, network: &Network, link: LinkId) -> Speed {
        if in_main(network, link) {
            self.main
        } else {
            self.drop
        }
    }
}

/// The leg or the drop that a pipe is part of, in words.
#[must_use]
pub fn part_of(network: &Network, link: LinkId) -> String {
    if let Some(leg) = network.link(link).leg {
        return network.legs[leg].label.clone();
    }
    let ends = network.ends_of(link);
    let owners = ends.map(|end| network.node(end).origin.owner);
    let drop = owners.into_iter().find_map(|owner| match owner {
        Owner::Outlet(outlet) => Some(format!("drop {}", network.drops[outlet].name)),
        Owner::Supply(_) | Owner::Leg(_) | Owner::Drain(_) => None,
    });
    drop.unwrap_or_else(|| network.place(ends[1]))
}

fn in_main(network: &Network, link: LinkId) -> bool {
    network.link(link).leg.is_some()
}

/// Solves the pipework and judges every tool.
#[must_use]
pub fn answer(job: &Job, network: &Network, library: &Library) -> Air {
    let demand = demand(job, library);
    let supply = verdict(job, &demand, &job.site());
    let new = Ladders::of(job, network, library, &demand, Wear::New);
    let aged = Ladders::of(job, network, library, &demand, Wear::Aged);
    let pairs = demand.tools.iter().zip(new.tools.iter().zip(&aged.tools));
    let tools: Vec<Judged> = pairs
        .map(|(tool, (new, aged))| Judged::of(tool, new, aged))
        .collect();
    let main_takes = aged.tools.iter().filter(|tool| !tool.steps.is_empty());
    let main_takes = main_takes.map(|tool| tool.takes(Part::Main));
    let mut air = Air {
        cut_in: job.cut_in(),
        worst: judge::worst(&tools),
        main_takes: main_takes.max_by(|a, b| a.kpa().total_cmp(&b.kpa())),
        limits: Limits::of(job),
        spare: None,
        sentences: Vec::new(),
        assumptions: assume::assumptions(job, network, &demand, &supply, library),
        demand,
        supply,
        new,
        aged,
        tools,
    };
    let worst = air.worst.map(|worst| air.demand.tools[worst].outlet);
    air.spare = worst.and_then(|outlet| {
        let rooms = room::rooms_at(&[outlet], &air, job, network, library);
        rooms.into_iter().next()
    });
    air.sentences = say::sentences(&air, job, network, library);
    air
}

impl Air {
    /// The outlet's tool that is worst off, by its number.
    #[must_use]
    pub fn worst_at(&self, outlet: usize) -> Option<usize> {
        let here = |tool: &usize| self.demand.tools[*tool].outlet == outlet;
        let tools: Vec<usize> = (0..self.tools.len()).filter(here).collect();
        let judged = tools.iter().map(|tool| &self.tools[*tool]);
        let worst = judge::worst(judged).map(|worst| tools[worst]);
        worst.or_else(|| tools.first().copied())
    }
}
