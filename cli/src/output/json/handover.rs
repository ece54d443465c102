//! The sheets of a handover, and the figures that they are worked out from.

mod readings;

use super::{number, print};
use bom::handover::{Blank, Handover, Part, Sheet};
use bom::quantity::Pressure;
use serde_json::{Value, json};
use std::io::{self, Write};

/// Writes a handover: pressures in kPa above the air outside, volumes in litres.
///
/// # Errors
/// Those of `out`.
pub fn handover(handover: &Handover, out: &mut dyn Write) -> io::Result<()> {
    let kpa = |pressure: Option<Pressure>| rounded(pressure.map(Pressure::kpa));
    let figures = &handover.figures;
    let stages = figures.stages;
    let sections = handover.sections.iter().map(|section| {
        json!({
            "part": section.letter,
            "valves": section.valves,
            "outlets": section.outlets,
            "litres": rounded(Some(section.litres)),
        })
    });
    print(
        &json!({
            "pipe_litres": rounded(Some(figures.pipe)),
            "tank_litres": rounded(figures.tank),
            "design_kpa": kpa(figures.design),
            "first_step_kpa": kpa(stages.map(|stages| stages.first)),
            "test_kpa": kpa(stages.map(|stages| stages.test)),
            "relief_at_most_kpa": kpa(stages.map(|stages| stages.relief)),
            "stored_kj": rounded(figures.stored),
            "stored_with_tank_kj": rounded(figures.stored_with_tank),
            "parts": sections.collect::<Vec<Value>>(),
            "readings": handover.readings.as_ref().map(readings::readings),
            "sheets": handover.sheets.iter().map(sheet).collect::<Vec<Value>>(),
        }),
        out,
    )
}

fn rounded(figure: Option<f64>) -> Value {
    figure.map_or(Value::Null, |figure| number(format!("{figure:.3}")))
}

fn sheet(sheet: &Sheet) -> Value {
    let part = |part: &Part| match part {
        Part::Heading(words) => json!({"heading": words}),
        Part::Note(words) => json!({"note": words}),
        Part::Caution(words) => json!({"caution": words}),
        Part::Points(points) => json!({"points": points}),
        Part::Boxes(points) => json!({"to_tick": points}),
        Part::Table { columns, rows } => {
            let heads: Vec<&str> = columns.iter().map(|(head, _)| head.as_str()).collect();
            json!({"table": {"heads": heads, "rows": rows}})
        }
        Part::Blanks(rows) => {
            let (left, filled): (Vec<&Blank>, Vec<&Blank>) = rows
                .iter()
                .flatten()
                .partition(|blank| blank.value.is_empty());
            let label = |blank: &&Blank| blank.label.clone();
            let filled = filled
                .iter()
                .map(|blank| json!({"label": blank.label, "value": blank.value}));
            json!({
                "to_fill_in": left.iter().map(label).collect::<Vec<String>>(),
                "filled_in": filled.collect::<Vec<Value>>(),
            })
        }
        Part::Log(heads) => json!({"log": heads}),
    };
    json!({
        "sheet": sheet.word,
        "title": sheet.title,
        "parts": sheet.parts.iter().map(part).collect::<Vec<Value>>(),
    })
}
