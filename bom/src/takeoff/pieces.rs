//! From centre to centre to the pieces that are cut.

use super::ready;
use super::runs::Run;
use super::valves;
use crate::job::{State, Threading, Unions};
use crate::library::{Gender, Library};
use crate::network::{LinkId, Network, NodeId, NodeKind};
use crate::quantity::{Length, Size};
use crate::system::SizeRow;

/// The pieces of one straight and what stands between them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cut {
    pub(super) pieces: Vec<Length>,
    pub(super) couplings: usize,
    pub(super) union: bool,
    /// What lies between the pipe ends inside couplings and unions.
    pub(super) gaps: Length,
    /// How much longer than measured it is built, where it is built of ready
    /// lengths.
    pub(super) over: Length,
}

/// A straight, what its ends take out, and how it is cut.
#[derive(Debug, Clone)]
pub struct Straight {
    pub(super) run: Run,
    pub(super) take_outs: [Length; 2],
    pub(super) cut: Cut,
    system: String,
    state: State,
}

impl Straight {
    /// Where it begins.
    #[must_use]
    pub const fn from(&self) -> NodeId {
        self.run.from
    }

    /// Where it ends.
    #[must_use]
    pub const fn to(&self) -> NodeId {
        self.run.to
    }

    /// The links with which it begins and ends.
    #[must_use]
    pub const fn links(&self) -> [LinkId; 2] {
        self.run.links
    }

    /// From the place where it begins to the middle of its union; none if it has
    /// none.
    #[must_use]
    pub fn union_at(&self, library: &Library) -> Option<Length> {
        let row = library.systems()[self.run.system].row(self.run.size)?;
        let first = self.cut.pieces.first().filter(|_| self.cut.union)?;
        let gap = row.union - row.make_up.times(2);
        Some(self.take_outs[0] + *first + gap.scaled(1, 2))
    }

    /// Whether its pipe is new: else it stands already.
    #[must_use]
    pub fn is_new(&self) -> bool {
        self.state == State::New
    }

    /// Its pipe system: `black-iron`.
    #[must_use]
    pub fn system(&self) -> &str {
        &self.system
    }

    /// Its size.
    #[must_use]
    pub const fn size(&self) -> Size {
        self.run.size
    }

    /// Its pieces, nipples included, in order.
    #[must_use]
    pub fn pieces(&self) -> &[Length] {
        &self.cut.pieces
    }

    /// Whether its first joint between pieces is the union of a ring.
    #[must_use]
    pub const fn has_union(&self) -> bool {
        self.cut.union
    }
}

/// Why a straight cannot be built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoWay {
    /// It is too short for the fittings at its ends.
    Room { left: Length, needed: Length },
    /// No ready lengths make it up: the nearest are this much longer.
    Ready { over: Length },
}

/// Cuts one straight.
pub(super) fn cut(
    run: Run,
    network: &Network,
    library: &Library,
    row: &SizeRow,
) -> Result<Straight, NoWay> {
    let system = &library.systems()[run.system];
    let [first, last] = run.links;
    let take_outs = [(run.from, first), (run.to, last)]
        .map(|(node, link)| take_out(network, library, (node, link), run));
    let length = run.length - take_outs[0] - take_outs[1];
    let cut = match system.threading(network.threading) {
        Threading::Cut => split(length, run.closes_ring, system.stick, row)?,
        Threading::Bought => ready::compose(length, run.closes_ring, system, row)?,
    };
    Ok(Straight {
        run,
        take_outs,
        cut,
        system: system.name.clone(),
        state: network.link_state(first),
    })
}

/// What building of ready lengths costs and spares: how many more couplings
/// than cutting to measure, and how many threads cutting would take.
pub(super) fn against_cutting(straights: &[Straight], library: &Library) -> (usize, usize) {
    let (mut couplings, mut threads) = (0, 0);
    for straight in straights {
        let run = straight.run;
        let [from, to] = straight.take_outs;
        let system = &library.systems()[run.system];
        if system.threading(Threading::Bought) == Threading::Cut {
            continue;
        }
        let Some(row) = system.row(run.size) else {
            continue;
        };
        let length = run.length - from - to;
        let Ok(cut) = split(length, run.closes_ring, system.stick, row) else {
            continue;
        };
        couplings += straight.cut.couplings.saturating_sub(cut.couplings);
        let made = |piece: &&Length| {
            system.is_nipple(run.size, **piece)
                || **piece == row.shortest
                || **piece == system.stick
        };
        threads += 2 * cut.pieces.iter().filter(|piece| !made(piece)).count();
    }
    (couplings, threads)
}

