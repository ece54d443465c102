//! Where pipe goes through walls.

use crate::Plan;
use crate::job::Wall;
use crate::network::{Extent, LinkId, NodeId, Point, SLACK, Walls};
use crate::quantity::Length;

/// A place where pipe goes through a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crossing {
    /// Where.
    pub at: Point,
    /// The pipe.
    pub link: LinkId,
    /// The wall.
    pub wall: Wall,
}

/// Where level main goes through walls: pipe that comes from outside and ends on a
/// wall goes through it if main goes on from there inside.
#[must_use]
pub fn crossings(plan: &Plan, walls: &[Walls], links: &[LinkId]) -> Vec<Crossing> {
    let network = &plan.network;
    let mut found: Vec<Crossing> = Vec::new();
    for id in links {
        let link = network.link(*id);
        let Some(length) = link.pipe.filter(|_| link.direction.is_level()) else {
            continue;
        };
        let ends = network.ends_of(*id);
        let [from, to] = ends.map(|end| network.node(end).at);
        for room in walls {
            let inside = &room.inside;
            let held = [inside.holds(from), inside.holds(to)];
            let Some((enter, leave)) = within(inside, from, to) else {
                continue;
            };
            for (share, outside, end) in [(enter, held[0], ends[1]), (leave, held[1], ends[0])] {
                // An end on the wall goes through where main goes on inside.
                let touches = enter + 1e-6 >= leave;
                if outside || (touches && !goes_on(plan, end, *id, inside)) {
                    continue;
                }
                let at = between(from, to, share);
                let near = |one: &Crossing| {
                    let (east, north) = (one.at.east - at.east, one.at.north - at.north);
                    east.abs() <= SLACK && north.abs() <= SLACK
                };
                if length > Length::ZERO && !found.iter().any(near) {
                    found.push(Crossing {
                        at,
                        link: *id,
                        wall: wall_at(inside, at),
                    });
                }
            }
        }
    }
    found
}

fn goes_on(plan: &Plan, end: NodeId, by: LinkId, inside: &Extent) -> bool {
    let network = &plan.network;
    inside.holds(network.node(end).at)
        && network.ends(end).any(|other| {
            other.link != by
                && network.link(other.link).is_main()
                && inside.holds(network.node(other.far).at)
        })
}

/// The shares of a line between which it lies in a rectangle.
fn within(inside: &Extent, from: Point, to: Point) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let slack = SLACK.mm();
    for (start, end, low, high) in [
        (from.east, to.east, inside.west, inside.east),
        (from.north, to.north, inside.south, inside.north),
    ] {
        let (start, step) = (start.mm(), (end - start).mm());
        let (low, high) = (low.mm(), high.mm());
        if step.abs() < 1e-6 {
            if start < low - slack || start > high + slack {
                return None;
            }
            continue;
        }
        let (one, other) = ((low - start) / step, (high - start) / step);
        let over = slack / step.abs();
        let (first, last) = (one.min(other), one.max(other));
        if first > 1.0 + over || last < -over {
            return None;
        }
        enter = enter.max(first.min(1.0));
        leave = leave.min(last.max(0.0));
    }
    (enter <= leave + 1e-6).then_some((enter, leave))
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a place between two places of the site"
)]
fn between(from: Point, to: Point, share: f64) -> Point {
    let part = |a: Length, b: Length| a + Length::from_nm(((b - a).mm() * share * 1e6) as i64);
    Point {
        east: part(from.east, to.east),
        north: part(from.north, to.north),
        up: part(from.up, to.up),
    }
}

/// The wall that is nearest to a place on the edge.
fn wall_at(inside: &Extent, at: Point) -> Wall {
    let walls = [
        (Wall::North, at.north - inside.north),
        (Wall::South, at.north - inside.south),
        (Wall::East, at.east - inside.east),
        (Wall::West, at.east - inside.west),
    ];
    let nearest = walls.into_iter().min_by_key(|(_, off)| off.abs());
    nearest.map_or(Wall::North, |(wall, _)| wall)
}
