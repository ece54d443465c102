//! A bar for each option: material hatched, labour white, the rest in upright
//! lines, each named beneath it.

use crate::output::pdf::fonts::{BODY, SMALL, STRONG};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use pricing::compare::{CompareOption, Comparison};
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
    sheets.gap(9.0);
    for option in &comparison.options {
        sheets.need(BODY.leading + BAR + SMALL.leading + 6.0);
        let (left, right) = (sheets.left(), sheets.right());
        let total = match option.total() {
            Some(total) => format!("{} {}", comparison.currency.code(), total.show()),
            None => "no total".to_owned(),
        };
        sheets.text_to(STRONG, right, &total);
        let room = right - left - sheets.fonts.width(STRONG, &total) - GAP;
        let title = sheets.fonts.shorten(STRONG, &option.title, room);
        sheets.text(STRONG, left, &title);
        sheets.advance(STRONG.leading);
        if option.total().is_some() {
            bar(sheets, option, longest);
        } else {
            let holes = words::compare_holes(option).join("; ");
            let holes = sheets.fonts.shorten(SMALL, &holes, right - left);
            sheets.text(SMALL, left, &holes);
            sheets.advance(SMALL.leading);
        }
        sheets.advance(4.0);
    }
}

fn bar(sheets: &mut Sheets, option: &CompareOption, longest: f64) {
    let Ok(figures) = &option.figures else { return };
    let parts = [
        ("material", figures.materials, Fill::Hatched),
        ("labour", figures.labour, Fill::White),
        ("hire and tax", figures.other, Fill::Upright),
    ];
    let (left, right) = (sheets.left(), sheets.right());
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
    sheets.advance(SMALL.leading);
}

/// Each label under the beginning of its part, as far as the others leave room.
fn name(sheets: &mut Sheets, labels: &[(f32, String)]) {
    let mut places: Vec<(f32, f32)> = Vec::new();
    let mut free = sheets.left();
    for (from, text) in labels {
        let width = sheets.fonts.width(SMALL, text);
        let x = from.max(free);
        places.push((x, width));
        free = x + width + GAP;
    }
    let mut end = sheets.right();
    for ((x, width), (_, text)) in places.iter().zip(labels).rev() {
        let x = x.min(end - width);
        sheets.text(SMALL, x, text);
        end = x - GAP;
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