/// How much of a straight the fitting or valve at its end takes up.
fn take_out(
    network: &Network,
    library: &Library,
    (node, link): (NodeId, LinkId),
    run: Run,
) -> Length {
    if network.is_line_valve(node) {
        return valves::take_out(network, library, node, link);
    }
    let system = &library.systems()[run.system];
    let make_up = system.row(run.size).map_or(Length::ZERO, |row| row.make_up);
    match &network.node(node).kind {
        NodeKind::Fitting(fitting) => match fitting.reach(library) {
            Some(reach) if fitting.system == run.system => reach - make_up,
            // The step to another metal fills the port.
            Some(reach) => reach,
            None => Length::ZERO,
        },
        // Measured from the port's face, and screwed into it; a union or a
        // bushing between them is not taken off.
        NodeKind::Port { gender, size }
            if system.is_threaded()
                && *gender == Gender::Female
                && *size == run.size
                && network.unions != Unions::Service =>
        {
            -make_up
        }
        NodeKind::Port { .. } | NodeKind::Device { .. } => Length::ZERO,
    }
}

/// Full sticks first, then the rest; couplings between, and the union of a
/// ring in place of one of them.
fn split(length: Length, closes_ring: bool, stick: Length, row: &SizeRow) -> Result<Cut, NoWay> {
    let shortest = row.shortest;
    let coupling_gap = row.coupling - row.make_up.times(2);
    let union_gap = row.union - row.make_up.times(2);
    let no_room = |needed| NoWay::Room {
        left: length,
        needed,
    };
    if length < shortest {
        return Err(no_room(shortest));
    }
    if closes_ring && length <= stick {
        let pipe = length - union_gap;
        if pipe < shortest.times(2) {
            return Err(no_room(shortest.times(2) + union_gap));
        }
        let first = pipe.scaled(1, 2);
        return Ok(Cut {
            pieces: vec![first, pipe - first],
            couplings: 0,
            union: true,
            gaps: union_gap,
            over: Length::ZERO,
        });
    }
    let mut pieces = Vec::new();
    let mut gaps = Length::ZERO;
    let mut rest = length;
    while rest > stick {
        // The union, if there is one, stands behind the first stick.
        let gap = if closes_ring && pieces.is_empty() {
            union_gap
        } else {
            coupling_gap
        };
        let piece = stick.min(rest - gap - shortest);
        pieces.push(piece);
        gaps += gap;
        rest = rest - piece - gap;
    }
    pieces.push(rest);
    Ok(Cut {
        couplings: pieces.len() - 1 - usize::from(closes_ring),
        union: closes_ring,
        gaps,
        over: Length::ZERO,
        pieces,
    })
}

#[cfg(test)]
mod tests {
    use super::{NoWay, split};
    use crate::library::Library;
    use crate::quantity::{Length, Size, Units};

    /// Pieces, couplings and union of a straight of 3/4 in, or what it lacks.
    fn said(length: &str, closes_ring: bool) -> String {
        let library = Library::shipped().unwrap();
        let system = &library.systems()[0];
        let row = system.row(Size::Nominal(6)).unwrap();
        let length = Length::parse(length, Units::Feet).unwrap();
        match split(length, closes_ring, system.stick, row) {
            Ok(cut) => {
                let pieces: Vec<String> = cut
                    .pieces
                    .iter()
                    .map(|piece| piece.show(Units::Feet))
                    .collect();
                format!(
                    "{} | {} couplings, union {}",
                    pieces.join(" + "),
                    cut.couplings,
                    cut.union
                )
            }
            Err(NoWay::Room { left, needed }) => {
                format!(
                    "{} left, {} needed",
                    left.show(Units::Feet),
                    needed.show(Units::Feet)
                )
            }
            Err(other) => format!("{other:?}"),
        }
    }

    // Coupling gap at 3/4 in: 1.52 - 2 x 0.5625 = 0.395 in; union gap 0.875 in;
    // close nipple 1.375 in.
    #[test]
    fn straights_are_cut_full_sticks_first() {
        let cases = [
            ("10-0", false, "10'-0\" | 0 couplings, union false"),
            ("21-0", false, "21'-0\" | 0 couplings, union false"),
            (
                "25ft 0.395in",
                false,
                "21'-0\" + 4'-0\" | 1 couplings, union false",
            ),
            (
                "21ft 1in",
                false,
                "20'-11 1/4\" + 1 3/8\" | 1 couplings, union false",
            ),
            (
                "46ft 0.79in",
                false,
                "21'-0\" + 21'-0\" + 4'-0\" | 2 couplings, union false",
            ),
            (
                "10ft 0.875in",
                true,
                "5'-0\" + 5'-0\" | 0 couplings, union true",
            ),
            (
                "25ft 0.875in",
                true,
                "21'-0\" + 4'-0\" | 0 couplings, union true",
            ),
            (
                "46ft 1.27in",
                true,
                "21'-0\" + 21'-0\" + 4'-0\" | 1 couplings, union true",
            ),
            ("1in", false, "1\" left, 1 3/8\" needed"),
            ("3in", true, "3\" left, 3 5/8\" needed"),
        ];
        for (length, closes_ring, wanted) in cases {
            assert_eq!(said(length, closes_ring), wanted, "{length}");
        }
    }
}
