//! Rings in the tree: a ring is a pipe without loss, and the ways round it to its
//! places are pipes without cost that have its size.

use super::needs::HOPELESS;
use super::plan::{Flow, Planner};
use super::speeds;
use super::tree::{Branch, Of, open};
use crate::air::ladder::Wear;
use crate::air::ladder::cases::{Case, draws};
use crate::air::ladder::piping::Piping;
use crate::air::sizing::{Choice, Tie};
use crate::network::{LinkId, Network, NodeId, Owner};
use crate::quantity::Speed;
use std::collections::{BTreeMap, BTreeSet};

struct Round {
    /// To each place, at the average and in each inside case, Pa².
    losses: Vec<(f64, Vec<f64>)>,
    /// m/s.
    fastest: f64,
}

impl Planner<'_> {
    /// Adds a ring, and the ways round it to its places.
    pub(super) fn lay_ring(
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
        let of = Of::Ring(legs.clone());
        let mut tie = Tie::Free;
        let links = ring.iter().map(|link| self.network.link(*link));
        let open_links = links.clone().filter_map(|link| {
            let leg = link.leg?;
            open(self.job, link.leg, Owner::Leg(leg)).then_some((leg, link.system))
        });
        let open_legs: BTreeMap<usize, usize> = open_links.clone().collect();
        let (system, sizes) = match open_links.clone().next() {
            Some((_, system)) => {
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
                let link = links.clone().next()?;
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
            is_open: !open_legs.is_empty(),
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
                match link.leg.is_some_and(|leg| open_legs.contains_key(&leg)) {
                    true => self.library.size_in(link.system, system, *size),
                    false => link.size,
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
        // Each leg may have any of the sizes, but where no air runs that is measured.
        let mixed = match flow.is_nothing() {
            true => &kept,
            false => &sizes,
        };
        let (mut chain, in_order) = self.chain(
            (ring, nodes, entry),
            flow,
            &open_legs,
            (system, mixed),
            &most,
        )?;
        let least = chain.least(&chain.largest(), in_order.len());
        chain.pipe = self.push(branch)?;
        let pipe = chain.pipe;
        self.fed[entry] = (Some(pipe), by);
        let ways: BTreeMap<usize, Vec<Choice>> = places.into_iter().zip(ways).collect();
        for (at, place) in in_order.into_iter().enumerate() {
            let losses = least.as_ref().map(|least| least[at].as_slice());
            let most = most.iter().enumerate();
            let most = most.map(|(case, most)| most - losses.map_or(0.0, |losses| losses[case]));
            let round = self.push(Branch {
                parent: Some(pipe),
                tie: Tie::Same,
                of: Of::Round(legs.clone()),
                inside: inside.clone(),
                is_open,
                system,
                most: most.map(|most| most.max(0.0)).collect(),
                sizes: kept.clone(),
                choices: ways.get(&place)?.clone(),
                in_ring: Vec::new(),
                too_fast: None,
            })?;
            let by = ring.iter().find(|link| {
                let ends = self.network.ends_of(**link).map(NodeId::index);
                ends.contains(&place)
            });
            self.fed[place] = (Some(round), by.copied());
            chain.rounds.push(round);
        }
        self.tree.chains.push(chain);
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
}
