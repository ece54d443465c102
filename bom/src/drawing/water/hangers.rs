//! The heights of the hangers, for the crew that hangs the main.

use crate::drawing::page::Block;
use crate::drawing::{Column, Scene};
use crate::takeoff::hangers;

const SAID: &str = "Heights are of the pipe's centre above the floor. Each straight is measured from its first place, along the pipe.";

pub(super) fn blocks(scene: &Scene<'_>) -> Vec<Block> {
    let network = &scene.plan.network;
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
    Block::headed("Heights at the hangers", SAID, &columns, &rows, scene.field)
}
