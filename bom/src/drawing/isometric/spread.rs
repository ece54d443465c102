//! Where the places of one axis are drawn: in their order, with the room that they
//! need, and long distances shortened.

/// Least room between two places of an axis, by their indices in its order.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) least: f64,
}

/// The drawn positions of places along an axis, whose positions in feet come in
/// order. A gap grows with the root of its length times `scale`, so that a wall and a
/// swan neck can be read side by side.
pub(super) fn spread(feet: &[f64], rooms: &[Room], scale: f64, ignore: f64) -> Vec<f64> {
    let mut drawn: Vec<f64> = Vec::with_capacity(feet.len());
    for (index, position) in feet.iter().enumerate() {
        let by_length = index.checked_sub(1).map_or(0.0, |before| {
            let gap = position - feet[before];
            let shown = if gap < ignore { 0.0 } else { gap };
            drawn[before] + scale * shown.sqrt()
        });
        let by_room = rooms
            .iter()
            .filter(|room| room.to == index)
            .map(|room| drawn[room.from] + room.least);
        drawn.push(by_room.fold(by_length, f64::max));
    }
    drawn
}

#[cfg(test)]
mod tests {
    use super::{Room, spread};

    #[test]
    fn order_is_kept_and_long_gaps_are_shortened() {
        let room = Room {
            from: 0,
            to: 1,
            least: 6.0,
        };
        let drawn = spread(&[0.0, 0.5, 48.5], &[room], 2.0, 0.0);
        assert!((drawn[1] - 6.0).abs() < 1e-9);
        assert!((drawn[2] - 6.0 - 2.0 * 48.0_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn what_is_too_near_to_be_told_apart_falls_together() {
        let drawn = spread(&[11.0, 11.2], &[], 5.0, 0.5);
        assert!((drawn[0] - drawn[1]).abs() < 1e-9);
    }
}
