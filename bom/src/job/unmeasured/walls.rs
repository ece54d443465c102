//! What walls and heights tell of a length.

use super::{Axis, Settling, step};
use crate::job::{Leg, Wall};
use crate::quantity::Length;

impl Settling<'_> {
    /// A leg along a wall is as long as the wall.
    pub(super) fn walls(&mut self) {
        for leg in 0..self.legs.len() {
            let Some((wall, axis)) = self.wall_of(&self.legs[leg]) else {
                continue;
            };
            let Some(one) = self.only_open(self.along(leg, axis)) else {
                continue;
            };
            let direction = self.legs[leg].straights[one.1].value.direction;
            let ahead = step(direction, axis);
            let others: Length = self
                .along(leg, axis)
                .filter(|other| *other != one)
                .map(|(leg, number)| {
                    let straight = self.legs[leg].straights[number].value;
                    straight
                        .length
                        .times(step(straight.direction, axis) * ahead)
                })
                .sum();
            self.take(one, wall - others, "the length of the wall");
        }
    }

    /// The length of the wall that a leg follows, and along which axis it runs.
    fn wall_of(&self, leg: &Leg) -> Option<(Length, Axis)> {
        let along = leg.along.as_ref()?;
        let room = match (&leg.room, self.rooms) {
            (None, [room]) => room,
            (None, _) => return None,
            (Some(name), rooms) => rooms.iter().find(|room| room.name.value == name.value)?,
        };
        Some(match along.value {
            Wall::North | Wall::South => (room.east_west, Axis::East),
            Wall::East | Wall::West => (room.north_south, Axis::North),
        })
    }

    /// The straights of a leg that run square along an axis.
    pub(super) fn along(&self, leg: usize, axis: Axis) -> impl Iterator<Item = (usize, usize)> {
        let straights = self.legs[leg].straights.iter().enumerate();
        straights
            .filter(move |(_, straight)| {
                let direction = straight.value.direction;
                !direction.is_diagonal() && step(direction, axis) != 0
            })
            .map(move |(number, _)| (leg, number))
    }

    /// The first rise from a supply leads to the height of the main.
    pub(super) fn risers(&mut self) {
        for supply in 0..self.supplies.len() {
            let name = &self.supplies[supply].name.value;
            let starts = |leg: &Leg| leg.from.as_ref().is_some_and(|from| from.value == *name);
            let Some(leg) = self.legs.iter().position(starts) else {
                continue;
            };
            let rise = self.legs[leg].straights.iter();
            let rise = rise.take_while(|straight| !straight.value.direction.is_level());
            let rise: Vec<(usize, usize)> = rise.enumerate().map(|(at, _)| (leg, at)).collect();
            let risen = |skip: Option<(usize, usize)>| -> Length {
                let straights = rise.iter().filter(|one| Some(**one) != skip);
                straights
                    .map(|(leg, at)| {
                        let straight = self.legs[*leg].straights[*at].value;
                        straight.length.times(step(straight.direction, Axis::Up))
                    })
                    .sum()
            };
            let (port, main) = (self.supplies[supply].height, self.main.height);
            if rise.is_empty() {
                continue;
            }
            if let Some(one) = self.only_open(rise.iter().copied()) {
                let up = step(self.legs[leg].straights[one.1].value.direction, Axis::Up);
                let length = (main.value - port.value - risen(Some(one))).times(up);
                self.take(one, length, "what is left from the port up to the main");
            } else if self.is_open(port.span) && main.value > risen(None) {
                self.supplies[supply].height.value = main.value - risen(None);
                self.from
                    .insert(port.span, "the main's height less the rise");
            } else if supply == 0 && self.is_open(main.span) {
                self.main.height.value = port.value + risen(None);
                self.from
                    .insert(main.span, "the port's height and the rise");
            }
        }
    }
}
