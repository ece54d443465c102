//! The circuit as bridges and cores. A bridge is an edge without which some
//! nodes have no source: its flow is the sum of what they draw. What bridges
//! leave together is a core, a ring at least.

use super::Circuit;

/// Stands for what has not been reached.
const NONE: usize = usize::MAX;

/// Nodes between which no edge is a bridge: most often a single one.
#[derive(Debug)]
pub(in crate::air) struct Core {
    /// Its nodes; the last is the one through which the air comes in.
    pub(in crate::air) nodes: Vec<usize>,
    /// The bridge to it and the node that this comes from.
    pub(in crate::air) bridge: Option<(usize, usize)>,
}

/// What the walk finds.
#[derive(Debug)]
pub(in crate::air) struct Walk {
    /// Every core that air reaches, each after the one that it is fed from.
    pub(in crate::air) cores: Vec<Core>,
    /// The core of each node.
    pub(in crate::air) core_of: Vec<Option<usize>>,
    /// kg/s through each bridge, by its direction; 0 in other edges.
    pub(in crate::air) flows: Vec<f64>,
    /// kg/s that leaves its core at each node: its draw and its bridges.
    pub(in crate::air) loads: Vec<f64>,
    /// The edges at each node and their other ends.
    pub(in crate::air) ends: Ends,
}

/// The edges at each node, in one list.
#[derive(Debug)]
pub(in crate::air) struct Ends {
    starts: Vec<usize>,
    list: Vec<(usize, usize)>,
}

impl Ends {
    fn new(circuit: &Circuit) -> Self {
        let mut starts = vec![0; circuit.nodes + 1];
        for edge in &circuit.edges {
            starts[edge.from + 1] += 1;
            starts[edge.to + 1] += 1;
        }
        for node in 0..circuit.nodes {
            starts[node + 1] += starts[node];
        }
        let mut next = starts.clone();
        let mut list = vec![(NONE, NONE); 2 * circuit.edges.len()];
        for (id, edge) in circuit.edges.iter().enumerate() {
            for (here, there) in [(edge.from, edge.to), (edge.to, edge.from)] {
                list[next[here]] = (id, there);
                next[here] += 1;
            }
        }
        Self { starts, list }
    }

    pub(in crate::air) fn at(&self, node: usize) -> &[(usize, usize)] {
        &self.list[self.starts[node]..self.starts[node + 1]]
    }
}

/// Tarjan's search for bridges, depth first and without recursion, as if all
/// sources hung on one node with the number 0.
struct Search {
    number: Vec<usize>,
    /// The lowest number that a node and what lies below it lead back to.
    low: Vec<usize>,
    /// Ends of a node that have been looked at.
    seen: Vec<usize>,
    /// kg/s that a node and what lies below it draw.
    totals: Vec<f64>,
    /// Reached, but not yet of a core.
    open: Vec<usize>,
    walk: Walk,
}

pub(in crate::air) fn walk(circuit: &Circuit) -> Walk {
    let mut loads = vec![0.0; circuit.nodes];
    for draw in &circuit.draws {
        loads[draw.node] += draw.kg_per_s;
    }
    let mut search = Search {
        number: vec![NONE; circuit.nodes],
        low: vec![NONE; circuit.nodes],
        seen: vec![0; circuit.nodes],
        totals: loads.clone(),
        open: Vec::new(),
        walk: Walk {
            cores: Vec::new(),
            core_of: vec![None; circuit.nodes],
            flows: vec![0.0; circuit.edges.len()],
            loads,
            ends: Ends::new(circuit),
        },
    };
    let mut feeds = vec![false; circuit.nodes];
    for source in &circuit.sources {
        feeds[source.node] = true;
    }
    let mut count = 0;
    for source in &circuit.sources {
        search.from(source.node, circuit, &feeds, &mut count);
    }
    let mut walk = search.walk;
    // A core is complete before the one that feeds it.
    walk.cores.reverse();
    let last = walk.cores.len().saturating_sub(1);
    for core in walk.core_of.iter_mut().flatten() {
        *core = last - *core;
    }
    walk
}

impl Search {
    fn from(&mut self, source: usize, circuit: &Circuit, feeds: &[bool], count: &mut usize) {
        if self.number[source] != NONE {
            return;
        }
        let mut path = vec![(source, None)];
        self.reach(source, count);
        while let Some(&(node, by)) = path.last() {
            if let Some(&(edge, other)) = self.walk.ends.at(node).get(self.seen[node]) {
                self.seen[node] += 1;
                if Some(edge) == by {
                    continue;
                }
                if self.number[other] == NONE {
                    self.reach(other, count);
                    if feeds[other] {
                        self.low[other] = 0;
                    }
                    path.push((other, Some(edge)));
                } else {
                    self.low[node] = self.low[node].min(self.number[other]);
                }
                continue;
            }
            path.pop();
            let above = path.last().map(|(above, _)| *above);
            self.leave(node, by.zip(above), circuit);
        }
    }

    fn reach(&mut self, node: usize, count: &mut usize) {
        *count += 1;
        self.number[node] = *count;
        self.low[node] = *count;
        self.open.push(node);
    }

    /// Everything below a node is known.
    fn leave(&mut self, node: usize, above: Option<(usize, usize)>, circuit: &Circuit) {
        let total = self.totals[node];
        if let Some((edge, above)) = above {
            self.totals[above] += total;
            if self.low[node] < self.number[node] {
                self.low[above] = self.low[above].min(self.low[node]);
                return;
            }
            let along = circuit.edges[edge].to == node;
            self.walk.flows[edge] = if along { total } else { -total };
            self.walk.loads[above] += total;
        }
        let first = self.open.iter().rposition(|one| *one == node).unwrap_or(0);
        let mut nodes = self.open.split_off(first);
        nodes.reverse();
        for one in &nodes {
            self.walk.core_of[*one] = Some(self.walk.cores.len());
        }
        self.walk.cores.push(Core {
            nodes,
            bridge: above,
        });
    }
}
