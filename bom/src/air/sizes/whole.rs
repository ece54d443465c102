//! Sizes held against every need in the network as it is built of them.

use super::needs::{Need, Targets, shown};
use super::tree::{open, options};
use super::{Because, Costs, Sizes, speeds};
use crate::air::GAS;
use crate::air::demand::{Demand, mass};
use crate::air::ladder::Wear;
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::{PIPE_TEMPERATURE, Piping};
use crate::air::solve::walk;
use crate::job::Job;
use crate::library::Library;
use crate::network::{self, LinkId, Network, NodeId, Open, Owner};
use crate::quantity::{Length, Size, Speed};
use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::FRAC_PI_4;

/// What has one size: a leg, or the drop of an outlet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    Leg(usize),
    Drop(usize),
}

/// What all sizes that are tried may take together, in pipes that are solved for: some
/// seconds.
const WORK: usize = 1_500_000;

/// The size of each part that is open.
pub(super) type Chosen = BTreeMap<Part, Size>;

/// The network, whatever its sizes.
pub(super) struct Whole<'a> {
    job: &'a Job,
    network: &'a Network,
    library: &'a Library,
    demand: &'a Demand,
    cases: &'a [Case],
    targets: &'a Targets,
    costs: &'a Costs<'a>,
    needs: Vec<Need>,
    /// Its open parts: their systems, and the length of their pipe with its ends.
    parts: BTreeMap<Part, (usize, Vec<Length>)>,
    /// What a part may be no larger than: the largest of the links that feed it.
    fed: BTreeSet<(Part, Vec<LinkId>)>,
    /// The cases, those first that sizes failed in last: the next are likely to, too.
    order: Vec<usize>,
    /// What may still be done, in pipes that are solved for.
    left: usize,
}

/// What sizes show in the cases that have been solved.
struct Held {
    /// The fastest air in each pipe.
    speeds: Vec<Speed>,
    /// The tool that lacks most, in which case, and how much, Pa.
    worst: Option<(usize, usize, f64)>,
}

