//! What pipe of a size loses at least, from a table: rings of mixed sizes ask for it by
//! the million.

use crate::air::ladder::piping::PIPE_TEMPERATURE;
use crate::air::solve::{Element, Pipe, least_loss};

/// Flows in a table. In the upper half what it says is at most 0.4 % too little.
const FLOWS: u32 = 512;

/// Pipe of a size.
#[derive(Debug, Clone)]
pub(super) struct Curve {
    /// From flow to flow, kg/s.
    step: f64,
    /// The loss of a metre at each flow, divided by it, Pa²/(kg/s).
    per_metre: Vec<f64>,
    /// The loss of a coefficient of 1 at 1 kg/s, Pa².
    per_k: f64,
}

impl Curve {
    /// Pipe of a bore and roughness for flows up to `most` kg/s; its length and
    /// fittings do not count.
    pub(super) fn of(pipe: Pipe, most: f64) -> Self {
        let metre = Element::Pipe(Pipe {
            length: 1.0,
            k: 0.0,
            ..pipe
        });
        let fitting = Element::Pipe(Pipe {
            length: 0.0,
            k: 1.0,
            ..pipe
        });
        let step = most.max(f64::MIN_POSITIVE) / f64::from(FLOWS);
        let per_metre = (0..=FLOWS).map(|at| match at {
            0 => 0.0,
            _ => {
                let flow = step * f64::from(at);
                least_loss(&metre, flow, PIPE_TEMPERATURE) / flow
            }
        });
        Self {
            step,
            per_metre: per_metre.collect(),
            per_k: least_loss(&fitting, 1.0, PIPE_TEMPERATURE),
        }
    }

    /// What metres of it and fittings of this coefficient lose at least, Pa². Friction
    /// divided by the flow never falls as the flow grows, laminar or not: what it is at
    /// a smaller flow is no more.
    pub(super) fn loss(&self, metres: f64, k: f64, kg_per_s: f64) -> f64 {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a place in the table is a whole number from 0 up, and no larger than its end"
        )]
        let at = (kg_per_s / self.step).clamp(0.0, f64::from(FLOWS)) as usize;
        let friction = self.per_metre.get(at).copied().unwrap_or(0.0);
        (metres * friction + k * self.per_k * kg_per_s) * kg_per_s
    }
}
