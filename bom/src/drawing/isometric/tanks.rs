//! What is said of the tanks.

use super::Set;
use super::axes::along;
use super::picture::Picture;
use super::say::Say;
use super::words::{FAR, Said, row, short};
use crate::drawing::At;
use crate::network::{NodeId, NodeKind, Owner};

impl Set<'_> {
    /// The name of each tank, its port, and how high that is.
    pub(super) fn tanks(&self, picture: &Picture<'_>) -> Vec<Said> {
        let network = &self.scene.plan.network;
        let ports = network.ports().filter(|port| picture.own.contains(port));
        ports
            .filter_map(|port| {
                let node = network.node(port);
                let NodeKind::Port { size, .. } = node.kind else {
                    return None;
                };
                let Owner::Supply(supply) = node.origin.owner else {
                    return None;
                };
                let at = picture.at(port)?;
                let lines = vec![format!("port {size}, {}", self.up(node.at.up))];
                let name = network.supplies[supply].0.clone();
                let edges = self.round_tank(port, at);
                Some(Said {
                    without: row("tank", lines[0].clone(), name.clone()),
                    say: Say {
                        at: edges[0],
                        others: edges[1..].to_vec(),
                        towards: (1.0, 1.0),
                        name: Some(short(&name)),
                        lines,
                        most: FAR,
                        insists: true,
                        ..Say::default()
                    },
                    link: None,
                })
            })
            .collect()
    }

    /// The edges of the sign of a tank whose port is there.
    fn round_tank(&self, port: NodeId, at: At) -> [At; 3] {
        let network = &self.scene.plan.network;
        let supply = network.node(port).origin.owner;
        let mut places = network
            .nodes()
            .filter(|(_, node)| node.origin.owner == supply);
        let first = places.find_map(|(id, _)| {
            let mut ends = network.ends(id);
            ends.find(|end| network.link(end.link).is_main())
        });
        let level = first.filter(|end| end.direction.is_level());
        let middle = level.map_or(at.by(0.0, 2.5), |end| {
            let (x, y) = along(end.direction);
            at.by(-4.0 * x, -4.0 * y)
        });
        [(0.0, 2.9), (-3.9, -1.8), (3.9, 1.8)].map(|(x, y)| middle.by(x, y))
    }
}
