//! A ring comes back to where it began: what it misses is its one guessed length.

use super::{Axis, Settling, step};
use crate::job::Direction;
use crate::quantity::Length;
use std::collections::{BTreeMap, BTreeSet};

impl Settling<'_> {
    /// A ring comes back to where it began.
    pub(super) fn rings(&mut self) {
        let mut settled = true;
        while settled {
            settled = false;
            for closing in self.closings() {
                for axis in [Axis::East, Axis::North, Axis::Up] {
                    let around = closing.around.iter();
                    let straights = around.flat_map(|leg| self.along(*leg, axis));
                    let straights: Vec<(usize, usize)> = straights.collect();
                    let Some((leg, number)) = self.only_open(straights.into_iter()) else {
                        continue;
                    };
                    let straight = self.legs[leg].straights[number].value;
                    // On the way there the walk goes on; on the way back it came from there.
                    let there = closing.there.contains(&leg);
                    let way = step(straight.direction, axis) * if there { -1 } else { 1 };
                    let length = straight.length - closing.miss[axis.index()].times(way);
                    let before = self.from.len();
                    self.take((leg, number), length, "what closes the ring");
                    settled |= self.from.len() > before;
                }
                if settled {
                    break;
                }
            }
        }
    }

    /// Every leg that comes back to a place that stands already.
    fn closings(&self) -> Vec<Closing> {
        let mut places: BTreeMap<&str, ([Length; 3], Option<usize>)> = BTreeMap::new();
        for supply in self.supplies.iter() {
            let at = [Length::ZERO, Length::ZERO, supply.height.value];
            places.insert(&supply.name.value, (at, None));
        }
        let mut ends: Vec<Option<[Length; 3]>> = vec![None; self.legs.len()];
        let mut before: Vec<Option<usize>> = vec![None; self.legs.len()];
        let mut closings = Vec::new();
        let mut waiting: Vec<usize> = (0..self.legs.len()).collect();
        while let Some(next) = waiting.iter().position(|leg| {
            let from = &self.legs[*leg].from;
            match from {
                Some(from) => places.contains_key(from.value.as_str()),
                None => leg
                    .checked_sub(1)
                    .is_some_and(|before| ends[before].is_some()),
            }
        }) {
            let index = waiting.remove(next);
            let leg = &self.legs[index];
            let start = match &leg.from {
                Some(from) => places.get(from.value.as_str()).copied(),
                None => index
                    .checked_sub(1)
                    .and_then(|before| Some((ends[before]?, Some(before)))),
            };
            let Some((mut at, from)) = start.filter(|_| !leg.straights.is_empty()) else {
                continue;
            };
            before[index] = from;
            let mut walked = Length::ZERO;
            for straight in &leg.straights {
                let end = walked + straight.value.length;
                for mark in &leg.marks {
                    let reading = match mark.back {
                        true => leg.length() - mark.reading.value,
                        false => mark.reading.value,
                    };
                    if reading > walked && reading <= end {
                        let there = moved(at, straight.value.direction, reading - walked);
                        let place = (there, Some(index));
                        places.entry(&mark.name.value).or_insert(place);
                    }
                }
                at = moved(at, straight.value.direction, straight.value.length);
                walked = end;
            }
            ends[index] = Some(at);
            let Some(to) = &leg.to else { continue };
            let Some((stands, placed_by)) = places.get(to.value.as_str()).copied() else {
                places.insert(&to.value, (at, Some(index)));
                continue;
            };
            let chain = |last: Option<usize>| -> BTreeSet<usize> {
                std::iter::successors(last, |leg| before[*leg]).collect()
            };
            let (there, back) = (chain(placed_by), chain(Some(index)));
            closings.push(Closing {
                miss: [0, 1, 2].map(|axis| at[axis] - stands[axis]),
                around: &there ^ &back,
                there: &there - &back,
            });
        }
        closings
    }
}

/// A leg that comes back to a place.
struct Closing {
    /// How far past the place it ends, east, north and up.
    miss: [Length; 3],
    /// The legs of the ring.
    around: BTreeSet<usize>,
    /// Those of them on the way that led to the place first.
    there: BTreeSet<usize>,
}

fn moved(at: [Length; 3], direction: Direction, by: Length) -> [Length; 3] {
    let (east, north, up) = direction.displacement(by);
    [at[0] + east, at[1] + north, at[2] + up]
}
