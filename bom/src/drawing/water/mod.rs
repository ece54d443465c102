//! The water of the main: where it goes, how the main lies from the side, at what
//! height it hangs, and the round of whoever lets the water out.

mod bands;
mod hangers;
mod map;
mod panel;
mod profile;
mod round;
mod strip;

use super::{Scene, Sheet};

/// The water map, the main from the side with the heights of its hangers, and the
/// drain round.
#[must_use]
pub fn water(scene: &Scene<'_>) -> Vec<Sheet> {
    let mut sheets = map::sheets(scene);
    sheets.extend(round::sheets(scene));
    sheets.extend(profile::sheets(scene));
    sheets.extend(hangers::sheets(scene));
    sheets
}
