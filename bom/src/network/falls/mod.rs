//! Heights: the fall of the main, on trees and rings.
//!
//! Only level pipe falls; an upright keeps its length, so both its ends carry
//! the same correction.

mod blocks;
mod crests;
mod rings;
#[cfg(test)]
mod tests;

use super::route::{Draft, Route};
use crate::finding::Finding;
use crate::job::Job;
use crate::quantity::{Fall, Length};
pub(crate) use rings::between;

use blocks::Blocks;
use crests::Crest;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::{EdgeRef, NodeIndexable};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Lowers every place of the main by its fall, stands a place where pipe is
/// highest between two of them, and checks the low points.
pub(super) fn apply(
    job: &Job,
    route: &mut Route,
    starts: &[NodeIndex],
    assumptions: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) {
    let own = job.legs.iter().filter_map(|leg| leg.fall);
    if job.main.fall.value.is_level() && own.clone().all(|fall| fall.value.is_level()) {
        return;
    }
    let low_points = job
        .drains
        .iter()
        .filter(|drain| drain.low_point)
        .filter_map(|drain| route.places.get(&drain.name.value))
        .map(|place| place.node)
        .collect();
    let blocks = Blocks::of(&route.draft);
    rings_have_one_fall(job, route, &blocks, findings);
    let mut falls = Falls {
        job,
        draft: &route.draft,
        blocks,
        drop: vec![None; route.draft.node_bound()],
        crests: BTreeMap::new(),
        low_points,
        shares_pipe: false,
        above_entry: Length::ZERO,
        findings,
    };
    falls.run(starts[0]);
    falls.assume(assumptions);
    let (mut drop, crests) = (falls.drop, falls.crests);
    crests::stand(&mut route.draft, &crests, &mut drop);
    for node in route.draft.node_indices() {
        if let Some(Some(by)) = drop.get(node.index()) {
            route.draft[node].at.up -= *by;
        }
    }
    other_ports_shift(job, route, starts, &drop, assumptions);
    low_points_are_low(job, route, findings);
}

struct Falls<'a> {
    job: &'a Job,
    draft: &'a Draft,
    blocks: Blocks,
    /// How far each node lies below where a level main would have it.
    drop: Vec<Option<Length>>,
    /// The pipes that are highest between their ends.
    crests: BTreeMap<EdgeIndex, Crest>,
    low_points: BTreeSet<NodeIndex>,
    /// Whether some rings share pipe.
    shares_pipe: bool,
    /// How far the highest place of a ring lies above the entry of its air.
    above_entry: Length,
    findings: &'a mut Vec<Finding>,
}

impl Falls<'_> {
    fn run(&mut self, start: NodeIndex) {
        self.drop[start.index()] = Some(Length::ZERO);
        let mut queue = VecDeque::from([start]);
        while let Some(here) = queue.pop_front() {
            let Some(drop) = self.drop[here.index()] else {
                continue;
            };
            for edge in self.draft.edges(here) {
                let next = edge.target();
                if self.drop[next.index()].is_some() {
                    continue;
                }
                if let Some(block) = self.blocks.of_edge(edge.id()) {
                    queue.extend(self.ring(here, drop, block));
                } else {
                    let fall = self.fall_of(edge.weight().leg);
                    let by = fall.over(edge.weight().level());
                    // Only the legs of another supply are met from their ends.
                    let met_from_end = self.draft.raw_edges()[edge.id().index()].source() == next;
                    let by = if fall.is_back() == met_from_end {
                        by
                    } else {
                        -by
                    };
                    self.drop[next.index()] = Some(drop + by);
                    queue.push_back(next);
                }
            }
        }
    }

    /// The fall of a leg: its own, or else the main's.
    fn fall_of(&self, leg: Option<usize>) -> Fall {
        let own = leg.and_then(|leg| self.job.legs[leg].fall);
        own.unwrap_or(self.job.main.fall).value
    }

    fn assume(&self, assumptions: &mut Vec<String>) {
        if self.shares_pipe {
            assumptions.push(
                "Where rings share pipe, all their low points are equally low, and every pipe falls by the shortest way to one."
                    .to_owned(),
            );
        }
        if self.above_entry > Length::ZERO {
            assumptions.push(format!(
                "So that all of a ring falls as stated, its highest place lies {} above the place where the air enters it.",
                self.above_entry.show(self.job.units)
            ));
        }
    }
}

/// The fall moves the risers of the supplies that the main meets on its way.
fn other_ports_shift(
    job: &Job,
    route: &Route,
    starts: &[NodeIndex],
    drop: &[Option<Length>],
    assumptions: &mut Vec<String>,
) {
    for (supply, start) in job.supplies.iter().zip(starts).skip(1) {
        let by = drop[start.index()].unwrap_or_default();
        if by != Length::ZERO {
            assumptions.push(format!(
                "The fall of the main brings the pipe at `{}` {} {} than its port is said to be: {} stands for {}, and its hose or its riser takes up the difference.",
                supply.name.value,
                by.abs().show(job.units),
                if by > Length::ZERO { "lower" } else { "higher" },
                route.draft[*start].at.up.show(job.units),
                supply.height.value.show(job.units)
            ));
        }
    }
}

/// No leg of a ring falls otherwise than the main.
fn rings_have_one_fall(job: &Job, route: &Route, blocks: &Blocks, findings: &mut Vec<Finding>) {
    let on_ring: BTreeSet<usize> = route
        .draft
        .edge_references()
        .filter(|edge| blocks.of_edge(edge.id()).is_some())
        .filter_map(|edge| edge.weight().leg)
        .collect();
    for leg in on_ring.into_iter().map(|leg| &job.legs[leg]) {
        let Some(fall) = leg.fall.filter(|fall| fall.value != job.main.fall.value) else {
            continue;
        };
        findings.push(
            Finding::error(
                "fall-on-ring",
                fall.span,
                format!(
                    "{} is part of a ring, and its heights follow from the ring's low points",
                    leg.label()
                ),
                "take its `fall` out; to move the water elsewhere, move or add a low point of the ring",
            )
            .related(job.main.fall.span, "the fall of every ring"),
        );
    }
}

/// A low point has no level pipe that falls away from it.
fn low_points_are_low(job: &Job, route: &Route, findings: &mut Vec<Finding>) {
    for drain in job.drains.iter().filter(|drain| drain.low_point) {
        let Some(place) = route.places.get(&drain.name.value) else {
            continue;
        };
        let height = route.draft[place.node].at.up;
        let falls_on = route.draft.edges(place.node).any(|edge| {
            edge.weight().direction.is_level() && route.draft[edge.target()].at.up < height
        });
        if falls_on {
            findings.push(
                Finding::error(
                    "drain-not-at-low-point",
                    place.span,
                    format!(
                        "`{}` is a low point, and the pipe falls on past it",
                        drain.name.value
                    ),
                    "move it to where the pipe is lowest; or let what goes on from it be a leg that falls back to it (a `fall` of its own with `back` behind it); or write kind = \"drip-leg\" under its [drain]",
                )
                .related(drain.name.span, "the drain"),
            );
        }
    }
}
