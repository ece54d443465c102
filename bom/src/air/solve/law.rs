//! What an edge loses: the difference of the squared pressures at its ends.

use super::{Element, Pipe};
use crate::air::{GAS, friction, viscosity};
use crate::quantity::Temperature;
use std::f64::consts::{FRAC_PI_4, PI};

/// An edge's figures, ready for use. Isothermal flow of an ideal gas:
/// p1² − p2² = (f L/D + K + 2 ln(p1/p2)) m² R T / A².
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Law {
    /// R T / A², Pa²/(kg/s)²: what the gas needs to speed up; none in a device.
    inertia: f64,
    /// The loss that goes with the square of the flow, Pa²/(kg/s)².
    square: f64,
    /// What makes Pa² of the friction factor times the square of Re.
    friction: f64,
    /// The Reynolds number of 1 kg/s.
    reynolds: f64,
    relative_roughness: f64,
}

impl Law {
    pub(super) fn new(element: &Element, temperature: Temperature) -> Self {
        match *element {
            Element::Loss { r } => Self {
                inertia: 0.0,
                square: r,
                friction: 0.0,
                reynolds: 0.0,
                relative_roughness: 0.0,
            },
            Element::Pipe(pipe) => Self::of_pipe(&pipe, temperature),
        }
    }

    fn of_pipe(pipe: &Pipe, temperature: Temperature) -> Self {
        let area = FRAC_PI_4 * pipe.bore * pipe.bore;
        let inertia = GAS * temperature.kelvin() / (area * area);
        let reynolds = 4.0 / (PI * pipe.bore * viscosity(temperature));
        Self {
            inertia,
            square: inertia * pipe.k,
            friction: inertia * pipe.length / pipe.bore / (reynolds * reynolds),
            reynolds,
            relative_roughness: pipe.roughness / pipe.bore,
        }
    }

    /// The loss of a flow without its sign, Pa², and how fast it grows. `log` is
    /// ln(p1²/p2²), no less than 0.
    pub(super) fn loss(&self, flow: f64, log: f64) -> (f64, f64) {
        let flow = flow.abs();
        let square = self.square + self.inertia * log;
        let (loss, slope) = (square * flow * flow, 2.0 * square * flow);
        if self.friction <= 0.0 {
            return (loss, slope);
        }
        let (rubbed, steeper) = friction::squared(self.reynolds * flow, self.relative_roughness);
        (
            loss + self.friction * rubbed,
            slope + self.friction * self.reynolds * steeper,
        )
    }

    /// The squared pressure at which this flow would run at the speed of
    /// isothermal choking: no less can stand at the outlet.
    pub(super) fn least(&self, flow: f64) -> f64 {
        self.inertia * flow * flow
    }

    /// The most that gets through from a squared pressure, kg/s.
    pub(super) fn most(&self, inlet: f64, beyond: f64) -> f64 {
        let (mut passes, mut fails) = (0.0, beyond.abs());
        for _ in 0..60 {
            let middle = 0.5 * (passes + fails);
            if Passing::new(*self, middle).outlet(inlet).is_some() {
                passes = middle;
            } else {
                fails = middle;
            }
        }
        passes
    }
}

/// A law at one flow: all that does not depend on the pressure is worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::air) struct Passing {
    law: Law,
    /// kg/s, without its sign.
    flow: f64,
    /// What is lost by friction, Pa².
    rubbed: f64,
}

impl Passing {
    pub(super) fn new(law: Law, flow: f64) -> Self {
        let flow = flow.abs();
        let rubbed = match law.friction <= 0.0 {
            true => 0.0,
            false => {
                law.friction * friction::squared(law.reynolds * flow, law.relative_roughness).0
            }
        };
        Self { law, flow, rubbed }
    }

    pub(super) const fn law(&self) -> Law {
        self.law
    }

    /// The same law at this flow.
    pub(super) fn at(&self, flow: f64) -> Self {
        match self.flow.total_cmp(&flow.abs()).is_eq() {
            true => *self,
            false => Self::new(self.law, flow),
        }
    }

