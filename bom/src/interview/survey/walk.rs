//! The legs, from the tank on.

use super::{ENTRY, SUPPLY, Taped};
use crate::interview::answers::Answers;
use crate::interview::legs::Stretch;
use crate::interview::walls::place;
use crate::job::{Direction, Wall};
use crate::survey::{Leg, Mark};

impl Answers {
    /// From the tank up, and through the wall if it stands outside.
    pub(super) fn riser(&self) -> Leg {
        let height = self.height.unwrap_or(Taped::Open);
        let port = self.port.map_or(Taped::Open, |(port, ..)| port);
        let up = height.with(port, |height, port| height - port);
        let mut go = vec![(Direction::Up, self.text(up))];
        let outside = self.place.and_then(|at| Some((at.wall, at.outside?)));
        go.extend(outside.map(|(wall, far)| (inwards(wall), self.text(far))));
        Leg {
            remark: Some(match outside {
                Some(_) => "from the tank up, and in through the wall".to_owned(),
                None => "from the tank up".to_owned(),
            }),
            from: Some(SUPPLY.to_owned()),
            to: Some(ENTRY.to_owned()),
            go,
            ..Leg::default()
        }
    }

    pub(super) fn leg(&self, stretch: &Stretch) -> Leg {
        let marks = stretch.marks.iter().map(|mark| Mark {
            name: mark.name.clone(),
            reading: self.text(mark.reading),
            from_end: mark.back,
        });
        let wall = stretch.wall.word();
        Leg {
            remark: (!stretch.whole).then(|| format!("on the {wall} wall")),
            from: stretch.first.then(|| ENTRY.to_owned()),
            to: stretch.closes.then(|| ENTRY.to_owned()),
            along: stretch.whole.then(|| format!("{wall} wall")),
            go: vec![(stretch.direction, self.text(stretch.length))],
            marks: marks.collect(),
            ..Leg::default()
        }
    }
}

/// Into the shop through a wall.
const fn inwards(wall: Wall) -> Direction {
    match place(wall) {
        0 => Direction::South,
        1 => Direction::West,
        2 => Direction::North,
        _ => Direction::East,
    }
}
