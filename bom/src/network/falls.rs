//! Heights: the fall of the main, on trees and round rings.
//!
//! Only level pipe falls; an upright keeps its length, so both its ends carry
//! the same correction.

use super::route::{Draft, Route};
use crate::finding::Finding;
use crate::job::Job;
use crate::quantity::Length;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::{EdgeRef, NodeIndexable};
use std::collections::{BTreeSet, VecDeque};

/// Lowers every place of the main by its fall, and checks the low points.
pub(super) fn apply(
    job: &Job,
    route: &mut Route,
    start: NodeIndex,
    assumptions: &mut Vec<String>,
    findings: &mut Vec<Finding>,
) {
    let low_points: BTreeSet<NodeIndex> = job
        .drains
        .iter()
        .filter(|drain| drain.low_point)
        .filter_map(|drain| route.places.get(&drain.name.value))
        .map(|place| place.node)
        .collect();
    if job.main.fall.value.is_level() {
        return;
    }
    let mut falls = Falls {
        job,
        draft: &route.draft,
        ring_edges: ring_edges(&route.draft),
        drop: vec![None; route.draft.node_bound()],
        low_points,
        assumptions,
        findings,
    };
    falls.run(start);
    let drop = falls.drop;
    for node in route.draft.node_indices() {
        if let Some(Some(by)) = drop.get(node.index()) {
            route.draft[node].at.up -= *by;
        }
    }
    low_points_are_low(job, route, findings);
}

struct Falls<'a> {
    job: &'a Job,
    draft: &'a Draft,
    ring_edges: BTreeSet<EdgeIndex>,
    /// How far each node lies below where a level main would have it.
    drop: Vec<Option<Length>>,
    low_points: BTreeSet<NodeIndex>,
    assumptions: &'a mut Vec<String>,
    findings: &'a mut Vec<Finding>,
}

impl Falls<'_> {
    fn run(&mut self, start: NodeIndex) {
        let fall = self.job.main.fall.value;
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
                if self.ring_edges.contains(&edge.id()) {
                    queue.extend(self.ring(here, drop, edge.id()));
                } else {
                    let by = fall.over(edge.weight().level());
                    let by = if fall.is_back() { -by } else { by };
                    self.drop[next.index()] = Some(drop + by);
                    queue.push_back(next);
                }
            }
        }
    }

    /// Gives every node of the ring that is entered at `entry` its height, and
    /// returns them.
    fn ring(&mut self, entry: NodeIndex, drop: Length, first: EdgeIndex) -> Vec<NodeIndex> {
        let Some(round) = self.way_round(entry, first) else {
            let nodes = self.level_net(entry, drop);
            self.assumptions.push(
                "Rings that share pipe are taken as level: their falls are not worked out."
                    .to_owned(),
            );
            return nodes;
        };
        let total = round.last().map_or(Length::ZERO, |(_, distance)| *distance);
        let inside = &round[..round.len() - 1];
        let fall = self.job.main.fall.value;
        let mut heights: Vec<(Length, Length)> = vec![(Length::ZERO, drop)];
        if fall.is_back() {
            // Water comes back to the entry, so the pipe is highest half way.
            heights.push((total.scaled(1, 2), drop - fall.over(total.scaled(1, 2))));
        } else {
            let lows: Vec<Length> = inside
                .iter()
                .filter(|(node, _)| self.low_points.contains(node))
                .map(|(_, distance)| *distance)
                .collect();
            let (Some(first), Some(last)) = (lows.first(), lows.last()) else {
                self.findings.push(Finding::error(
                    "ring-without-low-point",
                    self.job.main.fall.span,
                    "the ring falls, and nothing says where its low point is",
                    "mark a drain on it ([drain.low], and `low` among the marks of a leg), or write fall = \"level\"",
                ));
                return self.level_net(entry, drop);
            };
            // One low point: the longer way has the fall, the shorter one is
            // steeper. Several: all as low as the deepest of the outer two,
            // and highest midway between two of them.
            let deepest = drop + fall.over((*first).max(total - *last));
            for (index, low) in lows.iter().enumerate() {
                if let Some(before) = index.checked_sub(1).map(|before| lows[before]) {
                    let half = (*low - before).scaled(1, 2);
                    heights.push((before + half, deepest - fall.over(half)));
                }
                heights.push((*low, deepest));
            }
        }
        heights.push((total, drop));
        for (node, distance) in inside {
            self.drop[node.index()] = Some(between(&heights, *distance));
        }
        inside.iter().map(|(node, _)| *node).collect()
    }

    /// The nodes of a plain ring from `entry` round to itself, each with its
    /// level distance; none if the ring shares pipe with another.
    fn way_round(&self, entry: NodeIndex, first: EdgeIndex) -> Option<Vec<(NodeIndex, Length)>> {
        let mut round = Vec::new();
        let (mut here, mut edge, mut distance) = (entry, first, Length::ZERO);
        loop {
            let link = self.draft.edge_weight(edge)?;
            distance += link.level();
            let (a, b) = self.draft.edge_endpoints(edge)?;
            here = if a == here { b } else { a };
            round.push((here, distance));
            if here == entry {
                return Some(round);
            }
            let came = edge;
            let mut onward = self
                .draft
                .edges(here)
                .filter(|next| next.id() != came && self.ring_edges.contains(&next.id()));
            edge = onward.next()?.id();
            if onward.next().is_some() {
                return None;
            }
        }
    }

    /// Keeps every ring node reachable from `entry` at its height.
    fn level_net(&mut self, entry: NodeIndex, drop: Length) -> Vec<NodeIndex> {
        let mut nodes = Vec::new();
        let mut stack = vec![entry];
        while let Some(here) = stack.pop() {
            for edge in self.draft.edges(here) {
                let next = edge.target();
                if self.ring_edges.contains(&edge.id()) && self.drop[next.index()].is_none() {
                    self.drop[next.index()] = Some(drop);
                    nodes.push(next);
                    stack.push(next);
                }
            }
        }
        nodes
    }
}

