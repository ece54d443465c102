//! A job said back, for programs.

use super::{millimetres, print};
use bom::readback::ReadBack;
use serde_json::{Value, json};
use std::io::{self, Write};

/// The walk in words, the shop from above, and the card for a second walk.
///
/// # Errors
/// What the writer says.
pub fn readback(back: &ReadBack, out: &mut dyn Write) -> io::Result<()> {
    let walk = back.walk.iter();
    let walk = walk.map(|one| json!({ "leg": one.leg, "line": one.line, "words": one.words }));
    let legend = back.sketch.legend.iter();
    let legend = legend.map(|(sign, words)| json!({ "sign": sign, "words": words }));
    let scale = back.sketch.scale.map(
        |(column, line)| json!({ "column_mm": millimetres(column), "line_mm": millimetres(line) }),
    );
    let card = back.card.lines.iter().map(|line| {
        json!({
            "from": line.from.written(),
            "to": line.to.written(),
            "room": line.room.as_ref().and_then(|(_, name)| name.clone()),
            "expected_mm": millimetres(line.expected),
            "checks": line.checks,
        })
    });
    print(
        &json!({
            "title": back.title,
            "walk": walk.collect::<Vec<Value>>(),
            "sketch": {
                "lines": back.sketch.lines,
                "legend": legend.collect::<Vec<Value>>(),
                "scale": scale,
            },
            "card": card.collect::<Vec<Value>>(),
            "not_measured": back.card.unmeasured,
            "not_checked": back.card.unchecked,
        }),
        out,
    )
}
