//! Where the walls of rooms stand. A job says how large a room is, and where its
//! walls are only by the legs that run along them.

use crate::Plan;
use crate::job::Wall;
use crate::network::{Point, Rooms};
use crate::quantity::Length;

/// What readings of one wall may differ by.
pub(super) const SLACK: Length = Length::from_64ths(4);

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
