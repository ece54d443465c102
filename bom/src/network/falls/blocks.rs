//! Which pipes make up which rings.

use crate::network::route::Draft;
use petgraph::graph::EdgeIndex;
use petgraph::visit::{EdgeRef, NodeIndexable};

/// The rings of a draft. Rings that share pipe are one block; those that only
/// touch in a place are two. (petgraph's own search for bridges takes parallel
/// pipes for bridges, so it is done here.)
pub(super) struct Blocks {
    of_edge: Vec<Option<usize>>,
    edges: Vec<Vec<EdgeIndex>>,
}

impl Blocks {
    pub(super) fn of(draft: &Draft) -> Self {
        let mut blocks = Self {
            of_edge: vec![None; draft.edge_count()],
            edges: Vec::new(),
        };
        let mut order = vec![0_usize; draft.node_bound()];
        let mut low = vec![0_usize; draft.node_bound()];
        let mut clock = 0;
        // The pipes that are in no block yet, in the order of the search.
        let mut open: Vec<EdgeIndex> = Vec::new();
        for root in draft.node_indices() {
            if order[root.index()] != 0 {
                continue;
            }
            clock += 1;
            (order[root.index()], low[root.index()]) = (clock, clock);
            let mut stack = vec![(root, None, draft.edges(root))];
            while let Some((here, by, edges)) = stack.last_mut() {
                let here = here.index();
                match edges.next() {
                    Some(edge) if Some(edge.id()) == *by => {}
                    Some(edge) => {
                        let next = edge.target().index();
                        if order[next] == 0 {
                            clock += 1;
                            (order[next], low[next]) = (clock, clock);
                            open.push(edge.id());
                            stack.push((
                                edge.target(),
                                Some(edge.id()),
                                draft.edges(edge.target()),
                            ));
                        } else if order[next] < order[here] {
                            open.push(edge.id());
                            low[here] = low[here].min(order[next]);
                        }
                    }
                    None => {
                        let by = *by;
                        stack.pop();
                        let (Some(by), Some((above, _, _))) = (by, stack.last()) else {
                            continue;
                        };
                        let above = above.index();
                        low[above] = low[above].min(low[here]);
                        if low[here] >= order[above] {
                            let from = open.iter().rposition(|edge| *edge == by);
                            blocks.add(open.split_off(from.unwrap_or(open.len())));
                        }
                    }
                }
            }
        }
        blocks
    }

    /// One pipe alone is no ring.
    fn add(&mut self, mut edges: Vec<EdgeIndex>) {
        if edges.len() < 2 {
            return;
        }
        edges.sort_unstable();
        for edge in &edges {
            self.of_edge[edge.index()] = Some(self.edges.len());
        }
        self.edges.push(edges);
    }

    /// The block of a pipe; none if it is part of no ring.
    pub(super) fn of_edge(&self, edge: EdgeIndex) -> Option<usize> {
        self.of_edge[edge.index()]
    }

    /// The pipes of a block, in walking order.
    pub(super) fn edges(&self, block: usize) -> &[EdgeIndex] {
        &self.edges[block]
    }
}
