//! How air divides among pipes, and the pressure that is left at each node.
//!
//! A circuit is nodes and edges, sources that hold a pressure and draws of mass;
//! it knows nothing of jobs. Flow is steady and of one temperature. Trees are
//! exact sums of flows; rings, and what lies between several sources, are solved
//! by Newton's method. Same input, same output.

mod failure;
mod known;
mod law;
mod ring;
mod sparse;
mod walk;

pub use failure::{Failure, Unusable};

use crate::air::{GAS, HEAT_RATIO};
use crate::quantity::{Length, Temperature};
pub(in crate::air) use known::Known;
use law::Law;
pub(in crate::air) use law::Passing;
use ring::{Reach, Ring};
use std::f64::consts::FRAC_PI_4;
use walk::{Core, Walk};

pub(in crate::air) use walk::walk;

#[cfg(test)]
mod tests;

/// Pipes and devices between nodes. A shut valve is an edge that is not there.
#[derive(Debug, Clone)]
pub struct Circuit {
    /// How many nodes there are; they are numbered from 0.
    pub nodes: usize,
    /// What joins them. Two nodes may have several edges.
    pub edges: Vec<Edge>,
    /// Where a pressure is held, one for a node.
    pub sources: Vec<Source>,
    /// What leaves at nodes; several at one node add up.
    pub draws: Vec<Draw>,
    /// Of the air, from 100 to 1000 K.
    pub temperature: Temperature,
}

/// What joins two nodes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// The node that its direction leaves.
    pub from: usize,
    /// The node that its direction leads to.
    pub to: usize,
    /// What it is.
    pub element: Element,
}

/// What air goes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Element {
    /// Straight pipe with the fittings on it, or a hose.
    Pipe(Pipe),
    /// A device: p1² − p2² = r m².
    Loss {
        /// Pa²/(kg/s)², from 0 to 1e40.
        r: f64,
    },
}

/// Round pipe, in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pipe {
    /// Inside diameter, from 1e-5 to 100.
    pub bore: f64,
    /// Height of the wall's roughness, up to a tenth of the bore.
    pub roughness: f64,
    /// From 0 to 1e7.
    pub length: f64,
    /// Sum of the loss coefficients of its fittings, from 0 to 1e9.
    pub k: f64,
}

impl Pipe {
    /// Pipe without fittings.
    #[must_use]
    pub fn new(bore: Length, roughness: Length, length: Length) -> Self {
        Self {
            bore: bore.mm() / 1e3,
            roughness: roughness.mm() / 1e3,
            length: length.mm() / 1e3,
            k: 0.0,
        }
    }

    fn area(&self) -> f64 {
        FRAC_PI_4 * self.bore * self.bore
    }
}

/// A node whose pressure is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// Which.
    pub node: usize,
    /// Absolute, Pa, from 1 to 1e9.
    pub pressure: f64,
}

/// Air that leaves at a node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Which.
    pub node: usize,
    /// Mass, up to 1e4. Below zero is air that comes in.
    pub kg_per_s: f64,
}

/// Pressures and flows.
#[derive(Debug, Clone, PartialEq)]
pub struct Solution {
    /// Absolute, Pa, at each node; none where no source reaches, and there
    /// nothing is drawn.
    pub pressures: Vec<Option<f64>>,
    /// kg/s along each edge, below zero against its direction.
    pub flows: Vec<f64>,
    /// The most that a node's flows miss each other by, kg/s.
    pub imbalance: f64,
    /// The most that an edge's pressures miss its law by, Pa.
    pub miss: f64,
    /// Newton steps of the core that took most; 0 for a tree.
    pub steps: usize,
}

