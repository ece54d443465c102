//! What one solution leaves for the next.

use super::{Circuit, Edge, Element, Law, Passing, passing};
use crate::quantity::Temperature;

/// The edges of the circuit that was solved last, each at its flow. Ways in which air
/// is drawn are alike but for a few flows: what is left of the last is not worked out
/// again.
#[derive(Debug, Default)]
pub(in crate::air) struct Known {
    temperature: Option<Temperature>,
    edges: Vec<(Element, Passing)>,
}

impl Known {
    /// Makes ready for a circuit.
    pub(super) fn of(&mut self, circuit: &Circuit) {
        if self.temperature.replace(circuit.temperature) != Some(circuit.temperature) {
            self.edges.clear();
        }
        self.edges.truncate(circuit.edges.len());
        for (at, Edge { element, .. }) in circuit.edges.iter().enumerate() {
            if self.edges.get(at).is_none_or(|(last, _)| last != element) {
                let fresh = (*element, passing(element, 0.0, circuit.temperature));
                match self.edges.get_mut(at) {
                    Some(last) => *last = fresh,
                    None => self.edges.push(fresh),
                }
            }
        }
    }

    pub(super) fn at(&mut self, edge: usize, flow: f64) -> Passing {
        let passing = &mut self.edges[edge].1;
        *passing = passing.at(flow);
        *passing
    }

    pub(super) fn law(&self, edge: usize) -> Law {
        self.edges[edge].1.law()
    }
}
