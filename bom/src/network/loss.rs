//! What the pipe alone loses on the way to the worst outlet.

use super::{LinkId, Network, NodeId};
use crate::air::Stream;
use crate::air::friction::loss_per_metre;
use crate::library::Library;
use crate::quantity::Length;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A place on the way, the nearest by loss first.
#[derive(PartialEq)]
struct Reached {
    pascals: f64,
    node: usize,
}

impl Eq for Reached {}

impl Ord for Reached {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        other
            .pascals
            .total_cmp(&self.pascals)
            .then(other.node.cmp(&self.node))
    }
}

impl PartialOrd for Reached {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Network {
    /// The outlet to which the pipe loses most, and how much that is in kPa:
    /// all of the stream from any one supply on the way that loses least, straight pipe only. Of a
    /// ring only one way is taken, so the figure is on the safe side.
    #[must_use]
    pub fn pipe_loss(&self, library: &Library, stream: &Stream) -> Option<(&str, f64)> {
        let losses = self
            .ports()
            .filter_map(|port| self.loss_from(port, library, stream));
        losses.max_by(|a, b| a.1.total_cmp(&b.1))
    }

    fn loss_from(&self, port: NodeId, library: &Library, stream: &Stream) -> Option<(&str, f64)> {
        let mut best = vec![f64::INFINITY; self.node_count()];
        let nodes: Vec<_> = self.nodes().map(|(id, _)| id).collect();
        let mut heap = BinaryHeap::from([Reached {
            pascals: 0.0,
            node: port.index(),
        }]);
        while let Some(Reached { pascals, node }) = heap.pop() {
            if pascals >= best[node] {
                continue;
            }
            best[node] = pascals;
            heap.extend(self.ends(nodes[node]).map(|end| {
                let link = self.link(end.link);
                let system = &library.systems()[link.system];
                let loss = match (link.pipe, system.row(link.size)) {
                    (Some(length), Some(row)) => {
                        loss_per_metre(stream, row.bore(), system.roughness()) * length.mm()
                            / 1_000.0
                    }
                    _ => 0.0,
                };
                Reached {
                    pascals: pascals + loss,
                    node: end.far.index(),
                }
            }));
        }
        self.drops
            .iter()
            .map(|drop| (drop.name.as_str(), best[drop.foot_at.index()] / 1_000.0))
            .max_by(|a, b| a.1.total_cmp(&b.1))
    }
}

impl Network {
    /// Every place but the tanks' ports, nearest to a tank along the pipe first, with
    /// the link by which the shortest way comes to it.
    #[must_use]
    pub fn shortest_ways(&self) -> Vec<(NodeId, LinkId)> {
        let mut seen = vec![false; self.node_count()];
        let nodes: Vec<NodeId> = self.nodes().map(|(id, _)| id).collect();
        let ports = self.ports();
        let ports = ports.map(|port| Reverse((Length::ZERO, port.index(), None::<LinkId>)));
        let mut heap: BinaryHeap<_> = ports.collect();
        let mut ways = Vec::new();
        while let Some(Reverse((way, node, by))) = heap.pop() {
            if std::mem::replace(&mut seen[node], true) {
                continue;
            }
            if let Some(by) = by {
                ways.push((nodes[node], by));
            }
            heap.extend(self.ends(nodes[node]).map(|end| {
                let length = self.link(end.link).pipe.unwrap_or_default();
                Reverse((way + length, end.far.index(), Some(end.link)))
            }));
        }
        ways
    }
}

#[cfg(test)]
mod tests {
    use crate::air::friction::loss_per_metre;
    use crate::air::{Site, Stream};
    use crate::library::Library;
    use crate::quantity::{AirFlow, Length, Pressure};
    use crate::source::Source;

    // By hand: press is the outlet that is farthest either way. The short way
    // round is 7-6 up, 4 in, 16 back along the west wall, 48 along the south
    // wall and 10 up the east wall: 85-6; its drop goes up, over and down.
    #[test]
    fn the_farthest_outlet_loses_what_its_pipe_loses() {
        let library = Library::shipped().unwrap();
        let job = Source::new("job", include_str!("../../../catalogs-demo/millrace.toml"));
        let plan = crate::plan(&job, &library).0.unwrap();
        let flow = AirFlow::parse("24 cfm").unwrap();
        let cut_in = Pressure::parse("140 psi").unwrap();
        let site = Site::SEA_LEVEL;
        let stream = Stream::new(flow, &site, cut_in, site.temperature);
        let (outlet, kpa) = plan.network.pipe_loss(&library, &stream).unwrap();
        assert_eq!(outlet, "press");
        let iron = &library.systems()[0];
        let row = iron
            .sizes()
            .find(|row| row.size.to_string() == "3/4in")
            .unwrap();
        let each = loss_per_metre(&stream, row.bore(), iron.roughness());
        let ways = ["upper elbow", "elbow above the drop", "foot"];
        let over: Length = plan
            .network
            .links()
            .filter(|(_, _, to, _)| {
                let place = plan.network.place(*to);
                ways.iter()
                    .any(|way| place == format!("outlet press, {way}"))
            })
            .filter_map(|(_, _, _, link)| link.pipe)
            .sum();
        let main = Length::from_feet(85) + Length::from_64ths(6 * 64);
        let wanted = each * (main + over).mm() / 1_000_000.0;
        assert!((kpa - wanted).abs() < 1e-9, "{kpa} {wanted}");
    }
}