impl Solution {
    /// How fast the air leaves a pipe, m/s: nowhere in it is it faster. None
    /// for devices and where there is no air.
    #[must_use]
    pub fn speed(&self, circuit: &Circuit, edge: usize) -> Option<f64> {
        let Edge { from, to, element } = *circuit.edges.get(edge)?;
        let Element::Pipe(pipe) = element else {
            return None;
        };
        let flow = *self.flows.get(edge)?;
        let out = if flow < 0.0 { from } else { to };
        let pressure = (*self.pressures.get(out)?)?;
        Some(flow.abs() * GAS * circuit.temperature.kelvin() / (pressure * pipe.area()))
    }

    /// The same as a part of the speed of sound. Isothermal flow chokes at 0.85.
    #[must_use]
    pub fn mach(&self, circuit: &Circuit, edge: usize) -> Option<f64> {
        let sound = (HEAT_RATIO * GAS * circuit.temperature.kelvin()).sqrt();
        self.speed(circuit, edge).map(|speed| speed / sound)
    }
}

/// The pressure behind one element, absolute, Pa; none if the air does not get
/// through it.
#[must_use]
pub fn behind(
    element: &Element,
    inlet: f64,
    kg_per_s: f64,
    temperature: Temperature,
) -> Option<f64> {
    passing(element, kg_per_s, temperature).behind(inlet)
}

/// One element at a flow.
pub(in crate::air) fn passing(
    element: &Element,
    kg_per_s: f64,
    temperature: Temperature,
) -> Passing {
    Passing::new(Law::new(element, temperature), kg_per_s)
}

/// What a flow loses of squared pressure in an element beside what it takes to speed
/// up, Pa²: no less is lost at any pressure.
pub(in crate::air) fn least_loss(
    element: &Element,
    kg_per_s: f64,
    temperature: Temperature,
) -> f64 {
    Law::new(element, temperature).loss(kg_per_s, 0.0).0
}

/// Solves a circuit.
///
/// # Errors
/// Figures that are out of range; draws without a source; air that does not get
/// through.
pub fn solve(circuit: &Circuit) -> Result<Solution, Failure> {
    solve_like(circuit, &mut Known::default())
}

/// Solves a circuit that is much like the last.
pub(in crate::air) fn solve_like(
    circuit: &Circuit,
    known: &mut Known,
) -> Result<Solution, Failure> {
    failure::check(circuit)?;
    let walk = walk(circuit);
    let isolated: Vec<usize> = (0..circuit.nodes)
        .filter(|node| walk.core_of[*node].is_none() && walk.loads[*node].abs() > 0.0)
        .collect();
    if !isolated.is_empty() {
        return Err(Failure::Isolated { nodes: isolated });
    }
    known.of(circuit);
    let mut solver = Solver {
        circuit,
        known,
        squares: vec![None; circuit.nodes],
        flows: walk.flows.clone(),
        places: vec![0; circuit.nodes],
        steps: 0,
    };
    for source in &circuit.sources {
        solver.squares[source.node] = Some(source.pressure * source.pressure);
    }
    for (number, core) in walk.cores.iter().enumerate() {
        solver.enter(core)?;
        if core.nodes.len() > 1 {
            solver.settle(number, core, &walk)?;
        }
    }
    Ok(solver.solution())
}

struct Solver<'a> {
    circuit: &'a Circuit,
    known: &'a mut Known,
    /// Squared pressures, where they are known already.
    squares: Vec<Option<f64>>,
    flows: Vec<f64>,
    /// Place of each node in the core at hand.
    places: Vec<usize>,
    steps: usize,
}

