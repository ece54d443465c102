//! Where the walls of rooms stand. A job says how large a room is, and where its
//! walls are only by the legs that run along them.

use super::{Lay, Point};
use crate::finding::Finding;
use crate::job::{Job, Wall};
use crate::quantity::Length;

/// What readings of one wall may differ by.
pub(crate) const SLACK: Length = Length::from_64ths(4);

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

    /// How far a point lies outside, and beyond which wall: of two the one that is further.
    pub(crate) fn beyond(&self, at: Point) -> Option<(Length, Wall)> {
        let outside = [
            (at.north - self.north, Wall::North),
            (self.south - at.north, Wall::South),
            (at.east - self.east, Wall::East),
            (self.west - at.east, Wall::West),
        ];
        let beyond = outside.into_iter().filter(|(by, _)| *by > SLACK);
        beyond.max_by_key(|(by, _)| *by)
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

/// Legs along walls of one room may put it so far apart before it is said: pipe does not
/// run on the wall itself. Common practice, no source.
const ROOM_MISFIT: Length = Length::from_64ths(3 * 64);

/// Places every room that has a size and in which pipe stands, by the corners of legs.
pub(super) fn walls(job: &Job, legs: &[Vec<Point>]) -> Vec<Walls> {
    let extent = |leg: usize| Extent::around(legs.get(leg)?.iter().copied());
    let found = job.rooms.iter().enumerate().filter_map(|(index, room)| {
        if room.east_west <= Length::ZERO || room.north_south <= Length::ZERO {
            return None;
        }
        let stated = stated(job, index, &extent);
        let around = || {
            let of_room = (0..job.legs.len()).filter(|leg| job.room_of(*leg) == Some(index));
            let extents = of_room.filter_map(extent);
            extents.reduce(|all, one| all.with(&one))
        };
        let inside = match stated.first() {
            Some((_, first)) => *first,
            None => centred(around()?, (room.east_west, room.north_south)),
        };
        Some(Walls {
            room: index,
            name: room.name.value.clone(),
            inside,
            known: !stated.is_empty(),
            agreed: stated.iter().all(|(_, one)| one.is_near(&inside)),
        })
    });
    found.collect()
}

/// Where each leg along a wall of a room puts that room.
fn stated(
    job: &Job,
    room: usize,
    extent: &impl Fn(usize) -> Option<Extent>,
) -> Vec<(usize, Extent)> {
    let size = (job.rooms[room].east_west, job.rooms[room].north_south);
    let legs = job.legs.iter().enumerate();
    let along = legs.filter_map(|(leg, of)| {
        let wall = of.along?.value;
        let here = job.room_of(leg) == Some(room);
        Some((leg, by_leg(extent(leg).filter(|_| here)?, wall, size)?))
    });
    along.collect()
}

/// Legs along walls of one room put it in one place.
pub(super) fn agree(job: &Job, lay: &Lay, findings: &mut Vec<Finding>) {
    let extent = |leg: usize| Extent::around(lay.legs.get(leg)?.iter().copied());
    for walls in &lay.walls {
        for pair in stated(job, walls.room, &extent).windows(2) {
            let [(before, first), (leg, second)] = pair else {
                continue;
            };
            let apart = [
                (second.west - first.west, "east", "west"),
                (second.south - first.south, "north", "south"),
            ];
            let off: Vec<String> = apart
                .into_iter()
                .filter(|(by, ..)| by.abs() > ROOM_MISFIT)
                .map(|(by, ahead, back)| {
                    let way = if by > Length::ZERO { ahead } else { back };
                    format!("{} further {way}", by.abs().show(job.units))
                })
                .collect();
            if off.is_empty() {
                continue;
            }
            let span = |leg: usize| {
                let along = job.legs[leg].along.as_ref();
                along.map_or(job.legs[leg].span, |along| along.span)
            };
            findings.push(
                Finding::warning(
                    "room-misfit",
                    span(*leg),
                    format!(
                        "by {} `{}` stands {} than by {}",
                        job.legs[*leg].label(),
                        walls.name,
                        off.join(" and "),
                        job.legs[*before].label()
                    ),
                    "look for a leg between the two that is left out, is written twice, goes the wrong way or has a wrong length",
                )
                .related(span(*before), "the wall before it"),
            );
        }
    }
}

/// What stands on legs of a room stands in it.
pub(super) fn hold(job: &Job, lay: &Lay, findings: &mut Vec<Finding>) {
    for (number, leg) in job.legs.iter().enumerate() {
        let room = job.room_of(number);
        let mut walls = lay.walls.iter();
        let Some(walls) = walls.find(|walls| walls.known && Some(walls.room) == room) else {
            continue;
        };
        let inside = &walls.inside;
        for name in leg.names() {
            let Some(at) = lay.places.get(&name.value) else {
                continue;
            };
            if let Some((by, wall)) = inside.beyond(*at).filter(|(by, _)| *by > ROOM_MISFIT) {
                findings.push(
                    Finding::warning(
                        "outside-its-room",
                        name.span,
                        format!(
                            "`{}` stands {} outside the {} wall of `{}`",
                            name.value,
                            by.show(job.units),
                            wall.word(),
                            walls.name
                        ),
                        "look for a wrong length or a wrong way before it; if it does stand there, say in which room its leg is: room = \"outdoors\"",
                    )
                    .related(leg.span, leg.label()),
                );
            }
        }
    }
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