    /// What is lost, Pa². `log` is ln(p1²/p2²), no less than 0.
    pub(super) fn loss(&self, log: f64) -> f64 {
        let square = self.law.square + self.law.inertia * log;
        square * self.flow * self.flow + self.rubbed
    }

    /// The pressure behind an inlet pressure, absolute, Pa; none if the air does not
    /// get through.
    pub(in crate::air) fn behind(&self, inlet: f64) -> Option<f64> {
        self.outlet(inlet * inlet).map(f64::sqrt)
    }

    /// The squared pressure behind a flow that comes in at `inlet`; none if it
    /// does not get through.
    pub(super) fn outlet(&self, inlet: f64) -> Option<f64> {
        let lost = self.loss(0.0) / inlet;
        let least = self.law.least(self.flow) / inlet;
        if least <= 0.0 {
            return (lost < 1.0).then_some(inlet * (1.0 - lost));
        }
        let wanted = 1.0 - lost;
        if least >= 1.0 || wanted <= least - least * least.ln() {
            return None;
        }
        let ratio = root(least, wanted, 1.0);
        (ratio > least).then_some(inlet * ratio)
    }

    /// The squared pressure that drives a flow out at `outlet`; none if it
    /// would be choked there.
    pub(super) fn inlet(&self, outlet: f64) -> Option<f64> {
        let wanted = 1.0 + self.loss(0.0) / outlet;
        let least = self.law.least(self.flow) / outlet;
        (least < 1.0).then(|| outlet * root(least, wanted, wanted))
    }
}

/// Solves z − c ln z = wanted for the larger z, by Newton's method. The left
/// side is convex and grows there, so no step after the first falls short.
fn root(c: f64, wanted: f64, start: f64) -> f64 {
    const MOST_STEPS: usize = 100;
    let mut z = start;
    for _ in 0..MOST_STEPS {
        let step = (z - c * z.ln() - wanted) / (1.0 - c / z);
        if step.is_nan() {
            break;
        }
        z -= step;
        if step.abs() <= 1e-15 * z {
            break;
        }
    }
    z
}

#[cfg(test)]
mod tests {
    use super::{Law, Passing};
    use crate::air::solve::{Element, Pipe};
    use crate::quantity::Temperature;

    fn pipe() -> Law {
        let pipe = Pipe {
            bore: 0.02,
            roughness: 4.57e-5,
            length: 30.0,
            k: 5.0,
        };
        Law::new(&Element::Pipe(pipe), Temperature::from_celsius(20))
    }

    fn at(flow: f64) -> Passing {
        Passing::new(pipe(), flow)
    }

    #[test]
    fn inlet_and_outlet_are_one_law() {
        let inlet = 8e5 * 8e5;
        for flow in [1e-7, 1e-3, 0.02, 0.05] {
            let outlet = at(flow).outlet(inlet).unwrap();
            let back = at(flow).inlet(outlet).unwrap();
            assert!((back / inlet - 1.0).abs() < 1e-12, "{flow}");
            let loss = pipe().loss(flow, (inlet / outlet).ln()).0;
            assert!(((inlet - outlet) / loss - 1.0).abs() < 1e-6, "{flow}");
        }
    }

    #[test]
    fn too_much_does_not_get_through() {
        let inlet = 8e5 * 8e5;
        let most = pipe().most(inlet, 10.0);
        let outlet = at(0.999_999 * most).outlet(inlet).unwrap();
        assert!(outlet > pipe().least(most) * 0.99);
        assert!(at(1.000_001 * most).outlet(inlet).is_none());
        assert!(at(most).inlet(pipe().least(most) * 0.99).is_none());
    }

    #[test]
    fn a_device_loses_the_square() {
        let law = Law::new(&Element::Loss { r: 1e12 }, Temperature::from_celsius(20));
        let passing = Passing::new(law, 0.1);
        assert_eq!(passing.outlet(4e10), Some(3e10));
        assert_eq!(passing.outlet(1e10), None);
    }
}
