//! The walk in words, as one would tell it.

use crate::job::{Job, Leg, Mark, Straight};
use crate::network::Lay;
use crate::quantity::Length;
use crate::source::Spanned;

/// A leg in words.
#[derive(Debug, Clone)]
pub struct Said {
    /// Its number in the file.
    pub leg: usize,
    /// Its line there.
    pub line: usize,
    /// What is said of it.
    pub words: String,
}

pub(super) fn walk(job: &Job, lay: &Lay) -> Vec<Said> {
    let mut placed: Vec<&str> = Vec::new();
    let legs = job.legs.iter().enumerate();
    legs.map(|(index, leg)| {
        let mut words = way(job, leg);
        let mut marks: Vec<&Mark> = leg.marks.iter().collect();
        marks.sort_by_key(|mark| leg.place_of(mark));
        let stand = marks.iter().map(|mark| stands(job, leg, mark));
        let stand: Vec<String> = stand.collect();
        if !stand.is_empty() {
            words.push_str(": ");
            words.push_str(&stand.join(", "));
        }
        if let Some(left) = leg.left {
            words.push_str(&format!("; {} are left", left.value.show(job.units)));
        }
        words.push('.');
        if let Some(to) = &leg.to {
            let name = to.value.as_str();
            words.push_str(&match placed.contains(&name) {
                true => format!(" There you are back at {name}: the ring closes."),
                false => format!(" There is {name}."),
            });
        }
        if lay.legs.get(index).is_none_or(Vec::is_empty) {
            words.push_str(" The walk does not lead here: where this leg starts is not known.");
        }
        placed.extend(leg.names().map(|name| name.value.as_str()));
        Said {
            leg: leg.number,
            line: leg.line,
            words,
        }
    })
    .collect()
}

/// `From entry go north 16'-0", 11'-0" above the floor`.
fn way(job: &Job, leg: &Leg) -> String {
    let units = job.units;
    let go = |straight: &Spanned<Straight>| {
        let straight = straight.value;
        format!(
            "{} {}",
            straight.direction.word(),
            straight.length.show(units)
        )
    };
    let steps: Vec<String> = leg.straights.iter().map(go).collect();
    let along = match (&leg.along, &leg.room) {
        (Some(along), Some(room)) => {
            format!(" along the {} wall of {}", along.value.word(), room.value)
        }
        (Some(along), None) => format!(" along the {} wall", along.value.word()),
        (None, Some(room)) => format!(" in {}", room.value),
        (None, None) => String::new(),
    };
    let steps = steps.join(", then ");
    let supply = |name: &str| {
        let mut supplies = job.supplies.iter();
        supplies.find(|supply| supply.name.value == name)
    };
    match &leg.from {
        Some(from) => match supply(&from.value) {
            Some(of) => format!(
                "From {}, whose port is {} above the floor, go {steps}{along}",
                from.value,
                of.height.value.show(units)
            ),
            None => format!("From {} go {steps}{along}", from.value),
        },
        None => format!("Go on {steps}{along}"),
    }
}

/// `at 10'-0" a drop for bench`.
fn stands(job: &Job, leg: &Leg, mark: &Mark) -> String {
    let units = job.units;
    let name = mark.name.value.as_str();
    let what = if job.outlets.iter().any(|one| one.name.value == name) {
        format!("a drop for {name}")
    } else if job.drains.iter().any(|one| one.name.value == name) {
        format!("the drain {name}")
    } else if job.valves.iter().any(|one| one.name.value == name) {
        format!("the valve {name}")
    } else {
        format!("the place {name}")
    };
    let at = leg.place_of(mark).show(units);
    let back = match mark.back && mark.reading.value > Length::ZERO {
        true => format!(", {} before the end,", mark.reading.value.show(units)),
        false => String::new(),
    };
    format!("at {at}{back} {what}")
}
