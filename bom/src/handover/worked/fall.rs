//! What is left of a fall when the cooling is taken off, and the leak that this is.

use crate::handover::{ROOM, Reading, cooled, leaked, pascal, record};
use crate::quantity::{AirFlow, Pressure};

/// What the gauge did beyond cooling and warming, against one mark of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fell {
    /// No more than a mark either way: a reading sees no less.
    Stands,
    /// By more than a mark.
    Falls,
    /// It rose by more than a mark, which no shut-in air does.
    Rises,
}

/// A fall worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// What the last reading would be with no leak, if the pipe's temperature was read.
    pub still: Option<Pressure>,
    /// What is left of the fall when the cooling is taken off; below zero it rose.
    pub left: Pressure,
    /// The leak that this is, free air; below zero what came in.
    pub leak: AirFlow,
    /// The leak that one mark of the gauge is: no smaller one is seen.
    pub sees: AirFlow,
    /// What that means.
    pub fell: Fell,
}

/// Works out a fall of so many litres, one mark of the gauge known.
#[must_use]
pub fn fell(litres: f64, read: &record::Tightness, mark: Pressure, atmosphere: f64) -> Fall {
    let temperatures = read.first.pipe.zip(read.last.pipe);
    let (before, after) = temperatures.unwrap_or((ROOM, ROOM));
    let first = Reading {
        gauge: pascal(read.first.gauge),
        temperature: before,
    };
    let last = |gauge: f64| Reading {
        gauge,
        temperature: after,
    };
    let still = cooled(first.gauge, before, after, atmosphere);
    let flow = |last| {
        let flow = leaked(litres, (first, last), read.seconds, atmosphere);
        AirFlow::from_litres_per_second(flow.unwrap_or_default())
    };
    let left = still - pascal(read.last.gauge);
    // What a gauge shows is no finer than this.
    let hair = 1e-6 * pascal(mark);
    Fall {
        still: temperatures.map(|_| Pressure::from_kpa(still / 1_000.0)),
        left: Pressure::from_kpa(left / 1_000.0),
        leak: flow(last(pascal(read.last.gauge))),
        sees: flow(last(still - pascal(mark))),
        fell: if left.abs() <= pascal(mark) + hair {
            Fell::Stands
        } else if left > 0.0 {
            Fell::Falls
        } else {
            Fell::Rises
        },
    }
}
