//! Straights built of ready-threaded lengths, for those who cannot thread
//! pipe themselves: as few pieces as make up the length, within a tolerance.

use super::pieces::{Cut, NoWay};
use crate::quantity::Length;
use crate::system::{SizeRow, System};

/// Pieces beside the full sticks of a long straight.
const MOST_PIECES: usize = 5;

/// The fewest ready lengths that make up `length` to within the system's
/// tolerance; of those the nearest, and of equally near ones the longest first.
pub(super) fn compose(
    length: Length,
    closes_ring: bool,
    system: &System,
    row: &SizeRow,
) -> Result<Cut, NoWay> {
    let coupling_gap = row.coupling - row.make_up.times(2);
    let union_gap = row.union - row.make_up.times(2);
    if length < row.shortest {
        return Err(NoWay::Room {
            left: length,
            needed: row.shortest,
        });
    }
    let ready = lengths(system, row);
    let Some(longest) = ready.first().copied() else {
        return Err(NoWay::Ready { over: -length });
    };
    // A long straight begins with full sticks: as many as leave at most one to
    // build, or one fewer where what they leave is too short.
    let step = longest + coupling_gap;
    let most = (length - longest).stretches_of(step);
    // The ring's union takes the place of one coupling.
    let ring = if closes_ring {
        union_gap - coupling_gap
    } else {
        Length::ZERO
    };
    let mut best: Option<Built> = None;
    for sticks in [most, most.saturating_sub(1)] {
        let sticks = usize::try_from(sticks).unwrap_or(0);
        let least = if closes_ring && sticks == 0 { 2 } else { 1 };
        for count in least..=MOST_PIECES {
            let connectors = i64::try_from(sticks + count - 1).unwrap_or(0);
            let gaps = coupling_gap.times(connectors) + ring;
            let begun = longest.times(i64::try_from(sticks).unwrap_or(0));
            let mut search = Search {
                ready: &ready,
                wanted: length - begun - gaps,
                chosen: Vec::new(),
                best: None,
            };
            search.choose(0, count, Length::ZERO);
            let Some((over, rest)) = search.best else {
                continue;
            };
            let mut pieces = vec![longest; sticks];
            pieces.extend(rest);
            let built = Built { over, gaps, pieces };
            let near = built.over.abs() <= system.ready_within;
            if best.as_ref().is_none_or(|best| built.beats(best, system)) {
                best = Some(built);
            }
            if near {
                break;
            }
        }
    }
    let Some(built) = best else {
        return Err(NoWay::Ready { over: -length });
    };
    if built.over.abs() > system.ready_within {
        return Err(NoWay::Ready { over: built.over });
    }
    Ok(Cut {
        couplings: built.pieces.len() - 1 - usize::from(closes_ring),
        union: closes_ring,
        gaps: built.gaps,
        over: built.over,
        pieces: built.pieces,
    })
}

/// One way to build a straight.
struct Built {
    over: Length,
    gaps: Length,
    pieces: Vec<Length>,
}

impl Built {
    /// Near enough comes before fewer pieces, and those before nearer.
    fn beats(&self, other: &Self, system: &System) -> bool {
        let rank = |built: &Self| {
            let near = built.over.abs() <= system.ready_within;
            let pieces = if near { built.pieces.len() } else { 0 };
            (!near, pieces, built.over.abs())
        };
        rank(self) < rank(other)
    }
}

/// All ready lengths of a size, longest first.
fn lengths(system: &System, row: &SizeRow) -> Vec<Length> {
    let mut lengths: Vec<Length> = system
        .nipples
        .iter()
        .chain(&system.ready)
        .copied()
        .filter(|length| *length > row.shortest)
        .collect();
    lengths.push(row.shortest);
    if let Some(at_hand) = &system.at_hand {
        lengths.retain(|length| at_hand.contains(&(row.size, *length)));
    }
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    lengths
}

struct Search<'a> {
    /// Longest first.
    ready: &'a [Length],
    wanted: Length,
    chosen: Vec<Length>,
    /// How much longer than wanted, and the pieces.
    best: Option<(Length, Vec<Length>)>,
}

