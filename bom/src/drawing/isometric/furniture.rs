//! What stands beside the drawing: the rose, the key sketch, the legend.

use super::Set;
use super::axes::{Solid, across, along};
use super::marks;
use crate::drawing::{
    Area, At, Board, Entry, Layer, Mark, Shape, Stroke, Symbol, Text, TextSize, symbol,
};
use crate::job::Direction;
use crate::network::NodeId;
use crate::system::Joint;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// The room that a rose takes, across and down.
pub(super) const ROSE: (f64, f64) = (28.0, 24.0);
/// The room of a key sketch at most.
pub(super) const KEY: (f64, f64) = (44.0, 32.0);

/// The directions, round a place.
pub(super) fn rose(middle: At) -> Mark {
    let mut shapes = Vec::new();
    let ways = [
        (Direction::North, "N"),
        (Direction::East, "E"),
        (Direction::South, "S"),
        (Direction::West, "W"),
        (Direction::Up, "Up"),
    ];
    for (way, letter) in ways {
        let step = along(way);
        let length = 6.5;
        let tip = middle.by(step.0 * length, step.1 * length);
        shapes.push(Shape::line(Stroke::NARROW, vec![middle, tip]));
        if way == Direction::North {
            let over = across(step);
            let wing = |sign: f64| {
                tip.by(
                    sign * over.0 * 1.0 - step.0 * 2.4,
                    sign * over.1 * 1.0 - step.1 * 2.4,
                )
            };
            shapes.push(Shape::outline(
                Stroke::NARROW,
                crate::drawing::Fill::Ink,
                vec![tip, wing(1.0), wing(-1.0)],
            ));
        }
        let beyond = length + 2.8;
        let at = middle.by(step.0 * beyond, step.1 * beyond);
        shapes.push(Shape::Text(
            Text::centred(at, TextSize::Small, letter).bold(),
        ));
    }
    Mark::named(Layer::Note, "rose", "Directions", shapes)
}

/// The whole main, small, with this sheet's part of it wide; and the room it takes.
pub(super) fn key(set: &Set<'_>, range: &Range<usize>) -> (Mark, f64, f64) {
    const HEAD: f64 = 5.5;
    let network = &set.scene.plan.network;
    let solid = |place: NodeId| {
        let at = network.node(place).at;
        Solid {
            east: at.east.feet(),
            north: at.north.feet(),
            up: at.up.feet(),
        }
    };
    let mut lines: Vec<(At, At, bool)> = Vec::new();
    for (number, stretch) in set.stretches.iter().enumerate() {
        for link in &stretch.main {
            let [from, to] = network.ends_of(*link);
            let own = range.contains(&number);
            lines.push((solid(from).on_paper(), solid(to).on_paper(), own));
        }
    }
    let ends = || lines.iter().flat_map(|(from, to, _)| [*from, *to]);
    let least = |of: fn(At) -> f64| ends().map(of).fold(f64::INFINITY, f64::min);
    let most = |of: fn(At) -> f64| ends().map(of).fold(f64::NEG_INFINITY, f64::max);
    let (left, top) = (least(|at| at.x), least(|at| at.y));
    let (across, down) = (most(|at| at.x) - left, most(|at| at.y) - top);
    let scale = (KEY.0 / across.max(1e-6)).min(KEY.1 / down.max(1e-6));
    let at = |one: At| At::new((one.x - left) * scale, (one.y - top) * scale);
    lines.sort_by_key(|(_, _, own)| *own);
    let shapes = lines.iter().map(|(from, to, own)| {
        let stroke = if *own { Stroke::HEAVY } else { Stroke::NARROW };
        Shape::line(stroke, vec![at(*from), at(*to)])
    });
    let head = Text::new(At::new(0.0, 2.4), TextSize::Small, "This sheet").bold();
    let wide = (across * scale).max(head.length());
    let mut all = vec![Shape::Text(head)];
    all.extend(shapes.map(|shape| shape.moved(0.5, HEAD)));
    let title = "Which part of the whole this sheet shows";
    let mark = Mark::named(Layer::Note, "key", title, all);
    (mark, wide + 1.0, down * scale + HEAD + 0.5)
}

/// The legend of the signs that a sheet uses.
pub(super) fn entries(
    used: &BTreeSet<String>,
    onwards: bool,
    falls: bool,
    behind: bool,
) -> Vec<Entry> {
    let origin = At::default();
    let level = (1.0, 0.0);
    let line =
        |from: f64, to: f64| Shape::line(Stroke::WIDE, vec![At::new(from, 0.0), At::new(to, 0.0)]);
    let mut entries = Vec::new();
    let joints = [
        (Joint::Threaded, "threaded joint"),
        (Joint::Soldered, "soldered joint"),
        (Joint::Brazed, "brazed joint"),
        (Joint::Pressed, "pressed joint"),
        (Joint::PushFit, "push-fit joint"),
    ];
    for (joint, words) in joints {
        if used.contains(joint.word()) {
            let mut sign = vec![line(-5.0, 5.0)];
            sign.extend(marks::joint(joint, origin, level));
            entries.push(Entry {
                sign,
                words: words.to_owned(),
            });
        }
    }
    // Signs by their words: two of one kind stand once.
    let mut signs: BTreeMap<&str, &String> = BTreeMap::new();
    for name in used {
        if let Some(sign) = symbol(name) {
            signs.entry(&sign.words).or_insert(name);
        }
    }
    for (words, name) in signs {
        if let Some(sign) = symbol(name) {
            let mut shapes = Vec::new();
            if name != "tank" {
                shapes.push(line(-6.5, -sign.back() * SMALLER));
            }
            shapes.extend(fitted(sign));
            entries.push(Entry {
                sign: shapes,
                words: words.to_owned(),
            });
        }
    }
    if onwards {
        let mut sign = vec![line(-6.0, 0.0)];
        sign.extend(marks::match_mark(origin, level));
        entries.push(Entry {
            sign,
            words: "goes on on another sheet".to_owned(),
        });
    }
    if falls && let Some(sign) = symbol("fall") {
        entries.push(Entry {
            sign: fitted(sign),
            words: sign.words.clone(),
        });
    }
    if behind {
        entries.push(Entry {
            sign: vec![
                line(-6.0, -1.7),
                line(1.7, 6.0),
                Shape::line(Stroke::WIDE, vec![At::new(0.0, -2.4), At::new(0.0, 2.4)]),
            ],
            words: "passes behind".to_owned(),
        });
    }
    entries
}

/// Signs of the legend are drawn smaller, so that the tallest fits its row.
const SMALLER: f64 = 0.8;

/// A sign in the middle of its row.
fn fitted(sign: &Symbol) -> Vec<Shape> {
    sign.drawn(At::default(), (SMALLER, 0.0), (0.0, SMALLER))
}

/// A free area of a size, as near to a corner as there is one; the corners to the right
/// first.
pub(super) fn corner(board: &Board, field: &Area, (wide, down): (f64, f64)) -> Option<Area> {
    const STEP: f64 = 4.0;
    let mut best: Option<(f64, Area)> = None;
    let mut left = field.left;
    while left + wide <= field.right {
        let mut top = field.top;
        while top + down <= field.bottom {
            let area = Area::of(At::new(left, top), At::new(left + wide, top + down));
            let (right, bottom) = (field.right - area.right, field.bottom - area.bottom);
            let off = (left - field.left).min(right) + (top - field.top).min(bottom);
            if best.as_ref().is_none_or(|(least, _)| off < *least) && board.is_free(&area) {
                best = Some((off, area));
            }
            top += STEP;
        }
        left += STEP;
    }
    best.map(|(_, area)| area)
}
