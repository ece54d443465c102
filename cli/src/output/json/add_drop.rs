//! One more drop for programs.

use super::{number, print};
use crate::output::AddDropPaper;
use crate::output::words;
use pricing::change::Worst;
use serde_json::{Value, json};
use std::io::{self, Write};

/// What one more drop takes.
///
/// # Errors
/// Those of `out`.
pub fn add_drop(paper: &AddDropPaper<'_>, out: &mut dyn Write) -> io::Result<()> {
    let worst = |worst: &Option<Worst>| {
        worst.as_ref().map(|worst| {
            json!({
                "outlet": worst.outlet,
                "tool": worst.tool,
                "pressure_kpa": worst.gets.map(|gets| number(format!("{:.3}", gets.kpa()))),
            })
        })
    };
    let takeoff = paper.takeoff;
    let lines: Vec<Value> = takeoff
        .lines
        .iter()
        .map(|line| {
            json!({
                "part": line.key.part,
                "system": line.key.system,
                "size": line.key.size.to_string(),
                "quantity": line.quantity,
                "unit": line.unit,
            })
        })
        .collect();
    let pipe: Vec<Value> = takeoff
        .pipe
        .iter()
        .map(|line| {
            json!({
                "system": line.key.system,
                "size": line.size.to_string(),
                "length_mm": super::millimetres(line.end_to_end),
            })
        })
        .collect();
    let price = paper.price.as_ref().map(|price| {
        json!({
            "hours": price.hours,
            "days": price.days,
            "total": price.total.map(|total| total.plain()),
            "currency": price.total.map(|total| total.currency().to_string()),
        })
    });
    let value = json!({
        "name": paper.name,
        "place": paper.place,
        "plugged_tee": paper.plugged,
        "shut": paper.shut,
        "stop_compressor": paper.at_tank,
        "without_air": paper.dead,
        "lines": lines,
        "pipe": pipe,
        "joints": words::joints(&takeoff.joints),
        "worst_before": worst(&paper.before),
        "worst_after": worst(&paper.after),
        "price": price,
        "assumptions": takeoff.assumptions,
    });
    print(&value, out)
}
