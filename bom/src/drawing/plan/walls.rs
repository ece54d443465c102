//! Where the walls of rooms stand. A job says how large a room is, and where its
//! walls are only by the legs that run along them.

use crate::Plan;
use crate::job::Wall;
use crate::network::{LinkId, NodeId, Point, Rooms};
use crate::quantity::Length;

/// What readings of one wall may differ by.
const SLACK: Length = Length::from_64ths(4);

/// A rectangle of the ground, east and north of the first tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Extent {
    /// Its west side.
    pub west: Length,
    /// Its south side.
    pub south: Length,
    /// Its east side.
    pub east: Length,
    /// Its north side.
    pub north: Length,
}

impl Extent {
    /// The smallest that holds every point; none if there are none.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        let mut points = points.into_iter().map(|at| Self {
            west: at.east,
            south: at.north,
            east: at.east,
            north: at.north,
        });
        let first = points.next()?;
        Some(points.fold(first, |all, one| all.with(&one)))
    }

    /// The smallest that holds both.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        Self {
            west: self.west.min(other.west),
            south: self.south.min(other.south),
            east: self.east.max(other.east),
            north: self.north.max(other.north),
        }
    }

    /// Whether they share ground; a common wall is none.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.west + SLACK < other.east
            && other.west + SLACK < self.east
            && self.south + SLACK < other.north
            && other.south + SLACK < self.north
    }

    /// Whether a point lies in it or on its edge.
    #[must_use]
    pub fn holds(&self, at: Point) -> bool {
        self.west <= at.east + SLACK
            && at.east <= self.east + SLACK
            && self.south <= at.north + SLACK
            && at.north <= self.north + SLACK
    }

    fn is_near(&self, other: &Self) -> bool {
        let near = |a: Length, b: Length| (a - b).abs() <= SLACK;
        near(self.west, other.west) && near(self.south, other.south)
    }
}

/// A room with its place.
#[derive(Debug, Clone)]
pub struct Walls {
    /// Its index in the job.
    pub room: usize,
    /// Its name.
    pub name: String,
    /// The inside of its walls.
    pub inside: Extent,
    /// Whether legs along its walls say where these are; else they are drawn round
    /// its pipe.
    pub known: bool,
    /// Whether those legs agree.
    pub agreed: bool,
}

/// Places every room that has a size and in which pipe stands.
#[must_use]
pub fn walls(plan: &Plan) -> Vec<Walls> {
    let rooms = Rooms::of(&plan.job, &plan.network);
    let job = &plan.job;
    let found = job.rooms.iter().enumerate().filter_map(|(index, room)| {
        if room.east_west <= Length::ZERO || room.north_south <= Length::ZERO {
            return None;
        }
        let size = (room.east_west, room.north_south);
        let stated: Vec<Extent> = along(plan, index)
            .filter_map(|(leg, wall)| by_leg(of_leg(plan, leg)?, wall, size))
            .collect();
        let around = || {
            let links = plan.network.links();
            let of_room = links
                .filter(|(id, _, _, link)| link.is_main() && rooms.of_link(*id) == Some(index));
            let points = of_room.flat_map(|(_, from, to, _)| [from, to]);
            Extent::around(points.map(|id| plan.network.node(id).at))
        };
        let inside = match stated.first() {
            Some(first) => *first,
            None => centred(around()?, size),
        };
        Some(Walls {
            room: index,
            name: room.name.value.clone(),
            inside,
            known: !stated.is_empty(),
            agreed: stated.iter().all(|one| one.is_near(&inside)),
        })
    });
    found.collect()
}

/// The legs along walls of a room.
fn along(plan: &Plan, room: usize) -> impl Iterator<Item = (usize, Wall)> {
    let legs = plan.job.legs.iter().enumerate();
    legs.filter_map(move |(index, leg)| {
        let wall = leg.along?.value;
        (plan.job.room_of(index) == Some(room)).then_some((index, wall))
    })
}

fn of_leg(plan: &Plan, leg: usize) -> Option<Extent> {
    let links = plan.network.links();
    let of_leg = links.filter(|(_, _, _, link)| link.leg == Some(leg));
    let points = of_leg.flat_map(|(_, from, to, _)| [from, to]);
    Extent::around(points.map(|id| plan.network.node(id).at))
}

/// A leg along a wall is as long as that wall, and so says where all four are.
fn by_leg(leg: Extent, wall: Wall, (across, down): (Length, Length)) -> Option<Extent> {
    let (west, south) = match wall {
        Wall::North => (leg.west, leg.north - down),
        Wall::South | Wall::West => (leg.west, leg.south),
        Wall::East => (leg.east - across, leg.south),
    };
    Some(Extent {
        west,
        south,
        east: west + across,
        north: south + down,
    })
}

/// A room with its pipe in the middle.
fn centred(pipe: Extent, (across, down): (Length, Length)) -> Extent {
    let west = (pipe.west + pipe.east - across).scaled(1, 2);
    let south = (pipe.south + pipe.north - down).scaled(1, 2);
    Extent {
        west,
        south,
        east: west + across,
        north: south + down,
    }
}

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
