//! What the signs of a detail mean.

use super::super::shape::{Fill, Shape, Stroke};
use super::super::symbol::symbol;
use super::super::{At, Entry};
use super::ink::broken;
use std::collections::BTreeSet;

/// The signs of a drawing for its legend.
pub(super) fn entries(signs: &BTreeSet<&'static str>) -> Vec<(&'static str, Entry)> {
    let wide = |points: Vec<At>| Shape::line(Stroke::WIDE, points);
    let at = At::new;
    let entries = signs.iter().filter_map(|sign_name| {
        let (sign, words) = match *sign_name {
            "fitting" => (
                vec![
                    wide(vec![at(-5.0, 0.0), at(5.0, 0.0)]),
                    wide(vec![at(-2.4, -1.4), at(-2.4, 1.4)]),
                    wide(vec![at(2.4, -1.4), at(2.4, 1.4)]),
                ],
                "fitting, with its ends",
            ),
            "break" => {
                let mut shapes = vec![
                    wide(vec![at(0.0, -2.4), at(0.0, -1.0)]),
                    wide(vec![at(0.0, 1.0), at(0.0, 2.4)]),
                ];
                shapes.extend(broken(At::default()));
                (shapes, "drawn shorter than it is")
            }
            "saddle" => (
                vec![
                    Shape::circle(Stroke::WIDE, Fill::Open, At::new(0.0, 1.2), 1.6),
                    wide(vec![at(-2.2, 1.4), at(0.0, -1.2), at(2.2, 1.4)]),
                ],
                "saddle on the main",
            ),
            "number" => (
                vec![Shape::circle(
                    Stroke::NARROW,
                    Fill::Open,
                    At::default(),
                    2.2,
                )],
                "number in the list",
            ),
            "reducer" => (
                symbol("reducer")?.drawn(At::default(), (1.0, 0.0), (0.0, 1.0)),
                "bushing, reducer, adapter",
            ),
            name => {
                let known = symbol(name)?;
                let shapes = known.drawn(At::new(0.0, 0.4), (0.85, 0.0), (0.0, 0.85));
                (shapes, known.words.as_str())
            }
        };
        let words = words.to_owned();
        Some((*sign_name, Entry { sign, words }))
    });
    entries.collect()
}
