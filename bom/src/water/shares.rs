//! How much of the air goes through each link, the shortest way.

use crate::network::{LinkId, Network, NodeId};

/// The shares of the air, and the order in which it comes to the places.
pub(super) struct Shares {
    /// Every place but the first, nearest first: from where the air comes to it
    /// and by which link.
    pub(super) order: Vec<(NodeId, NodeId, LinkId)>,
    of_link: Vec<f64>,
    onward: Vec<f64>,
}

impl Shares {
    /// Each outlet takes an equal share.
    pub(super) fn of(network: &Network) -> Self {
        let order: Vec<(NodeId, NodeId, LinkId)> = network
            .shortest_ways()
            .into_iter()
            .filter_map(|(node, by)| {
                let before = network.ends(node).find(|end| end.link == by)?;
                Some((node, before.far, by))
            })
            .collect();
        let mut of_link = vec![0.0; network.link_count()];
        let mut through = vec![0.0; network.node_count()];
        let mut onward = vec![0.0; network.node_count()];
        #[expect(clippy::cast_precision_loss, reason = "far fewer drops than 2^52")]
        let each = 1.0 / network.drops.len().max(1) as f64;
        for drop in &network.drops {
            through[drop.foot_at.index()] += each;
        }
        // From the farthest place inwards all that goes through it is known.
        for (node, before, by) in order.iter().rev() {
            let here = through[node.index()];
            of_link[by.index()] += here;
            through[before.index()] += here;
            onward[before.index()] += here;
        }
        Self {
            order,
            of_link,
            onward,
        }
    }

    /// What goes through a link.
    pub(super) fn of_link(&self, link: LinkId) -> f64 {
        self.of_link[link.index()]
    }

    /// What comes to an end at a place to which this share comes.
    pub(super) fn taken_at(&self, node: NodeId, comes: f64) -> f64 {
        (comes - self.onward[node.index()]).max(0.0)
    }
}
