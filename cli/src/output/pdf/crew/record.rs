//! The record of joints and leaks, filled in by hand.

use super::CrewSet;
use crate::output::pdf::blanks::blanks;
use crate::output::pdf::blocks;
use crate::output::pdf::fonts::SMALL;
use crate::output::pdf::page::Sheets;

/// Kinds of joints beside each other.
const ABREAST: usize = 2;
/// Lines for leaks.
const LEAKS: usize = 6;

pub(super) fn draw(sheets: &mut Sheets, set: &CrewSet<'_>) {
    blocks::name(sheets, "Record of the joints", &set.summary.title);
    sheets.advance(6.0);
    let left = sheets.left();
    sheets.paragraph(
        SMALL,
        left,
        "The test under pressure, what was agreed and what was read stand on the sheets of the handover.",
    );
    joints(sheets, set);
    blocks::heading(sheets, "Leaks that were found and mended");
    let leaks: Vec<&[&str]> = vec![&["Step or place", "What was done", "Soaped again"]; LEAKS];
    blanks(sheets, &leaks);
    sheets.together(|sheets| {
        blocks::heading(sheets, "Handed over");
        blanks(
            sheets,
            &[
                &[
                    "Drains opened, water let out",
                    "Valves and outlets labelled",
                ],
                &[
                    "Tested by: name, signature, date",
                    "Seen by: name, signature, date",
                ],
            ],
        );
    });
}

/// How many joints of each kind there are, and room for who made them.
fn joints(sheets: &mut Sheets, set: &CrewSet<'_>) {
    blocks::heading(sheets, "Joints");
    let several = set
        .takeoff
        .joints
        .iter()
        .any(|joints| joints.system != set.takeoff.system);
    let made: Vec<String> = set
        .takeoff
        .joints
        .iter()
        .map(|joints| {
            let of = match several {
                true => format!(", {}", joints.system),
                false => String::new(),
            };
            let joint = joints.joint.word();
            format!("{} {joint} of {}{of}: made by", joints.count, joints.size)
        })
        .collect();
    let made: Vec<&str> = made.iter().map(String::as_str).collect();
    let rows: Vec<&[&str]> = made.chunks(ABREAST).collect();
    blanks(sheets, &rows);
}