impl Search<'_> {
    /// Chooses `left` more pieces, none longer than that at `from`.
    fn choose(&mut self, from: usize, left: usize, sum: Length) {
        if left == 0 {
            let over = sum - self.wanted;
            let nearer = self
                .best
                .as_ref()
                .is_none_or(|(best, _)| over.abs() < best.abs());
            if nearer {
                self.best = Some((over, self.chosen.clone()));
            }
            return;
        }
        let count = i64::try_from(left).unwrap_or(i64::MAX);
        let shortest = self.ready.last().copied().unwrap_or_default();
        for at in from..self.ready.len() {
            let piece = self.ready[at];
            // What the shortest and the longest choice from here come to: if
            // neither can beat the best, no choice between them can.
            let least = sum + piece + shortest.times(count - 1);
            let most = sum + piece.times(count);
            let limit = self.best.as_ref().map(|(best, _)| best.abs());
            if limit.is_some_and(|limit| least - self.wanted >= limit) {
                continue;
            }
            if limit.is_some_and(|limit| self.wanted - most >= limit) {
                break;
            }
            self.chosen.push(piece);
            self.choose(at, left - 1, sum + piece);
            self.chosen.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::compose;
    use crate::library::Library;
    use crate::quantity::{Length, Size, Units};
    use crate::takeoff::pieces::NoWay;

    /// The pieces of a straight of 3/4 in, in inches, and how much it is over.
    fn said(length: &str, closes_ring: bool) -> String {
        let library = Library::shipped().unwrap();
        let system = &library.systems()[0];
        let row = system.row(Size::Nominal(6)).unwrap();
        let length = Length::parse(length, Units::Feet).unwrap();
        match compose(length, closes_ring, system, row) {
            Ok(cut) => {
                let pieces: Vec<String> = cut
                    .pieces
                    .iter()
                    .map(|piece| piece.show(Units::Feet))
                    .collect();
                format!("{} over {} mm", pieces.join(" + "), cut.over.to_mm_text())
            }
            Err(NoWay::Ready { over }) => format!("no way: {} mm", over.to_mm_text()),
            Err(NoWay::Room { .. }) => "no room".to_owned(),
        }
    }

    // Coupling gap at 3/4 in 0.395 in, union gap 0.875 in.
    #[test]
    fn the_fewest_ready_lengths_make_a_straight() {
        let cases = [
            ("10-0", false, "10'-0\" over 0 mm"),
            ("4.505in", false, "4 1/2\" over -0.127 mm"),
            ("1in", false, "no room"),
            ("16ft 0.395in", false, "10'-0\" + 6'-0\" over 0 mm"),
            ("10ft 0.875in", true, "6'-0\" + 4'-0\" over 0 mm"),
            ("21-0", false, "21'-0\" over 0 mm"),
            // Two close nipples and the union come to 3.625 in.
            ("2in", true, "no way: 41.275 mm"),
        ];
        for (length, closes_ring, wanted) in cases {
            assert_eq!(said(length, closes_ring), wanted, "{length}");
        }
    }

    /// From one foot up to five sticks, in steps of 1/16 in, every straight of
    /// 3/4 in can be built, and what is built comes out as measured.
    #[test]
    fn every_straight_from_a_foot_up_can_be_built() {
        let library = Library::shipped().unwrap();
        let system = &library.systems()[0];
        let row = system.row(Size::Nominal(6)).unwrap();
        let gap = row.coupling - row.make_up.times(2);
        let mut length = Length::from_feet(1);
        let mut missed = 0;
        while length < Length::from_feet(105) {
            match compose(length, false, system, row) {
                Ok(cut) => {
                    let pieces: Length = cut.pieces.iter().copied().sum();
                    let gaps = gap.times(i64::try_from(cut.couplings).unwrap());
                    assert_eq!(pieces + gaps, length + cut.over);
                    assert!(cut.over.abs() <= system.ready_within);
                }
                Err(_) => missed += 1,
            }
            length += Length::from_64ths(4 * 7);
        }
        assert_eq!(missed, 0);
    }
}
