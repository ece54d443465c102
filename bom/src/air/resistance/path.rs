//! The way of the air from one pipe into another at a place.

use super::{Resistances, Way};
use crate::fitting::Fitting;
use crate::job::{Angle, Direction};
use crate::quantity::Length;

/// A pipe at a place, as the air meets it.
#[derive(Debug, Clone, Copy)]
pub struct Port {
    /// The direction in which the pipe leaves the place.
    pub direction: Direction,
    /// The bore of the pipe.
    pub bore: Length,
}

impl Resistances {
    /// The loss coefficient of the way from one pipe into another, by the speed
    /// in the latter. None if the fitting has no such way.
    ///
    /// The turn itself is reckoned in the smaller bore, with a sudden step in
    /// the line to the other (TP-410: 0.5 (1 - b²) into the smaller, (1 - b²)²
    /// out of it, b the ratio of the bores). What a bushing does beside this is
    /// in the step.
    #[must_use]
    pub fn through(&self, fitting: &Fitting, from: Port, to: Port) -> Option<f64> {
        let angle = from.direction.angle(to.direction);
        let way = match angle {
            Angle::Opposite => Way::Straight,
            Angle::Square => Way::Square,
            Angle::Bend45 => Way::Bend,
            Angle::Same => Way::Round,
            Angle::Acute => return None,
        };
        let small = from.bore.min(to.bore);
        let turn = match fitting.kind.part {
            None if fitting.is_change() => self.k("coupling", way, small)?,
            // Where nothing or a reducer stands there is only the step.
            None | Some("reducer") if way == Way::Straight => 0.0,
            None => return None,
            Some(part) => self.k(part, way, small)?,
        };
        let ratio = small.mm() / from.bore.max(to.bore).mm();
        let square = ratio * ratio;
        if from.bore > to.bore {
            return Some(turn + 0.5 * (1.0 - square));
        }
        let widening = (1.0 - square) * (1.0 - square);
        Some((turn + widening) / (square * square))
    }
}
