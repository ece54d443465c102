//! Line valves: devices that stand in the main itself.

use super::drops::Builder;
use super::route::{DraftKind, Route};
use super::{End, LineValve, LinkId, Network, NodeId, NodeKind, Owner, Spot, ends};
use crate::finding::Finding;
use crate::job;
use crate::quantity::Length;
use petgraph::graph::NodeIndex;

impl Network {
    /// Whether a line valve stands at a place.
    #[must_use]
    pub fn is_line_valve(&self, id: NodeId) -> bool {
        let node = self.node(id);
        matches!(
            (&node.kind, node.origin.owner),
            (NodeKind::Device { .. }, Owner::Leg(_))
        )
    }

    /// Whether a device stands in the pipe itself: a line valve, or the isolating valve
    /// of a drop.
    #[must_use]
    pub fn is_in_line(&self, id: NodeId) -> bool {
        self.is_line_valve(id) || self.node(id).origin.spot == Spot::Shut
    }

    /// Whether an isolating valve stands at the head of the drop of an outlet, by its index.
    #[must_use]
    pub fn has_head_valve(&self, outlet: usize) -> bool {
        let mut places = self.nodes().map(|(_, node)| node.origin);
        places.any(|at| at.spot == Spot::Shut && at.owner == Owner::Outlet(outlet))
    }

    /// The line valve at a place.
    #[must_use]
    pub fn valve_at(&self, id: NodeId) -> Option<&LineValve> {
        if !self.is_line_valve(id) {
            return None;
        }
        self.valves.iter().find(|valve| valve.at == id)
    }
}

impl Builder<'_> {
    /// Sets every line valve into the main. Drops and drains stand already, so
    /// that what else leaves its place is seen.
    pub(super) fn valves(&mut self, route: &Route, starts: &[NodeIndex]) -> Vec<LineValve> {
        let job = self.job;
        if job.valves.is_empty() {
            return Vec::new();
        }
        let from = |start: &NodeIndex| {
            petgraph::algo::dijkstra(&self.graph, *start, None, |edge| {
                edge.weight().pipe.unwrap_or_default()
            })
        };
        let reached: Vec<_> = starts.iter().map(from).collect();
        let mut built = Vec::new();
        for valve in &job.valves {
            let Some(place) = route.places.get(&valve.name.value) else {
                continue;
            };
            let distance = |node: NodeIndex| {
                let ways = reached.iter().filter_map(|from| from.get(&node));
                ways.min().copied().unwrap_or_default()
            };
            match self.in_line(place.node, valve, distance) {
                Ok(valve) => built.push(valve),
                Err(why) => self.findings.push(
                    Finding::error(
                        "valve-not-in-line",
                        place.span,
                        format!("the line valve `{}` does not stand in a straight: {why}", valve.name.value),
                        "move its mark along the leg, so that the main goes on in line on both sides of it and nothing else meets it",
                    )
                    .related(valve.name.span, "the valve"),
                ),
            }
        }
        built
    }

    /// Sets a valve between two pipes that are in line, or says why it cannot.
    fn in_line(
        &mut self,
        node: NodeIndex,
        valve: &job::LineValve,
        distance: impl Fn(NodeIndex) -> Length,
    ) -> Result<LineValve, &'static str> {
        if !matches!(self.graph[node].kind, DraftKind::Place) {
            return Err("another valve stands there");
        }
        let found: Vec<_> = ends(&self.graph, node).collect();
        let pipe = |link: LinkId| self.graph[link.0];
        let all_main = found.iter().all(|end| pipe(end.link).is_main());
        let (true, [a, b]) = (all_main, &found[..]) else {
            return Err(match found.len() {
                1 => "the main ends there",
                _ => "something else leaves the main there",
            });
        };
        let (one, other) = (pipe(a.link), pipe(b.link));
        if a.direction != b.direction.opposite() {
            return Err("the main turns there");
        }
        if (one.system, one.size) != (other.system, other.size) {
            return Err("another size or system of pipe begins there");
        }
        // Of two ways of equal length the one by the shorter pipe: no order of
        // the file decides it.
        let way = |end: &End| {
            let length = pipe(end.link).pipe.unwrap_or_default();
            (distance(end.far.0) + length, length, end.link)
        };
        let upstream = if way(a) <= way(b) { a.link } else { b.link };
        let thread = self.library.systems()[one.system].thread_of(one.size);
        let size = self.device_size(valve.device, thread);
        self.graph[node].kind = DraftKind::Device {
            device: valve.device.device,
            size,
            length: None,
        };
        Ok(LineValve {
            name: valve.name.value.clone(),
            line: valve.line,
            at: NodeId(node),
            size,
            upstream,
        })
    }
}