impl Solver<'_> {
    /// Goes over the bridge to a core.
    fn enter(&mut self, core: &Core) -> Result<(), Failure> {
        let (Some((edge, above)), Some(node)) = (core.bridge, core.nodes.last()) else {
            return Ok(());
        };
        let Some(square) = self.squares[above] else {
            return Ok(());
        };
        let along = self.circuit.edges[edge].from == above;
        let outward = if along {
            self.flows[edge]
        } else {
            -self.flows[edge]
        };
        let passing = self.known.at(edge, outward);
        let reached = if outward < 0.0 {
            passing.inlet(square)
        } else {
            passing.outlet(square)
        };
        // What does not come in is choked at the near end, whatever drives it.
        let square = reached.ok_or_else(|| self.choked(edge, square, self.flows[edge]))?;
        self.squares[*node] = Some(square);
        Ok(())
    }

    fn settle(&mut self, number: usize, core: &Core, walk: &Walk) -> Result<(), Failure> {
        for (place, node) in core.nodes.iter().enumerate() {
            self.places[*node] = place;
        }
        let mut ids = Vec::new();
        for node in &core.nodes {
            ids.extend(walk.ends.at(*node).iter().filter_map(|(id, other)| {
                let edge = &self.circuit.edges[*id];
                (edge.from == *node && walk.core_of[*other] == Some(number)).then_some(*id)
            }));
        }
        let reach = |id: &usize| Reach {
            from: self.places[self.circuit.edges[*id].from],
            to: self.places[self.circuit.edges[*id].to],
            law: self.known.law(*id),
        };
        let ring = Ring {
            loads: core.nodes.iter().map(|node| walk.loads[*node]).collect(),
            known: core
                .nodes
                .iter()
                .map(|node| self.squares[*node].unwrap_or(0.0))
                .collect(),
            edges: ids.iter().map(reach).collect(),
        };
        let unsettled = Failure::Unsettled {
            node: core.nodes[0],
        };
        let Some(settled) = ring.solve() else {
            return Err(unsettled);
        };
        let mut choked: Option<(f64, usize, f64)> = None;
        for ((id, edge), flow) in ids.iter().zip(&ring.edges).zip(&settled.flows) {
            let (first, last) = if *flow < 0.0 {
                (edge.to, edge.from)
            } else {
                (edge.from, edge.to)
            };
            let (inlet, outlet) = (settled.squares[first], settled.squares[last]);
            let passes = outlet > 0.0 && outlet > edge.law.least(*flow);
            if !passes && choked.is_none_or(|(worst, ..)| inlet > worst) {
                choked = Some((inlet, *id, *flow));
            }
        }
        if let Some((inlet, edge, flow)) = choked {
            return Err(self.choked(edge, inlet.max(0.0), flow));
        }
        if !settled.settled {
            return Err(unsettled);
        }
        for (id, flow) in ids.iter().zip(settled.flows) {
            self.flows[*id] = flow;
        }
        for (node, square) in core.nodes.iter().zip(settled.squares) {
            self.squares[*node].get_or_insert(square);
        }
        self.steps = self.steps.max(settled.steps);
        Ok(())
    }

    fn choked(&self, edge: usize, inlet: f64, flow: f64) -> Failure {
        Failure::Choked {
            edge,
            kg_per_s: flow,
            most_kg_per_s: self.known.law(edge).most(inlet, flow),
            inlet: inlet.sqrt(),
        }
    }

    fn solution(self) -> Solution {
        let mut missing = vec![0.0; self.circuit.nodes];
        for draw in &self.circuit.draws {
            missing[draw.node] -= draw.kg_per_s;
        }
        let mut miss = 0.0_f64;
        for (id, (edge, flow)) in self.circuit.edges.iter().zip(&self.flows).enumerate() {
            missing[edge.from] -= flow;
            missing[edge.to] += flow;
            if let (Some(from), Some(to)) = (self.squares[edge.from], self.squares[edge.to]) {
                let loss = self.known.at(id, *flow).loss((from / to).ln().abs());
                let loss = loss.copysign(*flow);
                miss = miss.max((from - to - loss).abs() / (from.sqrt() + to.sqrt()));
            }
        }
        for source in &self.circuit.sources {
            missing[source.node] = 0.0;
        }
        Solution {
            pressures: self
                .squares
                .iter()
                .map(|square| square.map(f64::sqrt))
                .collect(),
            flows: self.flows,
            imbalance: missing.into_iter().fold(0.0, |most, m| most.max(m.abs())),
            miss,
            steps: self.steps,
        }
    }
}
