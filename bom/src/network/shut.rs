//! What gets air while valves are shut.

use super::{LinkId, Network, NodeId};

/// A part of the pipework that its valves shut off from all others.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// The valves that it ends at, in walking order.
    pub valves: Vec<NodeId>,
    /// All of its pipe, drops and drains too, in walking order.
    pub pipe: Vec<LinkId>,
    /// What of it is main, in walking order.
    pub main: Vec<LinkId>,
    /// Its drops, by their indices.
    pub drops: Vec<usize>,
    /// Whether a tank stands in it, with no valve between.
    pub has_tank: bool,
}

impl Network {
    /// The places that are reached from these without passing a closed one.
    pub(crate) fn reached(
        &self,
        from: impl IntoIterator<Item = NodeId>,
        closed: &[NodeId],
    ) -> Vec<bool> {
        let mut seen = vec![false; self.node_count()];
        for at in closed {
            seen[at.index()] = true;
        }
        let mut stack: Vec<NodeId> = from.into_iter().collect();
        while let Some(here) = stack.pop() {
            if !std::mem::replace(&mut seen[here.index()], true) {
                stack.extend(self.ends(here).map(|end| end.far));
            }
        }
        for at in closed {
            seen[at.index()] = false;
        }
        seen
    }

    /// The drops, by their indices, that get no air while these valves are shut.
    #[must_use]
    pub fn without_air(&self, shut: &[NodeId]) -> Vec<usize> {
        let reached = self.reached(self.ports(), shut);
        let drops = self.drops.iter().enumerate();
        let without = drops.filter(|(_, drop)| !reached[drop.foot_at.index()]);
        without.map(|(index, _)| index).collect()
    }

    /// The parts of the main between these valves, in walking order.
    #[must_use]
    pub fn sections(&self, valves: &[NodeId]) -> Vec<Section> {
        let mut seen = vec![false; self.link_count()];
        let mut sections = Vec::new();
        for (first, _, _, link) in self.links() {
            if link.is_main() && !seen[first.index()] {
                sections.push(self.section(first, valves, &mut seen));
            }
        }
        sections
    }

    /// The part of the main at a place, between these valves.
    #[must_use]
    pub fn section_at(&self, at: NodeId, valves: &[NodeId]) -> Option<Section> {
        let mut sections = self.sections(valves).into_iter();
        sections.find(|section| {
            let mut main = section.main.iter();
            main.any(|link| self.ends_of(*link).contains(&at))
        })
    }

    fn section(&self, first: LinkId, valves: &[NodeId], seen: &mut [bool]) -> Section {
        let mut links = Vec::new();
        let mut touched = vec![false; self.node_count()];
        let mut stack = vec![first];
        while let Some(link) = stack.pop() {
            if std::mem::replace(&mut seen[link.index()], true) {
                continue;
            }
            links.push(link);
            for end in self.ends_of(link) {
                touched[end.index()] = true;
                if !valves.contains(&end) {
                    stack.extend(self.ends(end).map(|end| end.link));
                }
            }
        }
        links.sort_unstable();
        let touches = |at: &NodeId| touched[at.index()];
        let mut bounds: Vec<NodeId> = valves.iter().copied().filter(touches).collect();
        bounds.sort_unstable();
        let drops = self.drops.iter().enumerate();
        let drops = drops.filter(|(_, drop)| touched[drop.foot_at.index()]);
        Section {
            valves: bounds,
            drops: drops.map(|(index, _)| index).collect(),
            has_tank: self.ports().any(|port| touched[port.index()]),
            main: links
                .iter()
                .copied()
                .filter(|link| self.link(*link).is_main())
                .collect(),
            pipe: links,
        }
    }
}
