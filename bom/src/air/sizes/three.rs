//! The main as it is, a size smaller and a size larger, beside each other.

use super::{Costs, metal};
use crate::air::answer::{Fate, State};
use crate::air::demand::Demand;
use crate::air::ladder::{Ladders, Part, Wear};
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;
use crate::quantity::{Pressure, Size, Speed};
use std::cmp::Ordering;
use std::collections::BTreeSet;

/// What the main is in one set of sizes, after years.
#[derive(Debug, Clone, PartialEq)]
pub struct MainIn {
    /// Its sizes, rising.
    pub sizes: Vec<Size>,
    /// Against what it is planned in.
    pub than_planned: Ordering,
    /// The most that it takes on the way to any tool; none where the air does
    /// not get through.
    pub takes: Option<Pressure>,
    /// The fastest air in it.
    pub fastest: Option<Speed>,
    /// The tools that get less than they work best at, by their numbers.
    pub short: Vec<usize>,
    /// The metal of its pipe, kg.
    pub kilograms: f64,
    /// What it costs by the prices given; none without them, or if one lacks.
    pub cost: Option<f64>,
}

/// The main a size smaller, as planned, and a size larger, as far as its system
/// has them.
#[must_use]
pub fn three(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    costs: Option<&Costs<'_>>,
) -> Vec<MainIn> {
    [Ordering::Less, Ordering::Equal, Ordering::Greater]
        .into_iter()
        .filter_map(|step| {
            let stepped = stepped(network, library, step)?;
            Some(main_in(job, &stepped, library, demand, costs, step))
        })
        .collect()
}

/// The network with a main that is a size smaller or larger everywhere; none if
/// there is no such size of some of it.
pub(in crate::air) fn stepped(
    network: &Network,
    library: &Library,
    step: Ordering,
) -> Option<Network> {
    let next = |system: usize, size: Size| {
        let sizes: Vec<Size> = library.systems()[system]
            .sizes()
            .map(|row| row.size)
            .collect();
        let at = sizes.iter().position(|one| *one == size)?;
        let to = match step {
            Ordering::Less => at.checked_sub(1)?,
            Ordering::Equal => at,
            Ordering::Greater => at + 1,
        };
        sizes.get(to).copied()
    };
    let mut mains = network.links().filter(|(_, _, _, link)| link.leg.is_some());
    mains
        .all(|(_, _, _, link)| next(link.system, link.size).is_some())
        .then(|| {
            network.resized(|link, _| {
                let leg = link.leg.and_then(|_| next(link.system, link.size));
                leg.unwrap_or(link.size)
            })
        })
}

fn main_in(
    job: &Job,
    network: &Network,
    library: &Library,
    demand: &Demand,
    costs: Option<&Costs<'_>>,
    than_planned: Ordering,
) -> MainIn {
    let ladders = Ladders::of(job, network, library, demand, Wear::Aged);
    let main = || network.links().filter(|(_, _, _, link)| link.leg.is_some());
    let in_main = |link| network.link(link).leg.is_some();
    let short = ladders.tools.iter().filter(|air| {
        let state = Fate::of(&demand.tools[air.tool], air).state;
        state > State::Unknown
    });
    let add_up = |cost: &dyn Fn(usize, Size) -> Option<super::SizeCost>| -> Option<f64> {
        let each = main().map(|(_, _, _, link)| {
            let cost = cost(link.system, link.size)?;
            Some(cost.metre * link.pipe.unwrap_or_default().mm() / 1e3 + 2.0 * cost.end)
        });
        each.sum()
    };
    let kilograms = main().filter_map(|(_, _, _, link)| {
        let cost = metal(library, link.system, link.size)?;
        Some(cost.metre * link.pipe.unwrap_or_default().mm() / 1e3)
    });
    MainIn {
        sizes: main()
            .map(|(_, _, _, link)| link.size)
            .collect::<BTreeSet<Size>>()
            .into_iter()
            .collect(),
        than_planned,
        takes: ladders.most_in(&[Part::Main]),
        fastest: ladders
            .fastest
            .iter()
            .find(|fast| in_main(fast.link))
            .map(|fast| fast.speed),
        short: short.map(|air| air.tool).collect(),
        kilograms: kilograms.sum(),
        cost: costs.and_then(|costs| add_up(costs.of)),
    }
}
