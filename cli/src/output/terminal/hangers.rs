//! Where the hangers of the main stand, for whoever hangs it.

use super::{Column, paragraph, table};
use bom::network::NodeId;
use bom::quantity::Units;
use bom::takeoff::Hanger;
use std::io::{self, Write};

/// Every hanger, straight after straight: how far along it, and how high.
///
/// # Errors
/// What the writer says.
pub fn hangers(
    hangers: &[Hanger],
    place: &dyn Fn(NodeId) -> String,
    units: Units,
    width: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    writeln!(out)?;
    paragraph(
        out,
        width,
        "Hangers of the main, each straight measured from its first place; heights are of the pipe's centre",
    )?;
    let mut straight = None;
    let rows = hangers.iter().enumerate().map(|(number, hanger)| {
        let this = Some((hanger.from, hanger.to));
        let name = if straight == this {
            String::new()
        } else {
            format!("{} to {}", place(hanger.from), place(hanger.to))
        };
        straight = this;
        vec![
            (number + 1).to_string(),
            name,
            hanger.along.show(units),
            hanger.height.show(units),
            hanger.size.to_string(),
        ]
    });
    let columns = [
        Column::Figures,
        Column::Words,
        Column::Figures,
        Column::Figures,
        Column::Words,
    ];
    let heads = ["", "straight", "along the pipe", "above floor", "pipe"];
    table(out, width, &columns, &heads, rows)
}
