//! The way of the main along the walls: a ring, or arms that leave the place where the
//! pipe from the compressor arrives.

use super::answers::Answers;
use super::reading::Taped;
use super::walls::{on, place};
use crate::job::Wall;
use crate::quantity::Length;

/// Walls in walking order, the compressor's first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Arm {
    pub(super) clockwise: bool,
    pub(super) walls: Vec<Wall>,
}

/// The walls that the main touches, in walking order; none before they are known.
pub(super) fn walls(answers: &Answers) -> Vec<Wall> {
    let mut walls = Vec::new();
    for wall in arms(answers).into_iter().flat_map(|arm| arm.walls) {
        if !walls.contains(&wall) {
            walls.push(wall);
        }
    }
    walls
}

/// The arms of the main: that of a ring goes all the way round.
pub(super) fn arms(answers: &Answers) -> Vec<Arm> {
    let (Some(named), Some(start)) = (&answers.walls, answers.place) else {
        return Vec::new();
    };
    let first = start.wall;
    let arm = |clockwise: bool, steps: usize| Arm {
        clockwise,
        walls: (0..=steps)
            .map(|step| on(first, if clockwise { step } else { 4 - step }))
            .collect(),
    };
    if answers.ring {
        return vec![arm(true, 3)];
    }
    let length = |wall: Wall| answers.length_of(wall).length().unwrap_or(Length::ZERO);
    let from_left = start.from_left.length().unwrap_or(Length::ZERO);
    let to_right = length(first) - from_left;
    let steps: Vec<usize> = named
        .iter()
        .map(|wall| (place(*wall) + 4 - place(first)) % 4)
        .filter(|steps| *steps > 0)
        .collect();
    // Walls up to so many steps on are reached clockwise, the others the other way.
    let split = |most: usize| {
        let on_way = steps.iter().copied().filter(|steps| *steps <= most).max();
        let back = steps.iter().copied().filter(|steps| *steps > most).min();
        (on_way, back.map(|steps| 4 - steps))
    };
    let walk = |(on_way, back): (Option<usize>, Option<usize>)| {
        let ahead = (1..=on_way.unwrap_or(0)).map(|step| length(on(first, step)));
        let behind = (1..=back.unwrap_or(0)).map(|step| length(on(first, 4 - step)));
        let here = on_way
            .map(|_| to_right)
            .into_iter()
            .chain(back.map(|_| from_left));
        ahead.chain(behind).chain(here).sum::<Length>()
    };
    let best = (0..4).map(split).min_by_key(|ways| walk(*ways));
    let (on_way, back) = best.unwrap_or_default();
    // Outlets on the compressor's own wall may stand to either side.
    let stands = |after: bool| {
        let here = answers.spots.iter().filter(|spot| spot.wall == first);
        let mut places = here.filter_map(|spot| answers.from_left(spot).length());
        places.any(|place| (place > from_left) == after)
    };
    let longer = to_right >= from_left;
    let nowhere = on_way.is_none() && back.is_none() && !stands(true) && !stands(false);
    let mut arms = Vec::new();
    if on_way.is_some() || stands(true) || (nowhere && longer) {
        arms.push(arm(true, on_way.unwrap_or(0)));
    }
    if back.is_some() || stands(false) || (nowhere && !longer) {
        arms.push(arm(false, back.unwrap_or(0)));
    }
    arms
}

/// What stands too near to a place on a wall, in words.
pub(super) fn near(answers: &Answers, wall: Wall, at: Length, apart: Length) -> Option<String> {
    let length = answers.length_of(wall).length().unwrap_or(Length::LONGEST);
    if at > length || at < Length::ZERO {
        return Some(format!(
            "The {} wall is {} long",
            wall.word(),
            answers.say(length)
        ));
    }
    let start = answers.place.filter(|start| start.wall == wall);
    let start = start.and_then(|start| start.from_left.length());
    let start = start.map(|at| (at, "The pipe from the compressor comes up"));
    let corners = [
        (Length::ZERO, "The left corner is"),
        (length, "The right corner is"),
    ];
    let fixed = corners.into_iter().chain(start);
    let fixed = fixed.map(|(at, what)| (at, what.to_owned()));
    let spots = answers.spots.iter().filter(|spot| spot.wall == wall);
    let spots = spots.filter_map(|spot| {
        let at = answers.from_left(spot).length()?;
        Some((at, format!("{} is", spot.name)))
    });
    let mut all = fixed.chain(spots);
    let (at, what) = all.find(|(other, _)| (*other - at).abs() < apart)?;
    Some(format!("{what} at {}", answers.say(at)))
}

/// Where a low point fits best on a wall: in the middle of its widest gap.
pub(super) fn widest_gap(answers: &Answers, wall: Wall) -> Taped {
    let whole = answers.length_of(wall);
    let spots = answers.spots.iter().filter(|spot| spot.wall == wall);
    let mut places: Vec<Taped> = spots.map(|spot| answers.from_left(spot)).collect();
    let Some(length) = whole.length().filter(|_| !places.contains(&Taped::Open)) else {
        return Taped::Open;
    };
    let start = answers.place.filter(|start| start.wall == wall);
    places.extend(start.map(|start| start.from_left));
    let mut known: Vec<Length> = places.iter().filter_map(|place| place.length()).collect();
    known.extend([Length::ZERO, length]);
    known.sort();
    let gaps = known.windows(2).map(|pair| (pair[1] - pair[0], pair[0]));
    // The first of equal ones.
    let widest = gaps.reduce(|best, gap| if gap.0 > best.0 { gap } else { best });
    let (gap, from) = widest.unwrap_or((length, Length::ZERO));
    let inch = Length::from_64ths(64);
    let middle = from + gap.scaled(1, 2);
    let middle = Length::from_nm(middle.nm() / inch.nm() * inch.nm());
    let sure = !matches!(whole, Taped::Paced(_))
        && !places.iter().any(|place| matches!(place, Taped::Paced(_)));
    match sure {
        true => Taped::Measured(middle),
        false => Taped::Paced(middle),
    }
}
