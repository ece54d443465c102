//! The heights of rings.

use super::Falls;
use super::crests::Crest;
use crate::finding::Finding;
use crate::quantity::Length;
use petgraph::graph::{EdgeIndex, NodeIndex};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

/// A pipe of a plain ring on the way round.
struct Step {
    /// The pipe.
    edge: EdgeIndex,
    /// The node at its far end.
    to: NodeIndex,
    /// The level distance of that node from the entry.
    distance: Length,
}

impl Falls<'_> {
    /// Gives every node of the rings that are entered at `entry` its height,
    /// and returns them.
    pub(super) fn ring(
        &mut self,
        entry: NodeIndex,
        drop: Length,
        block: usize,
    ) -> BTreeSet<NodeIndex> {
        let edges = self.blocks.edges(block).to_vec();
        let ends = |edge: &EdgeIndex| self.draft.edge_endpoints(*edge);
        let nodes: BTreeSet<NodeIndex> = edges
            .iter()
            .filter_map(ends)
            .flat_map(|(a, b)| [a, b])
            .collect();
        let fall = self.job.main.fall.value;
        let lows: Vec<NodeIndex> = nodes.intersection(&self.low_points).copied().collect();
        if fall.is_level() || (lows.is_empty() && !fall.is_back()) {
            for node in &nodes {
                self.drop[node.index()] = Some(drop);
            }
            if !fall.is_level() {
                self.findings.push(Finding::error(
                    "ring-without-low-point",
                    self.job.main.fall.span,
                    "the ring falls, and nothing says where its low point is",
                    "mark a drain on it ([drain.low], and `low` among the marks of a leg), or write fall = \"level\"",
                ));
            }
            return nodes;
        }
        if fall.is_back() {
            // Water comes back to the entry by the shorter way.
            self.rise_from(&[entry], drop, &edges);
            return nodes;
        }
        match self.way_round(entry, &edges) {
            Some(round) if !lows.contains(&entry) => self.fall_round(&round, drop, &lows),
            round => {
                self.shares_pipe |= round.is_none();
                let ways = self.distances(&lows, &edges);
                let way = ways.get(&entry).copied().unwrap_or_default();
                self.rise_from(&lows, drop + fall.over(way), &edges);
            }
        }
        let crests = edges.iter().filter_map(|edge| self.crests.get(edge));
        let highest = nodes
            .iter()
            .filter_map(|node| self.drop[node.index()])
            .chain(crests.map(|crest| crest.drop))
            .min();
        let above = drop - highest.unwrap_or(drop);
        self.above_entry = self.above_entry.max(above);
        nodes
    }

    /// Lets every pipe rise at the stated fall from the nearest of the `lows`,
    /// which lie at `drop`.
    fn rise_from(&mut self, lows: &[NodeIndex], drop: Length, edges: &[EdgeIndex]) {
        let fall = self.job.main.fall.value;
        let ways = self.distances(lows, edges);
        for (node, way) in &ways {
            self.drop[node.index()] = Some(drop - fall.over(*way));
        }
        for edge in edges {
            let way = |node| ways.get(&node).copied();
            let ends = self.draft.edge_endpoints(*edge);
            let Some((Some(first), Some(second))) = ends.map(|(a, b)| (way(a), way(b))) else {
                continue;
            };
            // Where both ways down from inside the pipe are equally long.
            let along = (self.draft[*edge].level() + second - first).scaled(1, 2);
            let drop = drop - fall.over(first + along);
            self.stand_crest(*edge, along, drop);
        }
    }

    /// Notes a crest if it lies inside its pipe.
    fn stand_crest(&mut self, edge: EdgeIndex, along: Length, drop: Length) {
        if along > Length::ZERO && along < self.draft[edge].level() {
            self.crests.insert(edge, Crest { along, drop });
        }
    }

    /// The level distance of every node from the nearest of the `lows`.
    fn distances(&self, lows: &[NodeIndex], edges: &[EdgeIndex]) -> BTreeMap<NodeIndex, Length> {
        let mut at: BTreeMap<NodeIndex, Vec<(NodeIndex, Length)>> = BTreeMap::new();
        for edge in edges {
            if let Some((a, b)) = self.draft.edge_endpoints(*edge) {
                let level = self.draft[*edge].level();
                at.entry(a).or_default().push((b, level));
                at.entry(b).or_default().push((a, level));
            }
        }
        let mut ways = BTreeMap::new();
        let begin = lows.iter().map(|low| Reverse((Length::ZERO, *low)));
        let mut open: BinaryHeap<_> = begin.collect();
        while let Some(Reverse((way, here))) = open.pop() {
            if ways.contains_key(&here) {
                continue;
            }
            ways.insert(here, way);
            let onward = at.get(&here).into_iter().flatten();
            open.extend(onward.map(|(next, level)| Reverse((way + *level, *next))));
        }
        ways
    }

    /// Heights of a plain ring with low points away from its entry. One low
    /// point: the longer way has the fall, the shorter one is steeper. Several:
    /// all as low as the deepest of the outer two, and highest midway between
    /// two of them.
    fn fall_round(&mut self, round: &[Step], drop: Length, lows: &[NodeIndex]) {
        let fall = self.job.main.fall.value;
        let total = round.last().map_or(Length::ZERO, |step| step.distance);
        let inside = &round[..round.len().saturating_sub(1)];
        let lows: Vec<Length> = inside
            .iter()
            .filter(|step| lows.contains(&step.to))
            .map(|step| step.distance)
            .collect();
        let (Some(first), Some(last)) = (lows.first(), lows.last()) else {
            return;
        };
        let deepest = drop + fall.over((*first).max(total - *last));
        let mut heights: Vec<(Length, Length)> = vec![(Length::ZERO, drop)];
        let mut tops = Vec::new();
        for (index, low) in lows.iter().enumerate() {
            if let Some(before) = index.checked_sub(1).map(|before| lows[before]) {
                let half = (*low - before).scaled(1, 2);
                let top = (before + half, deepest - fall.over(half));
                heights.push(top);
                tops.push(top);
            }
            heights.push((*low, deepest));
        }
        heights.push((total, drop));
        for step in inside {
            self.drop[step.to.index()] = Some(between(&heights, step.distance));
        }
        for (at, drop) in tops {
            let Some(step) = round.iter().find(|step| step.distance >= at) else {
                continue;
            };
            // The way round may take the pipe from its second node.
            let ahead = step.distance - at;
            let along = match self.draft.edge_endpoints(step.edge) {
                Some((_, second)) if second == step.to => self.draft[step.edge].level() - ahead,
                _ => ahead,
            };
            self.stand_crest(step.edge, along, drop);
        }
    }

    /// The way round a plain ring from `entry` back to it; none if rings share
    /// pipe.
    fn way_round(&self, entry: NodeIndex, edges: &[EdgeIndex]) -> Option<Vec<Step>> {
        let mut round: Vec<Step> = Vec::with_capacity(edges.len());
        let mut at: BTreeMap<NodeIndex, Vec<EdgeIndex>> = BTreeMap::new();
        for edge in edges {
            let (a, b) = self.draft.edge_endpoints(*edge)?;
            at.entry(a).or_default().push(*edge);
            at.entry(b).or_default().push(*edge);
        }
        if at.values().any(|edges| edges.len() != 2) {
            return None;
        }
        let (mut here, mut distance) = (entry, Length::ZERO);
        while round.is_empty() || here != entry {
            let came = round.last().map(|step| step.edge);
            let edge = *at.get(&here)?.iter().find(|edge| Some(**edge) != came)?;
            let (a, b) = self.draft.edge_endpoints(edge)?;
            here = if a == here { b } else { a };
            distance += self.draft[edge].level();
            round.push(Step {
                edge,
                to: here,
                distance,
            });
        }
        Some(round)
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
