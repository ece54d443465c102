//! Why a circuit has no solution.

use super::{Circuit, Element};
use std::fmt;
use std::ops::RangeInclusive;

/// Why a circuit has no solution.
#[derive(Debug, Clone, PartialEq)]
pub enum Failure {
    /// A figure is out of its range, or a node is not there.
    Unusable(Unusable),
    /// No source reaches these nodes, and something is drawn there.
    Isolated {
        /// Which, in ascending order.
        nodes: Vec<usize>,
    },
    /// The air does not get through an edge: its pressure would fall to
    /// nothing, or it would have to run faster than isothermal flow can.
    Choked {
        /// The first edge along the flow where it happens.
        edge: usize,
        /// What would have to go through it, by its direction.
        kg_per_s: f64,
        /// The most that would, from the pressure at its inlet.
        most_kg_per_s: f64,
        /// The absolute pressure there, Pa; where air is driven in behind the
        /// edge, that at its outlet.
        inlet: f64,
    },
    /// The steps came to no end: resistances in one ring differ by more than
    /// about 1e12, which no shop's pipe does.
    Unsettled {
        /// A node of the rings in question.
        node: usize,
    },
}

/// What cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unusable {
    /// An edge: its nodes or its figures.
    Edge(usize),
    /// A source: its node, its pressure, or a second one at its node.
    Source(usize),
    /// A draw: its node or its flow.
    Draw(usize),
    /// The temperature.
    Temperature,
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unusable(what) => write!(f, "{what:?} is out of range"),
            Self::Isolated { nodes } => write!(f, "{} nodes draw and have no source", nodes.len()),
            Self::Choked {
                edge,
                kg_per_s,
                most_kg_per_s,
                ..
            } => write!(
                f,
                "edge {edge} would have to carry {kg_per_s:.4} kg/s and carries {most_kg_per_s:.4}"
            ),
            Self::Unsettled { node } => write!(f, "the rings at node {node} do not settle"),
        }
    }
}

impl std::error::Error for Failure {}

/// Everything is within the ranges that the fields state.
pub(super) fn check(circuit: &Circuit) -> Result<(), Failure> {
    let node = |node: usize| node < circuit.nodes;
    let within = |value: f64, range: RangeInclusive<f64>| range.contains(&value);
    let unusable = |what| Err(Failure::Unusable(what));
    if !within(circuit.temperature.kelvin(), 100.0..=1_000.0) {
        return unusable(Unusable::Temperature);
    }
    for (number, edge) in circuit.edges.iter().enumerate() {
        let figures = match edge.element {
            Element::Loss { r } => within(r, 0.0..=1e40),
            Element::Pipe(pipe) => {
                within(pipe.bore, 1e-5..=100.0)
                    && within(pipe.roughness, 0.0..=pipe.bore / 10.0)
                    && within(pipe.length, 0.0..=1e7)
                    && within(pipe.k, 0.0..=1e9)
            }
        };
        if !(figures && node(edge.from) && node(edge.to) && edge.from != edge.to) {
            return unusable(Unusable::Edge(number));
        }
    }
    let mut held = vec![false; circuit.nodes];
    for (number, source) in circuit.sources.iter().enumerate() {
        let figures = within(source.pressure, 1.0..=1e9);
        if !(figures && node(source.node)) || held[source.node] {
            return unusable(Unusable::Source(number));
        }
        held[source.node] = true;
    }
    for (number, draw) in circuit.draws.iter().enumerate() {
        if !(within(draw.kg_per_s, -1e4..=1e4) && node(draw.node)) {
            return unusable(Unusable::Draw(number));
        }
    }
    Ok(())
}
