//! Standard scales, and the bar that shows one.

use super::super::shape::{Area, At, Fill, Shape, Stroke};
use super::super::text::{Anchor, Text, TextSize};
use crate::quantity::{Length, Units};

/// A scale of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Scale {
    /// As it is written on the sheet: `1/8 in = 1 ft (1:96)`.
    pub(super) words: String,
    /// One millimetre of paper is so many of the shop.
    pub(super) per: f64,
}

/// Architects' and engineers' scales in feet: what stands for what.
const FEET: [(&str, f64); 20] = [
    ("1/2 in = 1 ft", 24.0),
    ("3/8 in = 1 ft", 32.0),
    ("1/4 in = 1 ft", 48.0),
    ("3/16 in = 1 ft", 64.0),
    ("1/8 in = 1 ft", 96.0),
    ("3/32 in = 1 ft", 128.0),
    ("1/16 in = 1 ft", 192.0),
    ("1 in = 20 ft", 240.0),
    ("1 in = 30 ft", 360.0),
    ("1/32 in = 1 ft", 384.0),
    ("1 in = 40 ft", 480.0),
    ("1 in = 50 ft", 600.0),
    ("1 in = 100 ft", 1_200.0),
    ("1 in = 200 ft", 2_400.0),
    ("1 in = 500 ft", 6_000.0),
    ("1 in = 1000 ft", 12_000.0),
    ("1 in = 2000 ft", 24_000.0),
    ("1 in = 5000 ft", 60_000.0),
    ("1 in = 20 000 ft", 240_000.0),
    ("1 in = 200 000 ft", 2_400_000.0),
];

/// Scales of technical drawings (ISO 5455, from memory) and the ones between them
/// that builders use (common practice, no source).
const METRIC: [f64; 17] = [
    20.0,
    25.0,
    50.0,
    75.0,
    100.0,
    150.0,
    200.0,
    250.0,
    500.0,
    1_000.0,
    2_000.0,
    5_000.0,
    10_000.0,
    20_000.0,
    50_000.0,
    200_000.0,
    2_000_000.0,
];

/// The standard scales, largest first.
pub(super) fn scales(units: Units) -> Vec<Scale> {
    match units {
        Units::Feet => FEET
            .iter()
            .map(|(words, per)| Scale {
                words: format!("{words} (1:{per})"),
                per: *per,
            })
            .collect(),
        Units::Metric => METRIC
            .iter()
            .map(|per| Scale {
                words: format!("1:{per}"),
                per: *per,
            })
            .collect(),
    }
}

/// How high the bar itself is.
const THICK: f64 = 1.4;

/// A bar of two steps below a place, of one where there is no `room` for two; and how
/// wide it is.
pub(super) fn bar(scale: &Scale, units: Units, at: At, room: f64) -> (Vec<Shape>, f64) {
    let (unit, word) = match units {
        Units::Feet => (Length::from_feet(1), "ft"),
        Units::Metric => (Length::from_mm(1_000), "m"),
    };
    let mut steps = (0..9_u32).flat_map(|power| [1, 2, 5].map(|one| one * 10_i64.pow(power)));
    let step = steps
        .find(|step| unit.times(*step).mm() / scale.per >= 9.0)
        .unwrap_or(1);
    let long = unit.times(step).mm() / scale.per;
    let halves: u8 = if 2.0 * long <= room { 2 } else { 1 };
    let mut shapes = Vec::new();
    for (number, fill) in (0..halves).zip([Fill::Ink, Fill::Paper]) {
        let left = at.by(long * f64::from(number), 0.0);
        let area = Area::of(left, left.by(long, THICK));
        shapes.push(Shape::rectangle(Stroke::NARROW, fill, area));
    }
    let baseline = at.by(0.0, THICK + 0.9 + 0.76 * TextSize::Small.mm());
    for number in 0..=halves {
        let figure = i64::from(number) * step;
        let words = if number == halves {
            format!("{figure} {word}")
        } else {
            figure.to_string()
        };
        let end = baseline.by(f64::from(number) * long, 0.0);
        let text = Text::new(end, TextSize::Small, words);
        shapes.push(Shape::Text(text.anchored(Anchor::Middle)));
    }
    (shapes, f64::from(halves) * long)
}
