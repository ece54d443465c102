//! Things of two layouts held against each other: by name, and by place where the
//! name is gone.

use super::item::{Fact, Fate, Item, ItemKind, PLACE};
use bom::quantity::{Length, Units};
use std::collections::BTreeMap;

/// A thing of one layout.
#[derive(Debug, Clone)]
pub(super) struct Thing {
    pub(super) name: String,
    pub(super) place: Option<Place>,
    /// What its place is seen from: `the tank`.
    pub(super) tank: String,
    pub(super) facts: Vec<(&'static str, String)>,
}

/// East and north of the first tank of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Place {
    pub(super) east: Length,
    pub(super) north: Length,
}

impl Place {
    /// To the millimetre, which is finer than a tape.
    pub(super) fn rounded(self) -> (i64, i64) {
        let mm = |length: Length| (length.nm() + 500_000).div_euclid(1_000_000);
        (mm(self.east), mm(self.north))
    }

    pub(super) fn from(self, other: Self) -> Self {
        Self {
            east: self.east - other.east,
            north: self.north - other.north,
        }
    }

    pub(super) fn by(self, shift: Self) -> Self {
        Self {
            east: self.east + shift.east,
            north: self.north + shift.north,
        }
    }

    /// `2'-0" east, 1'-0" south`; none for no way at all.
    pub(super) fn words(self, units: Units) -> Option<String> {
        let way = |length: Length, to: &str, back: &str| {
            let word = if length < Length::ZERO { back } else { to };
            let nothing = length.abs() < Length::from_mm(1);
            (!nothing).then(|| format!("{} {word}", length.abs().show(units)))
        };
        let ways = [
            way(self.east, "east", "west"),
            way(self.north, "north", "south"),
        ];
        let ways: Vec<String> = ways.into_iter().flatten().collect();
        (!ways.is_empty()).then(|| ways.join(", "))
    }
}

/// How two layouts lie to each other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lie {
    /// What takes an old place to where it is seen from the new tank.
    pub(super) shift: Place,
    pub(super) units: Units,
}

/// What differs between things of one kind, by name.
pub(super) fn compare(kind: ItemKind, old: Vec<Thing>, new: Vec<Thing>, lie: Lie) -> Vec<Item> {
    let by_name = |things: Vec<Thing>| -> BTreeMap<String, Thing> {
        let named = things.into_iter().map(|thing| (thing.name.clone(), thing));
        named.collect()
    };
    let (mut old, mut new) = (by_name(old), by_name(new));
    let mut pairs = Vec::new();
    new.retain(|name, thing| match old.remove(name) {
        Some(was) => {
            pairs.push((was, thing.clone()));
            false
        }
        None => true,
    });
    let mut items = Vec::new();
    for (name, thing) in new {
        let here = |other: &Thing| {
            let was = other.place.map(|place| place.by(lie.shift).rounded());
            was.is_some() && was == thing.place.map(Place::rounded)
        };
        let was = old.iter().find(|(_, other)| here(other));
        match was.map(|(name, _)| name.clone()) {
            Some(was) => pairs.extend(old.remove(&was).map(|old| (old, thing))),
            None => items.push(alone(kind, name, &thing, Fate::Added, lie.units)),
        }
    }
    for (name, thing) in old {
        items.push(alone(kind, name, &thing, Fate::Removed, lie.units));
    }
    items.extend(
        pairs
            .iter()
            .filter_map(|(old, new)| pair(kind, old, new, lie)),
    );
    items.sort_by(|a, b| a.name.cmp(&b.name));
    items
}

fn alone(kind: ItemKind, name: String, thing: &Thing, fate: Fate, units: Units) -> Item {
    let facts = place_fact(thing, units)
        .into_iter()
        .chain(thing.facts.clone());
    let facts = facts.map(|(label, words)| match fate {
        Fate::Removed => Fact {
            label,
            old: Some(words),
            new: None,
        },
        Fate::Added | Fate::Changed => Fact {
            label,
            old: None,
            new: Some(words),
        },
    });
    Item {
        kind,
        name,
        fate,
        was: None,
        moved: None,
        facts: facts.collect(),
    }
}

/// What differs between two that are the same thing; none if nothing does.
pub(super) fn pair(kind: ItemKind, old: &Thing, new: &Thing, lie: Lie) -> Option<Item> {
    let places = old.place.zip(new.place);
    let moved = places.and_then(|(old, new)| new.from(old.by(lie.shift)).words(lie.units));
    let mut facts = Vec::new();
    if moved.is_some() {
        facts.push(Fact {
            label: PLACE,
            old: place_fact(old, lie.units).map(|(_, words)| words),
            new: place_fact(new, lie.units).map(|(_, words)| words),
        });
    }
    let value = |thing: &Thing, wanted: &str| {
        let fact = thing.facts.iter().find(|(label, _)| *label == wanted);
        fact.map(|(_, words)| words.clone())
    };
    for (at, (label, _)) in old.facts.iter().chain(&new.facts).enumerate() {
        let (was, is) = (value(old, label), value(new, label));
        // What both say is seen once, with the old ones.
        let seen = at >= old.facts.len() && was.is_some();
        if was != is && !seen {
            facts.push(Fact {
                label,
                old: was,
                new: is,
            });
        }
    }
    let was = (old.name != new.name).then(|| old.name.clone());
    (was.is_some() || !facts.is_empty()).then(|| Item {
        kind,
        name: new.name.clone(),
        fate: Fate::Changed,
        was,
        moved,
        facts,
    })
}

fn place_fact(thing: &Thing, units: Units) -> Option<(&'static str, String)> {
    let place = thing.place?;
    let words = place.words(units);
    let words = words.map_or_else(
        || format!("at {}", thing.tank),
        |words| format!("{words} of {}", thing.tank),
    );
    Some((PLACE, words))
}

/// Two lists of the same kind, paired by a key that both have; of several with
/// the same key the first goes with the first. Gives the pairs and takes them out.
pub(super) fn paired<T, K: Ord>(
    old: &mut Vec<T>,
    new: &mut Vec<T>,
    key: impl Fn(&T) -> Option<K>,
) -> Vec<(T, T)> {
    let mut pairs = Vec::new();
    let mut left = Vec::new();
    for thing in old.drain(..) {
        let wanted = key(&thing);
        let same = |other: &T| wanted.is_some() && key(other) == wanted;
        match new.iter().position(same) {
            Some(at) => pairs.push((thing, new.remove(at))),
            None => left.push(thing),
        }
    }
    *old = left;
    pairs
}
