//! Packing in one dimension: pieces of pipe into sticks of one length.

use bom::quantity::Length;
use std::collections::BTreeMap;

/// How many sticks a cutting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Packing {
    /// Sticks used.
    pub sticks: u64,
    /// No cutting of these pieces takes fewer.
    pub bound: u64,
}

/// Cuts the pieces out of sticks of one length: the longest piece first, each
/// out of the fullest stick that still holds it. A stick holds pieces as long
/// as the sum of piece + kerf is at most stock + kerf, for the last piece needs
/// no cut behind it.
///
/// None if a piece is longer than the stock.
#[must_use]
pub fn pack(pieces: &[Length], stock: Length, kerf: Length) -> Option<Packing> {
    let room = stock + kerf;
    let mut spans: Vec<Length> = pieces.iter().map(|piece| *piece + kerf).collect();
    spans.sort_unstable();
    if spans.last().is_some_and(|longest| *longest > room) {
        return None;
    }

    // Open sticks by the room left in them, and how many have it.
    let mut open: BTreeMap<Length, u64> = BTreeMap::new();
    let mut sticks = 0;
    for span in spans.iter().rev() {
        let fullest = open.range(*span..).next().map(|(left, _)| *left);
        let left = fullest.unwrap_or(room);
        match open.get_mut(&left) {
            Some(count) if *count > 1 => *count -= 1,
            Some(_) => {
                open.remove(&left);
            }
            None => sticks += 1,
        }
        *open.entry(left - *span).or_default() += 1;
    }

    let total: i128 = spans.iter().map(|span| i128::from(span.nm())).sum();
    let room = i128::from(room.nm()).max(1);
    let bound = u64::try_from((total + room - 1) / room).unwrap_or(0);
    Some(Packing { sticks, bound })
}

#[cfg(test)]
mod tests {
    use super::{Packing, pack};
    use bom::quantity::Length;

    fn feet(pieces: &[i64]) -> Vec<Length> {
        pieces.iter().map(|feet| Length::from_feet(*feet)).collect()
    }

    #[test]
    fn packs_tightly() {
        let stock = Length::from_feet(21);
        for (pieces, sticks, bound) in [
            (&[][..], 0, 0),
            (&[21], 1, 1),
            (&[10, 11], 1, 1),
            (&[12, 12, 9, 9], 2, 2),
            (&[11, 11, 11], 3, 2),
            (&[7, 14, 7, 14, 7, 7, 7], 3, 3),
        ] {
            assert_eq!(
                pack(&feet(pieces), stock, Length::ZERO),
                Some(Packing { sticks, bound }),
                "{pieces:?}"
            );
        }
    }

    #[test]
    fn the_saw_takes_its_kerf_between_pieces_only() {
        let kerf = Length::from_64ths(8);
        let stock = Length::from_feet(21);
        let sticks = |pieces: &[Length]| pack(pieces, stock, kerf).map(|packing| packing.sticks);
        assert_eq!(sticks(&[stock]), Some(1));
        assert_eq!(sticks(&feet(&[10, 11])), Some(2));
        assert_eq!(
            sticks(&[Length::from_feet(10), Length::from_feet(11) - kerf]),
            Some(1)
        );
    }

    #[test]
    fn a_piece_longer_than_the_stick_does_not_fit() {
        assert_eq!(
            pack(&feet(&[11]), Length::from_feet(10), Length::ZERO),
            None
        );
    }

    #[test]
    fn many_pieces_pack_near_the_bound_in_any_order() {
        let mut pieces: Vec<Length> = (0..40_000_i64)
            .map(|at| Length::from_mm(300 + (at * 7_919) % 5_500))
            .collect();
        let (stock, kerf) = (Length::from_feet(21), Length::from_mm(3));
        let packing = pack(&pieces, stock, kerf).unwrap();
        assert!(packing.sticks >= packing.bound);
        assert!(packing.sticks * 100 <= packing.bound * 102, "{packing:?}");
        pieces.reverse();
        assert_eq!(pack(&pieces, stock, kerf), Some(packing));
    }
}
