//! What a tape reads between two places of the walk.

use crate::job::{Job, Spot, Wall};
use crate::network::{Lay, Point, Walls};
use crate::quantity::Length;

/// The length from one end of a tape to the other; none where the walk does not lead
/// there, or nothing says where the walls are.
#[must_use]
pub fn measure(
    job: &Job,
    lay: &Lay,
    from: &Spot,
    to: &Spot,
    room: Option<usize>,
) -> Option<Length> {
    let walls = || {
        let mut walls = lay.walls.iter();
        walls.find(|walls| Some(walls.room) == room)
    };
    match (from, to) {
        // Between corners of one room its place says nothing.
        (Spot::Corner(north, east), Spot::Corner(other_north, other_east)) => {
            let room = job.rooms.get(room?)?;
            let apart = |differ: bool, by: Length| if differ { by } else { Length::ZERO };
            Some(hypotenuse(
                apart(east != other_east, room.east_west),
                apart(north != other_north, room.north_south),
            ))
        }
        (Spot::Place(name), Spot::Wall(wall)) | (Spot::Wall(wall), Spot::Place(name)) => {
            let at = lay.places.get(name)?;
            let inside = walls().filter(|walls| walls.known)?.inside;
            Some(match wall {
                Wall::North => (inside.north - at.north).abs(),
                Wall::South => (at.north - inside.south).abs(),
                Wall::East => (inside.east - at.east).abs(),
                Wall::West => (at.east - inside.west).abs(),
            })
        }
        (Spot::Floor | Spot::Eave, _) | (_, Spot::Floor | Spot::Eave) => {
            let up = |spot: &Spot| match spot {
                Spot::Floor => Some(Length::ZERO),
                Spot::Eave => Some(job.rooms.get(room?)?.eave?.value),
                Spot::Main => Some(job.main.height.value),
                Spot::Place(name) => {
                    let mut supplies = job.supplies.iter();
                    let supply = supplies.find(|supply| supply.name.value == *name)?;
                    Some(supply.height.value)
                }
                Spot::Corner(..) | Spot::Wall(_) => None,
            };
            Some((up(from)? - up(to)?).abs())
        }
        _ => {
            let [from, to] = [from, to].map(|spot| at(lay, spot, walls()));
            let (from, to) = (from?, to?);
            Some(hypotenuse(to.east - from.east, to.north - from.north))
        }
    }
}

fn at(lay: &Lay, spot: &Spot, walls: Option<&Walls>) -> Option<Point> {
    match spot {
        Spot::Place(name) => lay.places.get(name).copied(),
        Spot::Corner(north, east) => {
            let inside = walls.filter(|walls| walls.known)?.inside;
            Some(Point {
                east: if *east { inside.east } else { inside.west },
                north: if *north { inside.north } else { inside.south },
                ..Point::default()
            })
        }
        Spot::Wall(_) | Spot::Floor | Spot::Eave | Spot::Main => None,
    }
}

/// To the nanometre below, in whole numbers.
fn hypotenuse(across: Length, down: Length) -> Length {
    let square = |one: Length| u128::from(one.nm().unsigned_abs()).pow(2);
    let root = (square(across) + square(down)).isqrt();
    Length::from_nm(i64::try_from(root).unwrap_or(i64::MAX))
}