impl<'a> Whole<'a> {
    #[expect(
        clippy::too_many_arguments,
        reason = "all of them are looked at throughout"
    )]
    pub(super) fn of(
        job: &'a Job,
        network: &'a Network,
        library: &'a Library,
        demand: &'a Demand,
        cases: &'a [Case],
        targets: &'a Targets,
        costs: &'a Costs<'a>,
        needs: Vec<Need>,
    ) -> Self {
        let mut whole = Self {
            job,
            network,
            library,
            demand,
            cases,
            targets,
            costs,
            needs,
            parts: BTreeMap::new(),
            fed: BTreeSet::new(),
            order: (0..cases.len()).collect(),
            left: WORK,
        };
        for (id, _, _, link) in network.links() {
            if let Some(part) = whole.part(id) {
                let (_, lengths) = whole
                    .parts
                    .entry(part)
                    .or_insert_with(|| (link.system, Vec::new()));
                if link.leg.is_some() || link.pipe.is_some() {
                    lengths.push(link.pipe.unwrap_or_default());
                }
            }
        }
        whole.feed();
        whole
    }

    /// Finds what feeds each part.
    fn feed(&mut self) {
        let piping = Piping::of(self.job, self.network, self.library, Wear::Aged);
        let (circuit, links) = piping.bare();
        let walk = walk(&circuit);
        let core = |node: usize| walk.core_of[node];
        let bridge = |node: usize| core(node).and_then(|core| walk.cores[core].bridge);
        for (edge, link) in links.iter().enumerate() {
            let Some(part) = self.part(*link) else {
                continue;
            };
            let [from, to] = self.network.ends_of(*link).map(NodeId::index);
            let in_ring = core(from) == core(to);
            let feeders: Vec<LinkId> = if in_ring {
                bridge(from)
                    .map(|(edge, _)| links[edge])
                    .into_iter()
                    .collect()
            } else {
                let Some(above) = [from, to]
                    .into_iter()
                    .find_map(|end| bridge(end).filter(|(by, _)| *by == edge))
                    .map(|(_, above)| above)
                else {
                    continue;
                };
                let at = walk.ends.at(above).iter();
                let ring = at.filter(|(_, far)| core(*far) == core(above));
                let ring: Vec<LinkId> = ring.map(|(edge, _)| links[*edge]).collect();
                match ring.is_empty() {
                    true => bridge(above)
                        .map(|(edge, _)| links[edge])
                        .into_iter()
                        .collect(),
                    false => ring,
                }
            };
            let is_pipe = |feeder: &LinkId| {
                let owner = self
                    .network
                    .node(self.network.ends_of(*feeder)[1])
                    .origin
                    .owner;
                self.network.link(*feeder).leg.is_some() || matches!(owner, Owner::Outlet(_))
            };
            let own = feeders
                .iter()
                .any(|feeder| self.part(*feeder) == Some(part));
            if !own && !feeders.is_empty() && feeders.iter().all(is_pipe) {
                self.fed.insert((part, feeders));
            }
        }
    }

    /// The open part that a link is of.
    fn part(&self, id: LinkId) -> Option<Part> {
        let link = self.network.link(id);
        let owner = self.network.node(self.network.ends_of(id)[1]).origin.owner;
        match (link.leg, owner) {
            _ if !open(self.job, link.leg, owner) => None,
            (Some(leg), _) => Some(Part::Leg(leg)),
            (None, Owner::Outlet(outlet)) => Some(Part::Drop(outlet)),
            (None, _) => None,
        }
    }

    /// The open parts on which a tool hangs, and legs: what others must have is no
    /// matter of pressure.
    pub(super) fn parts(&self) -> impl Iterator<Item = Part> + '_ {
        let tools = &self.demand.tools;
        self.parts.keys().copied().filter(|part| match part {
            Part::Leg(_) => true,
            Part::Drop(outlet) => tools.iter().any(|tool| tool.outlet == *outlet),
        })
    }

    /// How many cases there are.
    pub(super) const fn cases(&self) -> usize {
        self.cases.len()
    }

    /// What a part costs in a size.
    pub(super) fn cost(&self, part: Part, size: Size) -> f64 {
        let Some((system, lengths)) = self.parts.get(&part) else {
            return 0.0;
        };
        let Some(cost) = (self.costs.of)(*system, size) else {
            return f64::INFINITY;
        };
        let each = lengths
            .iter()
            .map(|length| cost.metre * length.mm() / 1e3 + 2.0 * cost.end);
        each.sum()
    }

    /// The next size of a part that may be had.
    pub(super) fn next(&self, part: Part, size: Size, larger: bool) -> Option<Size> {
        let (system, _) = self.parts.get(&part)?;
        let sizes = options(self.library, self.costs, *system);
        let at = sizes.iter().position(|one| *one == size)?;
        let at = if larger {
            at.checked_add(1)
        } else {
            at.checked_sub(1)
        };
        sizes.get(at?).copied()
    }

    fn bore(&self, link: LinkId, chosen: &Chosen) -> Length {
        let of = self.network.link(link);
        let size = self.part(link).and_then(|part| chosen.get(&part));
        let row = self.library.systems()[of.system].row(*size.unwrap_or(&of.size));
        row.map_or(Length::ZERO, crate::system::SizeRow::bore)
    }

    /// Whether these sizes keep every need; else why not. `fully` finds the worst, else
    /// what comes first.
    pub(super) fn judge(&mut self, chosen: &Chosen, fully: bool) -> Result<(), Because> {
        for (part, feeders) in &self.fed {
            let (Some(size), Some((system, _))) = (chosen.get(part), self.parts.get(part)) else {
                continue;
            };
            let row = self.library.systems()[*system].row(*size);
            let own = row.map_or(Length::ZERO, crate::system::SizeRow::bore);
            let feeders = feeders.iter().map(|feeder| self.bore(*feeder, chosen));
            if feeders.max().is_some_and(|most| own > most) {
                return Err(Because::Follows);
            }
        }
        let sizes = Sizes::plain(chosen);
        let built = network::build(self.job, self.library, Open::Chosen(&sizes)).0;
        let built = built.ok_or(Because::Unjoined)?;
        let mut held = Held {
            speeds: vec![Speed::from_metres_per_second(0.0); built.link_count()],
            worst: None,
        };
        for at in 0..self.order.len() {
            let case = self.order[at];
            self.hold(&built, case, &mut held);
            if fully {
                continue;
            }
            if let Some(because) = self.failed(&built, &held, false) {
                self.order[..=at].rotate_right(1);
                return Err(because);
            }
        }
        self.failed(&built, &held, true).map_or(Ok(()), Err)
    }

    /// Whether the work is done that may be.
    pub(super) fn is_tired(&self) -> bool {
        self.left == 0
    }

    /// Solves a case.
    fn hold(&mut self, built: &Network, case: usize, held: &mut Held) {
        let asked = self.needs.iter().filter(|need| need.case == case);
        let asked: Vec<Need> = asked
            .map(|need| Need {
                case: 0,
                ..need.clone()
            })
            .collect();
        let cases = std::slice::from_ref(&self.cases[case]);
        let shown = shown(
            self.job,
            built,
            self.library,
            self.demand,
            cases,
            self.targets,
            &asked,
        );
        for (most, speed) in held.speeds.iter_mut().zip(shown.speeds) {
            if speed > *most {
                *most = speed;
            }
        }
        for (need, lacks) in shown.lacking {
            let Need { tool, least, .. } = asked[need];
            let by = least.sqrt() - (least - lacks).max(0.0).sqrt();
            if held.worst.is_none_or(|(_, _, most)| by > most) {
                held.worst = Some((tool, case, by));
            }
        }
        let solved = built.link_count() * (1 + built.valves.len());
        self.left = self.left.saturating_sub(solved);
    }

    /// What these sizes failed in; `all` cases have been solved.
    fn failed(&self, built: &Network, held: &Held, all: bool) -> Option<Because> {
        let fast = self.too_fast(built, &held.speeds, all);
        let lacks = held
            .worst
            .map(|(tool, case, by)| Because::Lacks { tool, case, by });
        fast.map(Because::TooFast).or(lacks)
    }

    /// Where air runs fastest while a line valve of a ring is shut, if that is faster
    /// than the limit, in words: repairs are short, and no size is larger for them.
    pub(super) fn shut(&self, chosen: &Chosen) -> Option<String> {
        let sizes = Sizes::plain(chosen);
        let built = network::build(self.job, self.library, Open::Chosen(&sizes)).0?;
        let piping = Piping::of(self.job, &built, self.library, Wear::Aged);
        let at_tank = piping.absolute(self.job.cut_in());
        let limits = speeds(self.job).map(Speed::metres_per_second);
        // How many times the limit, how fast, with what shut, and where.
        let mut worst: Option<(f64, f64, NodeId, LinkId)> = None;
        for shut in piping.shut_in_turn().into_iter().flatten() {
            for case in self.cases {
                let draws = draws(self.demand, case, built.drops.len());
                let Ok(flowing) = piping.solve(at_tank, &draws, Some(shut)) else {
                    continue;
                };
                for (id, _, to, link) in built.links() {
                    let is_open = open(self.job, link.leg, built.node(to).origin.owner);
                    let speed = flowing.speeds[id.index()]
                        .filter(|_| is_open)
                        .unwrap_or(0.0);
                    let times = speed / limits[usize::from(link.leg.is_none())];
                    if times > worst.map_or(1.0, |worst| worst.0) {
                        worst = Some((times, speed, shut, id));
                    }
                }
            }
        }
        let (_, speed, shut, link) = worst?;
        let valve = built.valves.iter().find(|valve| valve.at == shut)?;
        let place = match built.link(link).leg {
            Some(leg) => built.legs[leg].label.clone(),
            None => match built.node(built.ends_of(link)[1]).origin.owner {
                Owner::Outlet(outlet) => format!("the drop of {}", built.drops[outlet].name),
                _ => return None,
            },
        };
        Some(format!(
            "While line valve {} is shut, air runs at up to {} in {place}: repairs are short, and sizes are not held to the limit for them.",
            valve.name,
            Speed::from_metres_per_second(speed).show(self.job.units),
        ))
    }

    /// The fastest air in an open pipe, if it is too fast; where none runs in any of all
    /// cases, the job's largest tool counts.
    fn too_fast(&self, built: &Network, speeds_in: &[Speed], all: bool) -> Option<Speed> {
        let limits = speeds(self.job);
        let tools = self.demand.tools.iter();
        let largest = tools
            .map(|tool| mass(tool.running.value))
            .fold(0.0, f64::max);
        let at_tank = self.job.cut_in().kpa() * 1e3 + self.job.site().atmosphere;
        let mut fastest: Option<Speed> = None;
        for (id, _, to, link) in built.links() {
            if !open(self.job, link.leg, built.node(to).origin.owner) || link.pipe.is_none() {
                continue;
            }
            let mut speed = speeds_in[id.index()];
            if all && speed.metres_per_second() <= 0.0 && link.leg.is_some() {
                let row = self.library.systems()[link.system].row(link.size);
                let bore = row.map_or(1.0, |row| row.bore().mm()) / 1e3;
                let volume = largest * GAS * PIPE_TEMPERATURE.kelvin() / at_tank;
                speed = Speed::from_metres_per_second(volume / (FRAC_PI_4 * bore * bore));
            }
            let is_fast = speed > limits[usize::from(link.leg.is_none())];
            if is_fast && fastest.is_none_or(|most| speed > most) {
                fastest = Some(speed);
            }
        }
        fastest
    }
}
