//! What somebody has said of a shop, read.

use super::{reading::Taped, walls};
use crate::job::Wall;
use crate::library::Gender;
use crate::quantity::{AirFlow, Length, Pressure, Size, Temperature, Units, Volume};

/// The answers. What is `None` has not been asked yet.
#[derive(Debug, Clone, Default)]
pub struct Answers {
    /// How lengths are read and written.
    pub units: Option<Units>,
    /// The wall of the main door.
    pub door: Option<Wall>,
    /// East-west, north-south and the height of the eave, which may be open.
    pub room: Option<[Taped; 3]>,
    /// Where the compressor stands.
    pub place: Option<Corner>,
    /// The outlet on its tank: height, thread and which thread it is.
    pub port: Option<(Taped, Size, Gender)>,
    /// What its plate says.
    pub plate: Option<Plate>,
    /// The height of the main.
    pub height: Option<Taped>,
    /// What is in the way up there; empty for nothing.
    pub above: Option<String>,
    /// The walls that the main follows.
    pub walls: Option<Vec<Wall>>,
    /// Whether it is a ring.
    pub ring: bool,
    /// The outlets, wall by wall.
    pub spots: Vec<Spot>,
    /// The walls whose outlets are all told.
    pub told: Vec<Wall>,
    /// The height of the outlets.
    pub outlets_at: Option<Taped>,
    /// What is used at each outlet, as far as asked: names, and what a tool takes that
    /// is in no list.
    pub tools: Vec<Vec<(String, Option<AirFlow>)>>,
    /// How many use air at the same time.
    pub people: Option<u8>,
    /// The coldest that it gets; the inner one is open if nobody knows.
    pub coldest: Option<Option<Temperature>>,
    /// The outlets whose air is for paint.
    pub paint: Option<Vec<String>>,
    /// The wall at which water gathers, with the distance if it was said; none where
    /// it runs back to the tank.
    pub low: Option<Option<Corner>>,
    /// The pipe systems to weigh up, the job's own first.
    pub systems: Option<Vec<String>>,
    /// Who puts it up.
    pub who: Option<Who>,
    /// What is to be measured or read off before anything is bought.
    pub confirm: Vec<String>,
}

/// A place along a wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Corner {
    /// The wall.
    pub wall: Wall,
    /// From its left corner, as one faces it; open if nothing was said.
    pub from_left: Taped,
    /// How far outside the wall it is; none if inside.
    pub outside: Option<Taped>,
}

/// An outlet along a wall.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spot {
    /// Its name.
    pub name: String,
    /// The wall.
    pub wall: Wall,
    /// How far, read from the left corner or from the right one.
    pub reading: Taped,
    /// From which.
    pub by: By,
}

/// The corner that a tape is hooked in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// The left one, as one faces the wall.
    Left,
    /// The right one.
    Right,
}

/// What a compressor's plate says.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Plate {
    /// Free air delivered, as it stands there or by the power.
    pub free_air: Option<AirFlow>,
    /// The horsepower that the air was worked out from.
    pub power: Option<f64>,
    /// Pressure at which it starts.
    pub cut_in: Option<Pressure>,
    /// Pressure at which it stops.
    pub cut_out: Option<Pressure>,
    /// Volume of the tank.
    pub tank: Option<Volume>,
}

/// Who puts the pipe up, and where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Who {
    /// The owner, at home.
    Home,
    /// The owner, in a business.
    Business,
    /// A contractor.
    Contractor,
}

impl Answers {
    /// Feet until something else is said.
    #[must_use]
    pub fn in_units(&self) -> Units {
        self.units.unwrap_or_default()
    }

    /// The south wall until something else is said.
    pub(super) fn door_in(&self) -> Wall {
        self.door.unwrap_or(Wall::South)
    }

    /// How long a wall is.
    #[must_use]
    pub fn length_of(&self, wall: Wall) -> Taped {
        let [east_west, north_south, _] = self.room.unwrap_or([Taped::Open; 3]);
        match wall {
            Wall::North | Wall::South => east_west,
            Wall::East | Wall::West => north_south,
        }
    }

    /// The reading of an outlet from the left corner of its wall.
    #[must_use]
    pub fn from_left(&self, spot: &Spot) -> Taped {
        match spot.by {
            By::Left => spot.reading,
            By::Right => self
                .length_of(spot.wall)
                .with(spot.reading, |wall, reading| wall - reading),
        }
    }

    /// The compressor's wall.
    pub(super) fn start(&self) -> Wall {
        self.place
            .map_or(walls::on(self.door_in(), 1), |place| place.wall)
    }

    /// A length as people of these units say it to one another: `12-6` or `3.8m`.
    pub(super) fn say(&self, length: Length) -> String {
        typed(length, self.in_units())
    }
}

/// A length as it is typed into an answer or a job: exact.
pub(super) fn typed(length: Length, units: Units) -> String {
    let part = Length::from_64ths(1).nm();
    if units == Units::Metric || length.nm() % part != 0 {
        return format!("{}mm", length.to_mm_text());
    }
    let parts = length.nm() / part;
    let (feet, inches, rest) = (parts / (64 * 12), parts / 64 % 12, parts % 64);
    match rest {
        0 => format!("{feet}-{inches}"),
        _ => {
            let common = 1_i64 << rest.trailing_zeros();
            format!("{feet}-{inches} {}/{}", rest / common, 64 / common)
        }
    }
}
