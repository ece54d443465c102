//! One piece of the main from the side: the pipe above, and below it a column for
//! each place with its name, distance and height.

mod chart;
mod columns;
mod limits;

use super::bands::Bands;
use super::profile::{Run, Side, length};
use crate::drawing::page::Block;
use crate::drawing::shape::{At, Shape};
use crate::drawing::{Entry, Mark, symbol};
use crate::quantity::Length;
use crate::water::Place;
use limits::spans;

/// From the edge to where the pipe begins: heads and heights.
pub(super) const LEFT: f64 = 25.0;
/// Between two columns, and where numbers of outlets have three digits.
pub(super) const APART: f64 = 5.6;
pub(super) const FAR_APART: f64 = 6.8;
/// The most that heights take, breaks aside.
const HIGH: f64 = 24.0;
/// A name is cut off where it gets longer.
const NAME: f64 = 30.0;

pub(super) fn panel(side: &Side<'_>, run: &Run<'_>) -> Block {
    let places = run.places;
    let long = length(run).max(1.0);
    let need = places.iter().skip(1).map(|_| side.apart).sum::<f64>();
    let most = side.across - LEFT - 6.0;
    let scale = side.scale.max(need / long).min(most / long);
    let mut panel = Panel {
        side,
        run,
        scale,
        bands: Bands::of(spans(side, run), scale, HIGH),
        top: 14.0,
        right: LEFT + (long * scale).max(need.min(most)),
        marks: Vec::new(),
        entries: Vec::new(),
    };
    panel.chart();
    panel.columns()
}

struct Panel<'a> {
    side: &'a Side<'a>,
    run: &'a Run<'a>,
    scale: f64,
    bands: Bands,
    /// The upper edge of the chart.
    top: f64,
    right: f64,
    marks: Vec<Mark>,
    entries: Vec<Entry>,
}

impl Panel<'_> {
    fn x(&self, along: Length) -> f64 {
        let start = self
            .run
            .places
            .first()
            .map_or(Length::ZERO, |first| first.along);
        LEFT + (along - start).mm() * self.scale
    }

    fn y(&self, height: Length) -> f64 {
        self.top + self.bands.total() - self.bands.above(height.mm())
    }

    fn floor(&self) -> f64 {
        self.top + self.bands.total()
    }

    fn at(&self, place: &Place) -> At {
        At::new(self.x(place.along), self.y(place.height))
    }

    fn sign(&mut self, name: &str, at: At, along: (f64, f64), across: (f64, f64)) -> Vec<Shape> {
        let Some(sign) = symbol(name) else {
            return Vec::new();
        };
        self.means(
            &sign.words,
            sign.drawn(At::default(), (1.0, 0.0), (0.0, 1.0)),
        );
        sign.drawn(at, along, across)
    }

    fn means(&mut self, words: &str, sign: Vec<Shape>) {
        if self.entries.iter().all(|entry| entry.words != words) {
            let words = words.to_owned();
            self.entries.push(Entry { sign, words });
        }
    }
}
