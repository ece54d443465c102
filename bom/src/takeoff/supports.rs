//! Hangers along the main and brackets at the drops.

use super::tally::Tally;
use super::{Seat, Why};
use crate::job::{Direction, State};
use crate::library::Library;
use crate::network::{Drop, LinkId, Network, NodeId, between};
use crate::quantity::{Length, PartSize, Size};

/// A hanger of the main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hanger {
    /// Where its straight begins: the place that it is measured from.
    pub from: NodeId,
    /// Where its straight ends.
    pub to: NodeId,
    /// How far it stands from there, along the pipe.
    pub along: Length,
    /// The pipe on which it stands.
    pub on: LinkId,
    /// How far it stands from where that pipe begins.
    pub beyond: Length,
    /// The pipe's centre above the floor.
    pub height: Length,
    /// The size of the pipe.
    pub size: Size,
    /// Index of its system.
    pub system: usize,
}

/// Every hanger of the main, straight after straight in walking order. They
/// stand in the middle of equal stretches, none longer than the spacing, so
/// that no end of a straight is farther than half of it from a hanger.
#[must_use]
pub fn hangers(network: &Network, library: &Library) -> Vec<Hanger> {
    let mut seen = vec![false; network.link_count()];
    let mut hangers = Vec::new();
    for (id, from, to, link) in network.links() {
        if !link.is_main() || link.pipe.is_none() || seen[id.index()] {
            continue;
        }
        seen[id.index()] = true;
        let line = Line {
            direction: link.direction,
            size: link.size,
            system: link.system,
            state: network.link_state(id),
        };
        let mut places = line.follow(network, &mut seen, from, line.direction.opposite());
        places.reverse();
        places.extend([from, to]);
        places.extend(line.follow(network, &mut seen, to, line.direction));
        hangers.extend(line.hangers(network, library, &places));
    }
    hangers
}

/// How high every new support is: hangers of the main, and along each drop its
/// bracket at the foot and hangers above that.
pub(super) fn heights(network: &Network, library: &Library) -> Vec<Length> {
    let of_main = hangers(network, library).into_iter();
    let of_main = of_main.filter(|hanger| network.link_state(hanger.on) == State::New);
    let mut heights: Vec<Length> = of_main.map(|hanger| hanger.height).collect();
    let drops = network.drops.iter();
    for drop in drops.filter(|drop| network.node_state(drop.foot_at) == State::New) {
        let foot = network.node(drop.foot_at).at.up;
        let step = library.systems()[drop.system].upright_spacing;
        heights.push(foot);
        let hangers = hangers_of(drop, library);
        heights.extend((1..).map(|number| foot + step.times(number)).take(hangers));
    }
    heights
}

/// Hangers along a drop, beyond the bracket at its foot.
fn hangers_of(drop: &Drop, library: &Library) -> usize {
    let spacing = library.systems()[drop.system].upright_spacing;
    let hangers = drop.down.stretches_of(spacing).saturating_sub(1);
    usize::try_from(hangers).unwrap_or(0)
}

/// Counts every support.
pub(super) fn count(network: &Network, library: &Library, tally: &mut Tally<'_>) {
    for hanger in hangers(network, library) {
        tally.part(
            "hanger",
            hanger.system,
            PartSize::one(hanger.size),
            Seat::supports(hanger.from, hanger.to),
            Why::Carries,
        );
    }
    for drop in &network.drops {
        let size = PartSize::one(drop.size);
        let at = Seat::supports(drop.foot_at, drop.foot_at);
        tally.part("wall-bracket", drop.system, size, at, Why::HoldsFoot);
        for _ in 0..hangers_of(drop, library) {
            tally.part("hanger", drop.system, size, at, Why::Carries);
        }
    }
}

#[derive(Clone, Copy)]
struct Line {
    direction: Direction,
    size: Size,
    system: usize,
    state: State,
}

impl Line {
    /// The places to which main of this size goes on in line from `at`, tees
    /// included.
    fn follow(
        self,
        network: &Network,
        seen: &mut [bool],
        mut at: NodeId,
        onward: Direction,
    ) -> Vec<NodeId> {
        let mut places = Vec::new();
        while let Some((link, far)) = self.next(network, seen, at, onward) {
            seen[link.index()] = true;
            places.push(far);
            at = far;
        }
        places
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
                    && link.is_main()
                    && link.size == self.size
                    && link.system == self.system
                    && network.link_state(end.link) == self.state
                    && !seen[end.link.index()]
            })
            .map(|end| (end.link, end.far))
    }

    /// The hangers along the straight through these places.
    fn hangers(self, network: &Network, library: &Library, places: &[NodeId]) -> Vec<Hanger> {
        let mut length = Length::ZERO;
        let mut heights = Vec::new();
        for (index, place) in places.iter().enumerate() {
            let before = index.checked_sub(1).map(|before| places[before]);
            if let Some(before) = before {
                length += self.pipe(network, before, *place);
            }
            heights.push((length, network.node(*place).at.up));
        }
        let (Some(from), Some(to)) = (places.first(), places.last()) else {
            return Vec::new();
        };
        let count = self.spacing(library, length).map_or(0, |spacing| {
            i64::try_from(length.stretches_of(spacing)).unwrap_or(0)
        });
        (0..count)
            .filter_map(|number| {
                let along = length.scaled(2 * number + 1, 2 * count);
                let (on, beyond) = self.pipe_at(network, places, &heights, along)?;
                Some(Hanger {
                    from: *from,
                    to: *to,
                    along,
                    on,
                    beyond,
                    height: between(&heights, along),
                    size: self.size,
                    system: self.system,
                })
            })
            .collect()
    }

    /// The pipe between two neighbouring places.
    fn pipe(self, network: &Network, from: NodeId, to: NodeId) -> Length {
        self.link(network, from, to)
            .and_then(|link| network.link(link).pipe)
            .unwrap_or_default()
    }

    fn link(self, network: &Network, from: NodeId, to: NodeId) -> Option<LinkId> {
        let mut ends = network.ends(from);
        let end = ends.find(|end| end.far == to && end.direction == self.direction)?;
        Some(end.link)
    }

    /// The pipe that lies so far along the straight, and how far that is from the
    /// pipe's own first place.
    fn pipe_at(
        self,
        network: &Network,
        places: &[NodeId],
        heights: &[(Length, Length)],
        along: Length,
    ) -> Option<(LinkId, Length)> {
        let next = heights
            .iter()
            .position(|(reached, _)| *reached >= along)?
            .max(1);
        let (before, after) = (*places.get(next - 1)?, *places.get(next)?);
        let link = self.link(network, before, after)?;
        let beyond = if network.ends_of(link)[0] == before {
            along - heights[next - 1].0
        } else {
            heights[next].0 - along
        };
        Some((link, beyond))
    }

    /// How far apart hangers may stand; none where the pipe carries itself.
    fn spacing(self, library: &Library, length: Length) -> Option<Length> {
        let system = &library.systems()[self.system];
        if self.direction.is_level() {
            system.row(self.size).map(|row| row.support)
        } else if length < system.upright_free {
            None
        } else {
            Some(system.upright_spacing)
        }
    }
}
