//! Hangers along the main and brackets at the drops.

use super::Why;
use super::tally::Tally;
use crate::job::Direction;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use crate::quantity::{Length, PartSize, Size};

/// Counts every support.
pub(super) fn count(network: &Network, library: &Library, tally: &mut Tally<'_>) {
    let mut seen = vec![false; network.link_count()];
    for (id, from, to, link) in network.links() {
        let (true, Some(length)) = (link.main, link.pipe) else {
            continue;
        };
        if std::mem::replace(&mut seen[id.index()], true) {
            continue;
        }
        let line = Line {
            direction: link.direction,
            size: link.size,
            system: link.system,
        };
        let behind = line.follow(network, &mut seen, from, line.direction.opposite());
        let ahead = line.follow(network, &mut seen, to, line.direction);
        hangers(line, behind + length + ahead, to, library, tally);
    }
    for drop in &network.drops {
        let size = PartSize::one(drop.size);
        let system = &library.systems()[drop.system];
        tally.part(
            "wall-bracket",
            drop.system,
            size,
            drop.foot_at,
            Why::HoldsFoot,
        );
        let more = drop
            .down
            .stretches_of(system.upright_spacing)
            .saturating_sub(1);
        for _ in 0..more {
            tally.part("hanger", drop.system, size, drop.foot_at, Why::Carries);
        }
    }
}

#[derive(Clone, Copy)]
struct Line {
    direction: Direction,
    size: Size,
    system: usize,
}

impl Line {
    /// How far main of this size goes on in line from `at`, tees included.
    fn follow(
        self,
        network: &Network,
        seen: &mut [bool],
        mut at: NodeId,
        onward: Direction,
    ) -> Length {
        let mut length = Length::ZERO;
        while let Some((link, far)) = self.next(network, seen, at, onward) {
            seen[link.index()] = true;
            length += network.link(link).pipe.unwrap_or_default();
            at = far;
        }
        length
    }

    fn next(
        self,
        network: &Network,
        seen: &[bool],
        at: NodeId,
        onward: Direction,
    ) -> Option<(LinkId, NodeId)> {
        network
            .ends(at)
            .find(|end| {
                let link = network.link(end.link);
                end.direction == onward
                    && link.main
                    && link.size == self.size
                    && link.system == self.system
                    && !seen[end.link.index()]
            })
            .map(|end| (end.link, end.far))
    }
}

fn hangers(line: Line, length: Length, at: NodeId, library: &Library, tally: &mut Tally<'_>) {
    let system = &library.systems()[line.system];
    let spacing = if line.direction.is_level() {
        system.row(line.size).map(|row| row.support)
    } else if length < system.upright_free {
        None
    } else {
        Some(system.upright_spacing)
    };
    let Some(spacing) = spacing else { return };
    for _ in 0..length.stretches_of(spacing) {
        tally.part(
            "hanger",
            line.system,
            PartSize::one(line.size),
            at,
            Why::Carries,
        );
    }
}
