//! The water of the main: where it goes, how the main lies from the side, at what
//! height it hangs, and the round of whoever lets the water out.

mod bands;
mod hangers;
mod map;
mod panel;
mod profile;
mod round;
mod strip;

use super::page::Paper;
use super::{Scene, Sheet};

/// The water map, the main from the side, and the drain round with the heights of the
/// hangers.
#[must_use]
pub fn water(scene: &Scene<'_>) -> Vec<Sheet> {
    let mut sheets = map::sheets(scene);
    sheets.extend(profile::sheets(scene));
    let mut lists = round::blocks(scene);
    lists.extend(hangers::blocks(scene));
    let paper = Paper {
        id: "water-lists",
        title: "Drain round and hangers",
        about: "A table of the stops of the drain round in walking order, and one of the heights of the pipe at the hangers of the main.",
        width: scene.field.width,
        height: scene.field.height,
    };
    sheets.extend(paper.laid(lists));
    sheets
}
