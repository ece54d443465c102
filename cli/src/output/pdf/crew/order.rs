//! The order of work: a box for what is built, and one for what is soaped.

use super::CrewSet;
use crate::output::pdf::blocks;
use crate::output::pdf::fonts::{BODY, SMALL, STRONG, Style};
use crate::output::pdf::page::Sheets;
use crate::output::words;
use bom::assembly::{Group, Step};
use bom::quantity::Units;

/// The side of a box.
const BOX: f32 = 9.0;
/// From the left margin to the numbers' right edge.
const NUMBER: f32 = 32.0;
/// From there to the words.
const WORDS: f32 = 40.0;
/// What the box for soap takes at the right margin.
const SOAP: f32 = 62.0;
/// Between two steps.
const GAP: f32 = 7.0;

pub(super) fn draw(sheets: &mut Sheets, set: &CrewSet<'_>) {
    blocks::name(sheets, "Order of work", &set.summary.title);
    sheets.advance(6.0);
    let left = sheets.left();
    sheets.paragraph(
        SMALL,
        left,
        "Tick the left box when a step is built, the right one when its joints have been soaped under pressure and none leaks.",
    );
    for group in &set.assembly.groups {
        stage(sheets, group, set.summary.units);
    }
}

fn stage(sheets: &mut Sheets, group: &Group, units: Units) {
    let left = sheets.left();
    let mut steps = group.steps.iter();
    // A heading stays with the notes and the first step under it.
    let first = steps.next();
    sheets.together(|sheets| {
        blocks::heading(sheets, group.stage.title());
        for note in &group.notes {
            sheets.paragraph(SMALL, left, note);
        }
        if let Some(first) = first {
            step(sheets, first, units);
        }
    });
    for one in steps {
        sheets.together(|sheets| step(sheets, one, units));
    }
}

fn step(sheets: &mut Sheets, step: &Step, units: Units) {
    sheets.gap(GAP);
    let (left, right) = (sheets.left(), sheets.right());
    let (x, end) = (left + WORDS, right - SOAP);
    sheets.need(2.0 * STRONG.leading);
    sheets.advance(1.5);
    sheets.tick_box(left, BOX);
    if let Some(joints) = words::step_joints(step) {
        sheets.tick_box(right - BOX, BOX);
        sheets.advance(-0.5);
        sheets.text_to(SMALL, right - BOX - 4.0, &joints);
        sheets.advance(0.5);
    }
    sheets.advance(-1.5);
    sheets.text_to(STRONG, left + NUMBER, &step.number.to_string());
    lines(sheets, STRONG, (x, end), &step.title);
    for how in &step.how {
        lines(sheets, BODY, (x, end), how);
    }
    let mut needs = words::needs(step, units);
    needs.extend(words::step_height(step, units));
    lines(sheets, SMALL, (x, end), &needs.join(" "));
    for remark in &step.remarks {
        lines(sheets, STRONG, (x, end), &words::mind(remark));
    }
}

/// Wrapped text between two edges.
fn lines(sheets: &mut Sheets, style: Style, (x, end): (f32, f32), text: &str) {
    // A size is not broken at its `x`.
    let text = text.replace(" x ", "\u{a0}x\u{a0}");
    for line in sheets.fonts.wrap(style, &text, end - x) {
        sheets.need(style.leading);
        sheets.text(style, x, &line);
        sheets.advance(style.leading);
    }
}
