//! From the layout to the sheet.

use crate::drawing::shape::{Area, At};
use crate::network::{Network, NodeId};

/// How far a foot of height moves a place to the right and up, in feet: a direction
/// in which no pipe is laid.
const SLANT: (f64, f64) = (0.18, 0.31);

/// How a layout is drawn.
pub(super) struct View {
    /// Millimetres of paper for a millimetre of the shop.
    pub(super) scale: f64,
    /// What is drawn at the origin.
    origin: At,
    /// The height at which each place is drawn: level pipe is drawn level.
    heights: Vec<f64>,
    area: Area,
}

impl View {
    /// As large as the main fits into an area.
    pub(super) fn of(network: &Network, area: Area) -> Self {
        let heights = heights(network);
        let main = network.links().filter(|(.., link)| link.is_main());
        let mut places: Vec<NodeId> = main.flat_map(|(_, from, to, _)| [from, to]).collect();
        places.extend(network.ports());
        let unscaled: Vec<At> = places
            .iter()
            .map(|place| flat(network, *place, &heights))
            .collect();
        let first = unscaled.first().copied().unwrap_or_default();
        let all = unscaled.iter().fold(Area::of(first, first), |all, at| {
            all.with(&Area::of(*at, *at))
        });
        let scale =
            (area.width() / all.width().max(1.0)).min(area.height() / all.height().max(1.0));
        let (here, there) = (all.middle(), area.middle());
        Self {
            scale,
            origin: At::new(there.x - here.x * scale, there.y - here.y * scale),
            heights,
            area,
        }
    }

    pub(super) fn at(&self, network: &Network, node: NodeId) -> At {
        let flat = flat(network, node, &self.heights);
        self.origin.by(flat.x * self.scale, flat.y * self.scale)
    }

    pub(super) const fn middle(&self) -> At {
        self.area.middle()
    }
}

fn flat(network: &Network, node: NodeId, heights: &[f64]) -> At {
    let at = network.node(node).at;
    let up = heights[node.index()];
    At::new(at.east.mm() + SLANT.0 * up, -at.north.mm() - SLANT.1 * up)
}

/// The height of each place: one for all places that level or falling main joins,
/// that of the first of them.
fn heights(network: &Network) -> Vec<f64> {
    let mut heights: Vec<f64> = network.nodes().map(|(_, node)| node.at.up.mm()).collect();
    let mut seen = vec![false; network.node_count()];
    for (first, _) in network.nodes() {
        let height = heights[first.index()];
        let mut stack = vec![first];
        while let Some(here) = stack.pop() {
            if std::mem::replace(&mut seen[here.index()], true) {
                continue;
            }
            heights[here.index()] = height;
            let level = network
                .ends(here)
                .filter(|end| network.link(end.link).is_main() && end.direction.is_level());
            stack.extend(level.map(|end| end.far));
        }
    }
    heights
}