/// The height at `distance` on the line through the given points.
pub(crate) fn between(points: &[(Length, Length)], distance: Length) -> Length {
    let after = points
        .iter()
        .position(|(at, _)| *at >= distance)
        .unwrap_or(points.len() - 1);
    let (end, low) = points[after];
    let Some((begin, high)) = after.checked_sub(1).map(|before| points[before]) else {
        return low;
    };
    if end == begin {
        return low;
    }
    high + (low - high).scaled((distance - begin).nm(), (end - begin).nm())
}

/// The links that lie on some ring: those that are not bridges. (petgraph's
/// own bridge search takes parallel links for bridges, so it is done here.)
fn ring_edges(draft: &Draft) -> BTreeSet<EdgeIndex> {
    let bound = draft.node_bound();
    let mut order = vec![0_usize; bound];
    let mut low = vec![0_usize; bound];
    let mut rings: BTreeSet<EdgeIndex> = draft.edge_indices().collect();
    let mut clock = 0;
    for root in draft.node_indices() {
        if order[root.index()] != 0 {
            continue;
        }
        clock += 1;
        order[root.index()] = clock;
        low[root.index()] = clock;
        let mut stack = vec![(root, None, draft.edges(root))];
        while let Some((here, by, edges)) = stack.last_mut() {
            let here = *here;
            match edges.next() {
                Some(edge) if Some(edge.id()) == *by => {}
                Some(edge) => {
                    let next = edge.target();
                    if order[next.index()] == 0 {
                        clock += 1;
                        order[next.index()] = clock;
                        low[next.index()] = clock;
                        stack.push((next, Some(edge.id()), draft.edges(next)));
                    } else {
                        low[here.index()] = low[here.index()].min(order[next.index()]);
                    }
                }
                None => {
                    let by = *by;
                    stack.pop();
                    let (Some(edge), Some((above, _, _))) = (by, stack.last()) else {
                        continue;
                    };
                    let above = above.index();
                    low[above] = low[above].min(low[here.index()]);
                    if low[here.index()] > order[above] {
                        rings.remove(&edge);
                    }
                }
            }
        }
    }
    rings
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
                    "move it to where the pipe is lowest, or write kind = \"drip-leg\" under its [drain]",
                )
                .related(drain.name.span, "the drain"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::between;
    use crate::quantity::Length;

    #[test]
    fn heights_lie_on_the_line_between_their_points() {
        let feet = Length::from_feet;
        let points = [
            (feet(0), feet(0)),
            (feet(80), feet(8)),
            (feet(100), feet(0)),
        ];
        assert_eq!(between(&points, feet(0)), feet(0));
        assert_eq!(between(&points, feet(40)), feet(4));
        assert_eq!(between(&points, feet(80)), feet(8));
        assert_eq!(between(&points, feet(95)), feet(2));
        assert_eq!(between(&points, feet(100)), feet(0));
    }
}
