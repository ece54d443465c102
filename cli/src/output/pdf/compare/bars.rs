//! A bar for each option: material hatched, labour white, the rest in upright
//! lines, each named beneath it.

use super::LABELS;
use crate::output::pdf::fonts::{SMALL, STRONG};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::compare::{CompareOption, Comparison, Figures};
use pricing::money::Money;

/// How tall a bar is.
const BAR: f32 = 11.0;
/// Between two labels.
const GAP: f32 = 9.0;
/// Between the upright lines of a part.
const STEP: f32 = 2.5;

/// How a part of a bar is filled.
#[derive(Clone, Copy)]
enum Fill {
    Hatched,
    White,
    Upright,
}

pub(super) fn draw(sheets: &mut Sheets, comparison: &Comparison) {
    let options = comparison.options.iter();
    let totals = options.filter_map(CompareOption::total).map(amount);
    let longest = totals.fold(0.0, f64::max);
    if longest <= 0.0 {
        return;
    }
    sheets.gap(11.0);
    for option in &comparison.options {
        sheets.need(STRONG.leading + SMALL.leading + 6.0);
        let left = sheets.left();
        let inner = left + LABELS;
        let top = sheets.down();
        let total = match option.total() {
            Some(total) => format!("{} {}", comparison.currency.code(), total.show()),
            None => "no total".to_owned(),
        };
        let room = inner - left - GAP;
        let name = sheets.fonts.shorten(STRONG, &option.system, room);
        sheets.text(STRONG, left, &name);
        sheets.advance(STRONG.leading);
        sheets.text(SMALL, left, &total);
        sheets.go_to(top);
        match &option.figures {
            Ok(figures) if figures.total.is_some() => bar(sheets, figures, longest),
            _ => {
                let holes = words::compare_holes(option);
                let first = holes.first().map_or("", String::as_str);
                let room = sheets.right() - inner;
                let line = sheets.fonts.shorten(SMALL, first, room);
                sheets.text(SMALL, inner, &line);
            }
        }
        sheets.go_to(top + STRONG.leading + SMALL.leading + 5.0);
    }
}

fn bar(sheets: &mut Sheets, figures: &Figures, longest: f64) {
    let parts = [
        ("material", figures.materials, Fill::Hatched),
        ("labour", figures.labour, Fill::White),
        ("other costs and tax", figures.other, Fill::Upright),
    ];
    let (left, right) = (sheets.left() + LABELS, sheets.right());
    let (top, mut from) = (sheets.down(), left);
    let mut labels = Vec::new();
    for (words, sum, fill) in parts {
        let Some(sum) = sum.filter(|sum| amount(*sum) > 0.0) else {
            continue;
        };
        let to = from + share(amount(sum), longest) * (right - left);
        sheets.upright(from, BAR);
        match fill {
            Fill::Hatched => sheets.hatch(from, to, BAR),
            Fill::White => {}
            Fill::Upright => {
                let mut x = from + STEP;
                while x < to {
                    sheets.upright(x, BAR);
                    x += STEP;
                }
            }
        }
        labels.push((from, format!("{words} {}", sum.show())));
        from = to;
    }
    sheets.upright(from, BAR);
    sheets.rule(left, from);
    sheets.advance(BAR);
    sheets.rule(left, from);
    sheets.go_to(top + BAR + 1.0);
    name(sheets, &labels);
}

/// Each label under the beginning of its part, as far as the others leave room.
fn name(sheets: &mut Sheets, labels: &[(f32, String)]) {
    let mut places: Vec<(f32, f32)> = Vec::new();
    let mut free = sheets.left() + LABELS;
    for (from, text) in labels {
        let width = sheets.fonts.width(SMALL, text);
        let x = from.max(free);
        places.push((x, width));
        free = x + width + GAP;
    }
    let mut end = sheets.right();
    for (x, width) in places.iter_mut().rev() {
        *x = x.min(end - *width);
        end = *x - GAP;
    }
    for ((x, _), (_, text)) in places.iter().zip(labels) {
        sheets.text(SMALL, *x, text);
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "a length on paper; a cent more or less of 2^53 does not show"
)]
fn amount(sum: Money) -> f64 {
    sum.minor_units().unwrap_or(0) as f64
}

#[expect(clippy::cast_possible_truncation, reason = "a place on paper")]
fn share(part: f64, whole: f64) -> f32 {
    (part / whole) as f32
}
