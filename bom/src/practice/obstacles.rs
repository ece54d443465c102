//! How pipe passes what stands in its way.

use super::Context;
use crate::job::Obstacle;
use crate::network::{LinkId, Owner, Point};
use crate::quantity::Length;

/// Pipe that touches an obstacle, or leaves less free than it must.
pub(super) struct Pass<'a> {
    pub(super) obstacle: &'a Obstacle,
    /// `the main on leg 3 (north wall)`.
    pub(super) pipe: String,
    /// Whether it is upright.
    pub(super) upright: bool,
    /// What is free between the two; none if they touch.
    pub(super) free: Option<Length>,
    /// On which side of it: `under`.
    pub(super) side: &'static str,
    /// The height of the pipe's centre there.
    pub(super) up: Length,
    /// The shortest ways out: how far, and `lower`, `higher` or `further north`.
    pub(super) ways: Vec<(Length, &'static str)>,
}

/// Each obstacle's nearest pipe of each leg, drop and drain.
pub(super) fn passes<'a>(context: Context<'a>) -> Vec<Pass<'a>> {
    let mut found: Vec<Pass<'_>> = Vec::new();
    for obstacle in &context.job.obstacles {
        let of_this = found.len();
        let [low, high] = context.network.placed(obstacle).map(mm);
        let mut walls = context.network.walls.iter();
        let walls = walls.find(|walls| walls.known && Some(walls.room) == obstacle.room);
        // No pipe moves through a wall.
        let inside = walls.map_or([f64::MAX; 4], |walls| {
            let inside = &walls.inside;
            [inside.north, -inside.south, inside.east, -inside.west].map(Length::mm)
        });
        for (id, from, to, link) in context.network.links() {
            if link.pipe.is_none() {
                continue;
            }
            let system = &context.library.systems()[link.system];
            let outside = system
                .row(link.size)
                .map_or(Length::ZERO, |row| row.outside);
            let half = outside.scaled(1, 2);
            let [from, to] = [from, to].map(|place| mm(context.network.node(place).at));
            let boxed = Boxed { low, high };
            let at = boxed.nearest(from, to);
            let free = boxed.distance(at) - half.mm();
            if free >= obstacle.clear.mm() - 0.5 {
                continue;
            }
            let upright = !link.direction.is_level();
            let pass = Pass {
                obstacle,
                pipe: context.pipe_words(id),
                upright,
                free: (free > 0.5).then(|| from_mm(free)),
                side: boxed.side(at),
                up: from_mm(at[2]),
                ways: boxed.ways([from, to], (half + obstacle.clear).mm(), upright, &inside),
            };
            let known = found[of_this..]
                .iter()
                .position(|one| one.pipe == pass.pipe);
            match known.map(|known| of_this + known) {
                Some(known) if pass.free < found[known].free => found[known] = pass,
                Some(_) => {}
                None => found.push(pass),
            }
        }
    }
    found
}

type At = [f64; 3];

fn mm(at: Point) -> At {
    [at.east.mm(), at.north.mm(), at.up.mm()]
}

/// To the sixteenth of an inch below.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a distance within a site, of no more than some kilometres"
)]
fn from_mm(mm: f64) -> Length {
    Length::from_64ths((mm / 25.4 * 16.0) as i64 * 4)
}

struct Boxed {
    low: At,
    high: At,
}

impl Boxed {
    /// How far a place is outside along each axis: less than nothing towards the lower side.
    fn outside(&self, at: At) -> At {
        [0, 1, 2].map(|axis| {
            if at[axis] < self.low[axis] {
                at[axis] - self.low[axis]
            } else {
                (at[axis] - self.high[axis]).max(0.0)
            }
        })
    }

    fn distance(&self, at: At) -> f64 {
        let by = self.outside(at);
        (by[0] * by[0] + by[1] * by[1] + by[2] * by[2]).sqrt()
    }

    /// The place of a straight that is nearest: the distance to a box has one least.
    fn nearest(&self, from: At, to: At) -> At {
        let at = |share: f64| [0, 1, 2].map(|axis| from[axis] + share * (to[axis] - from[axis]));
        let (mut low, mut high) = (0.0_f64, 1.0_f64);
        for _ in 0..80 {
            let (left, right) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if self.distance(at(left)) <= self.distance(at(right)) {
                high = right;
            } else {
                low = left;
            }
        }
        at(f64::midpoint(low, high))
    }

    fn side(&self, at: At) -> &'static str {
        let by = self.outside(at);
        let sides = [
            (-by[2], "under"),
            (by[2], "over"),
            (by[1], "north of"),
            (-by[1], "south of"),
            (by[0], "east of"),
            (-by[0], "west of"),
        ];
        let furthest = sides.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
        furthest.map_or("beside", |(_, side)| side)
    }

    /// How far a straight has to move so that so much lies between its centre and the box.
    /// Upright pipe moves level as far as the walls to the north, south, east and west.
    fn ways(
        &self,
        ends: [At; 2],
        apart: f64,
        upright: bool,
        inside: &[f64; 4],
    ) -> Vec<(Length, &'static str)> {
        let most = |axis: usize| ends[0][axis].max(ends[1][axis]);
        let least = |axis: usize| ends[0][axis].min(ends[1][axis]);
        let mut ways = match upright {
            true => {
                let ways = [
                    (self.high[1] + apart - least(1), "further north", most(1)),
                    (most(1) - self.low[1] + apart, "further south", -least(1)),
                    (self.high[0] + apart - least(0), "further east", most(0)),
                    (most(0) - self.low[0] + apart, "further west", -least(0)),
                ];
                let ways = ways.into_iter().zip(inside);
                let within = ways.filter(|((by, _, at), wall)| at + by <= **wall);
                within.map(|((by, way, _), _)| (by, way)).collect()
            }
            false => vec![
                (most(2) - self.low[2] + apart, "lower"),
                (self.high[2] + apart - least(2), "higher"),
            ],
        };
        ways.sort_by(|a, b| a.0.total_cmp(&b.0));
        // Moved by what is said, it is clear: upwards.
        let whole = |by: f64| from_mm(by) + Length::from_64ths(4);
        ways.truncate(2);
        ways.into_iter().map(|(by, way)| (whole(by), way)).collect()
    }
}

impl<'a> Context<'a> {
    /// What a pipe is part of.
    fn pipe_words(self, id: LinkId) -> String {
        let network = self.network;
        if let Some(leg) = network.link(id).leg {
            return format!("the main on {}", network.legs[leg].label);
        }
        let ends = network
            .ends_of(id)
            .map(|end| network.node(end).origin.owner);
        let hung = ends.into_iter().find_map(|owner| match owner {
            Owner::Outlet(outlet) => Some(format!("the drop of {}", network.drops[outlet].name)),
            Owner::Drain(drain) => Some(format!("the drain {}", network.drains[drain].name)),
            Owner::Leg(_) | Owner::Supply(_) => None,
        });
        hung.unwrap_or_else(|| "the pipe at the tank".to_owned())
    }
}
