//! `[obstacle.NAME]`: what stands in the pipe's way, as a box.

use super::Wall;
use crate::quantity::Length;
use crate::source::Spanned;

/// A box that pipe must clear.
#[derive(Debug, Clone)]
pub struct Obstacle {
    /// Its name.
    pub name: Spanned<String>,
    /// What it is, in the user's words: `door track`; its name if left out.
    pub what: String,
    /// The room in which it stands, as an index: its corner is where the box is measured
    /// from. The first if none is named.
    pub room: Option<usize>,
    /// East, north and up of its lower south-west corner.
    pub low: [Length; 3],
    /// East, north and up of its upper north-east corner.
    pub high: [Length; 3],
    /// What must stay free around it.
    pub clear: Length,
}

/// A box along a wall: from its west or south end so far to so far, and as deep.
pub(super) fn along_wall(
    wall: Wall,
    (from, to, depth): (Length, Length, Length),
    (east_west, north_south): (Length, Length),
) -> ([Length; 2], [Length; 2]) {
    match wall {
        Wall::North => ([from, north_south - depth], [to, north_south]),
        Wall::South => ([from, Length::ZERO], [to, depth]),
        Wall::East => ([east_west - depth, from], [east_west, to]),
        Wall::West => ([Length::ZERO, from], [depth, to]),
    }
}
