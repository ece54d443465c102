//! The lengths that a walk is made of, one by one.

use crate::job::Job;
use crate::quantity::Length;
use crate::source::Span;

/// A length of the walk, as it was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Typed {
    Port(usize),
    Main,
    EastWest(usize),
    NorthSouth(usize),
    Eave(usize),
    Straight(usize, usize),
    Mark(usize, usize),
}

impl Typed {
    /// All of a job, in walking order.
    pub(super) fn all(job: &Job) -> Vec<Self> {
        let mut all: Vec<Self> = (0..job.supplies.len()).map(Self::Port).collect();
        all.push(Self::Main);
        for (number, room) in job.rooms.iter().enumerate() {
            if room.east_west > Length::ZERO {
                all.extend([Self::EastWest(number), Self::NorthSouth(number)]);
            }
            // What the main is held against is the eave of where it starts.
            let starts_here = job.room_of(0) == Some(number);
            all.extend((room.eave.is_some() && starts_here).then_some(Self::Eave(number)));
        }
        for (number, leg) in job.legs.iter().enumerate() {
            all.extend((0..leg.straights.len()).map(|one| Self::Straight(number, one)));
            all.extend((0..leg.marks.len()).map(|one| Self::Mark(number, one)));
        }
        all
    }

    fn of(self, job: &mut Job) -> Option<&mut Length> {
        match self {
            Self::Port(supply) => Some(&mut job.supplies.get_mut(supply)?.height.value),
            Self::Main => Some(&mut job.main.height.value),
            Self::EastWest(room) => Some(&mut job.rooms.get_mut(room)?.east_west),
            Self::NorthSouth(room) => Some(&mut job.rooms.get_mut(room)?.north_south),
            Self::Eave(room) => Some(&mut job.rooms.get_mut(room)?.eave.as_mut()?.value),
            Self::Straight(leg, straight) => {
                let leg = job.legs.get_mut(leg)?;
                Some(&mut leg.straights.get_mut(straight)?.value.length)
            }
            Self::Mark(leg, mark) => {
                let leg = job.legs.get_mut(leg)?;
                Some(&mut leg.marks.get_mut(mark)?.reading.value)
            }
        }
    }

    /// The job with this length changed; none if nothing would be left of it.
    pub(super) fn changed(self, job: &Job, by: Length) -> Option<(Job, Length)> {
        let mut other = job.clone();
        let length = self.of(&mut other)?;
        *length += by;
        let value = *length;
        let least = match self {
            Self::Straight(..) | Self::EastWest(_) | Self::NorthSouth(_) => Length::from_nm(1),
            Self::Port(_) | Self::Main | Self::Eave(_) | Self::Mark(..) => Length::ZERO,
        };
        (value >= least).then_some((other, value))
    }

    /// Where it stands in the file.
    pub(super) fn span(self, job: &Job) -> Span {
        match self {
            Self::Port(supply) => job.supplies[supply].height.span,
            Self::Main => job.main.height.span,
            Self::EastWest(room) | Self::NorthSouth(room) => job.rooms[room].name.span,
            Self::Eave(room) => {
                let eave = job.rooms[room].eave;
                eave.map_or(job.rooms[room].name.span, |eave| eave.span)
            }
            Self::Straight(leg, straight) => job.legs[leg].straights[straight].span,
            Self::Mark(leg, mark) => job.legs[leg].marks[mark].reading.span,
        }
    }

    /// What it is the length of.
    pub(super) fn words(self, job: &Job) -> String {
        let room = |room: usize| &job.rooms[room].name.value;
        match self {
            Self::Port(supply) => {
                format!(
                    "the height of the port of {}",
                    job.supplies[supply].name.value
                )
            }
            Self::Main => "the height of the main".to_owned(),
            Self::EastWest(number) => format!("{} from east to west", room(number)),
            Self::NorthSouth(number) => format!("{} from north to south", room(number)),
            Self::Eave(number) => format!("the eave of {}", room(number)),
            Self::Straight(leg, straight) => {
                let leg = &job.legs[leg];
                let way = leg.straights[straight].value.direction.word();
                format!("{}, {way}", leg.label())
            }
            Self::Mark(leg, mark) => {
                let leg = &job.legs[leg];
                format!(
                    "where {} stands on {}",
                    leg.marks[mark].name.value,
                    leg.label()
                )
            }
        }
    }
}
