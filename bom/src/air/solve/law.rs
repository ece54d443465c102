//! What an edge loses: the difference of the squared pressures at its ends.

use super::{Element, Pipe};
use crate::air::{GAS, friction, viscosity};
use crate::quantity::Temperature;
use std::f64::consts::{FRAC_PI_4, PI};

/// An edge's figures, ready for use. Isothermal flow of an ideal gas:
/// p1² − p2² = (f L/D + K + 2 ln(p1/p2)) m² R T / A².
#[derive(Debug, Clone, Copy)]
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

    /// The squared pressure behind a flow that comes in at `inlet`; none if it
    /// does not get through.
    pub(super) fn outlet(&self, inlet: f64, flow: f64) -> Option<f64> {
        let lost = self.loss(flow, 0.0).0 / inlet;
        let least = self.least(flow) / inlet;
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
    pub(super) fn inlet(&self, outlet: f64, flow: f64) -> Option<f64> {
        let wanted = 1.0 + self.loss(flow, 0.0).0 / outlet;
        let least = self.least(flow) / outlet;
        (least < 1.0).then(|| outlet * root(least, wanted, wanted))
    }

    /// The most that gets through from a squared pressure, kg/s.
    pub(super) fn most(&self, inlet: f64, beyond: f64) -> f64 {
        let (mut passes, mut fails) = (0.0, beyond.abs());
        for _ in 0..60 {
            let middle = 0.5 * (passes + fails);
            if self.outlet(inlet, middle).is_some() {
                passes = middle;
            } else {
                fails = middle;
            }
        }
        passes
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
    use super::Law;
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

    #[test]
    fn inlet_and_outlet_are_one_law() {
        let inlet = 8e5 * 8e5;
        for flow in [1e-7, 1e-3, 0.02, 0.05] {
            let outlet = pipe().outlet(inlet, flow).unwrap();
            let back = pipe().inlet(outlet, flow).unwrap();
            assert!((back / inlet - 1.0).abs() < 1e-12, "{flow}");
            let loss = pipe().loss(flow, (inlet / outlet).ln()).0;
            assert!(((inlet - outlet) / loss - 1.0).abs() < 1e-6, "{flow}");
        }
    }

    #[test]
    fn too_much_does_not_get_through() {
        let inlet = 8e5 * 8e5;
        let most = pipe().most(inlet, 10.0);
        let outlet = pipe().outlet(inlet, 0.999_999 * most).unwrap();
        assert!(outlet > pipe().least(most) * 0.99);
        assert!(pipe().outlet(inlet, 1.000_001 * most).is_none());
        assert!(pipe().inlet(pipe().least(most) * 0.99, most).is_none());
    }

    #[test]
    fn a_device_loses_the_square() {
        let law = Law::new(&Element::Loss { r: 1e12 }, Temperature::from_celsius(20));
        assert_eq!(law.outlet(4e10, 0.1), Some(3e10));
        assert_eq!(law.outlet(1e10, 0.1), None);
    }
}
