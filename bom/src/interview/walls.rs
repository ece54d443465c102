//! The four walls, as one stands in the main door and looks in.

use crate::job::Wall;

/// As one walks round inside with the wall to the left hand, from each wall's left
/// corner to its right one.
pub(super) const CLOCKWISE: [Wall; 4] = [Wall::North, Wall::East, Wall::South, Wall::West];

pub(super) const fn place(wall: Wall) -> usize {
    match wall {
        Wall::North => 0,
        Wall::East => 1,
        Wall::South => 2,
        Wall::West => 3,
    }
}

/// So many walls on, clockwise.
pub(super) const fn on(wall: Wall, steps: usize) -> Wall {
    CLOCKWISE[(place(wall) + steps) % 4]
}

/// What a wall is to somebody who comes in by the `door`.
pub(super) const fn seen_from(door: Wall, wall: Wall) -> &'static str {
    match (place(wall) + 4 - place(door)) % 4 {
        0 => "the door's",
        1 => "on your left as you come in",
        2 => "ahead as you come in",
        _ => "on your right as you come in",
    }
}

/// All four: `north (ahead), east (right), south (door), west (left)`.
pub(super) fn all(door: Wall) -> String {
    let said = CLOCKWISE.map(|wall| {
        let seen = match (place(wall) + 4 - place(door)) % 4 {
            0 => "door",
            1 => "left",
            2 => "ahead",
            _ => "right",
        };
        format!("{} ({seen})", wall.word())
    });
    said.join(", ")
}

/// Reads `north`, `n`, `north wall`, `left`, `ahead` …
pub(super) fn read(text: &str, door: Wall) -> Option<Wall> {
    let text = text.trim().to_lowercase();
    let word = text.strip_suffix("wall").unwrap_or(&text).trim();
    Some(match word {
        "north" | "n" => Wall::North,
        "east" | "e" => Wall::East,
        "south" | "s" => Wall::South,
        "west" | "w" => Wall::West,
        "door" | "front" => door,
        "left" => on(door, 1),
        "ahead" | "far" | "opposite" => on(door, 2),
        "right" => on(door, 3),
        _ => return None,
    })
}
