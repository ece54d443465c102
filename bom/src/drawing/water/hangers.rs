//! The heights of the hangers, for the crew that hangs the main.

use crate::drawing::page::{Block, Paper};
use crate::drawing::{Column, Scene, Sheet};
use crate::takeoff::hangers;

const SAID: &str = "Heights are of the pipe's centre above the floor. Each straight is measured from its first place, along the pipe.";

pub(super) fn sheets(scene: &Scene<'_>) -> Vec<Sheet> {
    let (network, field) = (&scene.plan.network, scene.field);
    let units = scene.plan.summary.units;
    let hangers = hangers(network, scene.library);
    if hangers.is_empty() {
        return Vec::new();
    }
    let columns = [
        Column::figures("hanger"),
        Column::words("straight"),
        Column::figures("from its start"),
        Column::figures("above floor"),
        Column::words("pipe"),
    ];
    let mut straight = None;
    let rows: Vec<Vec<String>> = hangers
        .iter()
        .zip(1_usize..)
        .map(|(hanger, number)| {
            let this = Some((hanger.from, hanger.to));
            let words = match straight == this {
                true => String::new(),
                false => format!(
                    "{} to {}",
                    network.place(hanger.from),
                    network.place(hanger.to)
                ),
            };
            straight = this;
            vec![
                number.to_string(),
                words,
                hanger.along.show(units),
                hanger.height.show(units),
                hanger.size.to_string(),
            ]
        })
        .collect();
    let head = Block::heading("Heights at the hangers", field.width)
        .above(Block::note(SAID, field.width), 0.8);
    let room = (field.height - head.down - 4.0).max(20.0);
    let mut blocks = vec![head];
    blocks.extend(Block::tables(&columns, &rows, field.width, room));
    let paper = Paper {
        id: "water-heights",
        title: "Heights at the hangers",
        about: &format!(
            "A table of the {} hangers of the main with the height of the pipe at each.",
            hangers.len()
        ),
        width: field.width,
        height: field.height,
    };
    paper.laid(blocks)
}
