//! The order of assembly for programs.

use super::{millimetres, print};
use bom::assembly::{Assembly, Hold, Step};
use bom::network::NodeId;
use pricing::cut_sheet::Heading;
use serde_json::{Value, json};
use std::io::{self, Write};

/// The order in which a job is put together. `place` puts places into words.
///
/// # Errors
/// What the writer says.
pub fn crew(
    heading: &Heading,
    assembly: &Assembly,
    place: &dyn Fn(NodeId) -> String,
    out: &mut dyn Write,
) -> io::Result<()> {
    let stages: Vec<Value> = assembly
        .groups
        .iter()
        .map(|group| {
            let steps: Vec<Value> = group.steps.iter().map(|one| step(one, place)).collect();
            json!({
                "stage": group.stage.word(),
                "title": group.stage.title(),
                "notes": group.notes,
                "steps": steps,
            })
        })
        .collect();
    print(
        &json!({
            "title": heading.title,
            "revision": heading.revision,
            "fingerprint": heading.fingerprint,
            "date": heading.date.to_string(),
            "cautions": assembly.cautions,
            "tools": assembly.tools,
            "stages": stages,
        }),
        out,
    )
}

fn step(step: &Step, place: &dyn Fn(NodeId) -> String) -> Value {
    let pieces: Vec<Value> = step
        .pieces
        .iter()
        .map(|one| {
            json!({
                "label": one.piece.label(),
                "size": one.size.to_string(),
                "length_mm": millimetres(one.piece.length),
            })
        })
        .collect();
    let parts: Vec<Value> = step
        .parts
        .iter()
        .map(|part| {
            json!({
                "part": part.part,
                "words": part.words,
                "size": part.size.to_string(),
                "quantity": part.quantity,
                "unit": part.unit,
            })
        })
        .collect();
    let joints: Vec<Value> = step
        .joints
        .iter()
        .map(|joints| {
            json!({
                "system": joints.system,
                "joint": joints.joint.word(),
                "size": joints.size.to_string(),
                "count": joints.count,
            })
        })
        .collect();
    let (hold, onto) = match step.hold {
        Hold::Nothing => ("nothing", Vec::new()),
        Hold::Bench => ("bench", Vec::new()),
        Hold::Start => ("start", Vec::new()),
        Hold::Onto(at) => ("onto", vec![place(at)]),
        Hold::Between(ends) => ("between", ends.map(place).to_vec()),
    };
    json!({
        "number": step.number,
        "title": step.title,
        "holds": hold,
        "onto": onto,
        "how": step.how,
        "pieces": pieces,
        "parts": parts,
        "joints": joints,
        "height_mm": step.height.map(millimetres),
        "remarks": step.remarks,
    })
}
