//! What a step of the assembly takes, in words.

use super::count;
use bom::assembly::Step;
use bom::quantity::{PartSize, Units};
use bom::summary::Summary;
use bom::takeoff::Takeoff;

/// The pieces of a step: `12.1 3/4in 7'-11 1/4"`.
fn step_pieces(step: &Step, units: Units) -> Vec<String> {
    let pieces = step.pieces.iter();
    pieces
        .map(|one| {
            let length = one.piece.length.show(units);
            format!("{} {} {length}", one.piece.label(), one.size)
        })
        .collect()
}

/// What goes in at a step: pieces and parts.
pub(crate) fn needs(step: &Step, units: Units) -> Vec<String> {
    let mut needs = Vec::new();
    let pieces = step_pieces(step, units);
    if !pieces.is_empty() {
        needs.push(format!("Pieces: {}.", pieces.join("; ")));
    }
    let parts: Vec<String> = step
        .parts
        .iter()
        .map(|part| match part.size {
            PartSize::NONE => format!("{} {}", part.quantity, part.words),
            size => format!("{} {} {size}", part.quantity, part.words),
        })
        .collect();
    if !parts.is_empty() {
        needs.push(format!("Parts: {}.", parts.join("; ")));
    }
    needs
}

/// How many joints a step makes; none where it makes none.
pub(crate) fn step_joints(step: &Step) -> Option<String> {
    let joints = usize::try_from(step.joint_count()).unwrap_or(usize::MAX);
    (joints > 0).then(|| count(joints, "joint"))
}

/// How high a step's work is.
pub(crate) fn step_height(step: &Step, units: Units) -> Option<String> {
    let height = step.height?.show(units);
    Some(format!("Up to {height} above the floor."))
}

/// What is built, in a few facts.
pub(crate) fn crew_facts(summary: &Summary, takeoff: &Takeoff) -> Vec<String> {
    let units = summary.units;
    let mut facts: Vec<String> = summary
        .main_pipe
        .iter()
        .map(|pipe| {
            let sizes: Vec<String> = pipe.sizes.iter().map(ToString::to_string).collect();
            format!(
                "{}: {} of main, {}.",
                pipe.system_title,
                pipe.length.show_total(units),
                sizes.join(", ")
            )
        })
        .collect();
    let counted = [
        (summary.outlets.len(), "outlet"),
        (summary.drains.len(), "drain of the main"),
        (summary.valves.len(), "line valve"),
        (summary.rings, "ring"),
    ];
    let counted = counted.into_iter().filter(|(number, _)| *number > 0);
    let counted: Vec<String> = counted
        .map(|(number, one)| match (number, one) {
            (1, one) => format!("1 {one}"),
            (number, "drain of the main") => format!("{number} drains of the main"),
            (number, one) => format!("{number} {one}s"),
        })
        .collect();
    facts.push(format!("{}.", counted.join(", ")));
    let falls = match summary.fall.as_str() {
        "level" => "is level".to_owned(),
        fall => format!("falls {fall}"),
    };
    facts.push(format!(
        "The main starts {} above the floor and {falls}.",
        summary.main_height.show(units)
    ));
    for connection in &summary.connections {
        let items = match connection.items.len() {
            0 => "pipe in the tank's port".to_owned(),
            _ => connection.items.join(", then "),
        };
        facts.push(format!("At the tank {}: {items}.", connection.supply));
    }
    let pieces: usize = takeoff.pipe.iter().map(|line| line.pieces.len()).sum();
    let joints: u64 = takeoff.joints.iter().map(|joints| joints.count).sum();
    facts.push(format!(
        "{} to cut, {joints} joints to make.",
        match pieces {
            1 => "1 piece of pipe".to_owned(),
            pieces => format!("{pieces} pieces of pipe"),
        }
    ));
    facts
}

/// A remark, so that it is not overlooked.
pub(crate) fn mind(remark: &str) -> String {
    format!("MIND: {remark}")
}
