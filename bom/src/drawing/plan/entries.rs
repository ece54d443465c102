//! The signs that a legend explains.

use super::super::shape::{At, Dash, Fill, Shape, Stroke, Weight};
use super::super::symbol::symbol;
use super::super::tags::Tags;
use super::super::text::{Text, TextSize};
use super::super::{Entry, Scene};
use super::level::Level;
use super::pipes::stroke;
use crate::job::State;
use crate::network::{NodeKind, Owner};

/// The signs that are on the plan of a level.
pub(super) fn entries(scene: &Scene<'_>, level: &Level, tags: &Tags) -> Vec<Entry> {
    let plan = scene.plan;
    let network = &plan.network;
    let mut entries = Vec::new();
    let mut add = |sign: Vec<Shape>, words: &str| {
        entries.push(Entry {
            sign,
            words: words.to_owned(),
        });
    };
    let line = |stroke, y: f64| Shape::line(stroke, vec![At::new(-7.0, y), At::new(7.0, y)]);
    let of = |name: &str| {
        let sign = symbol(name);
        sign.map_or_else(Vec::new, |sign| {
            sign.drawn(At::default(), (1.0, 0.0), (0.0, 1.0))
        })
    };
    let on_pipe = |name: &str| {
        let mut shapes = vec![line(Stroke::WIDE, 0.0)];
        shapes.extend(of(name));
        shapes
    };
    for (known, words) in [
        (true, "wall, thin line: its inside"),
        (false, "wall whose place the file does not say"),
    ] {
        if level.rooms.iter().any(|room| room.known == known) {
            let dash = if known { Dash::Whole } else { super::ASSUMED };
            let walls = vec![
                line(Stroke::new(Weight::Heavy, dash), -0.8),
                line(Stroke::new(Weight::Narrow, dash), 0.8),
            ];
            add(walls, words);
        }
    }
    let drawn = |state: State| {
        let mut links = level.links.iter();
        links.any(|link| network.link_state(*link) == state)
    };
    let stands = drawn(State::Existing);
    if drawn(State::New) || !stands {
        let words = if stands { "new main" } else { "main" };
        add(vec![line(stroke(State::New), 0.0)], words);
    }
    if stands {
        add(
            vec![line(stroke(State::Existing), 0.0)],
            "main that stands already",
        );
    }
    let beside = |state: State| level.beside.iter().any(|piece| piece.state == state);
    if beside(State::Remove) {
        let ends = [-7.0, 7.0].map(|x| At::new(x, 0.0));
        add(
            super::past::line(State::Remove, ends[0], ends[1]),
            "main that is taken out",
        );
    }
    let mut plugged = network.plugged.iter();
    let stub = plugged.any(|one| one.to_come && level.has(plan, one.at));
    if stub || beside(State::Later) {
        add(
            vec![line(stroke(State::Later), 0.0)],
            "to come later, plugged now",
        );
    }
    let on_level = |place: &_| level.has(plan, *place);
    let mut drops = network.drops.iter();
    if drops.any(|drop| on_level(&drop.take_off_at)) {
        let mut outlet = of("outlet");
        let middle = At::new(4.4, 0.0);
        outlet.push(Shape::circle(Stroke::NARROW, Fill::Open, middle, 2.5));
        outlet.push(Shape::Text(
            Text::centred(middle, TextSize::Small, "1").bold(),
        ));
        add(outlet, "outlet with its number");
    }
    if !level.risers.is_empty() {
        add(of("riser"), "upright pipe, heights of its ends");
    }
    let supplies = (0..network.supplies.len()).filter(|supply| level.has_supply(plan, *supply));
    let supplies: Vec<usize> = supplies.collect();
    if !supplies.is_empty() {
        add(of("tank"), "compressor's tank");
    }
    let mut named: Vec<(&str, bool)> = Vec::new();
    for (_, node) in network.nodes() {
        let NodeKind::Device { device, .. } = node.kind else {
            continue;
        };
        let shown = match node.origin.owner {
            Owner::Supply(supply) => supplies.contains(&supply),
            Owner::Leg(_) => true,
            Owner::Drain(_) | Owner::Outlet(_) => false,
        };
        let name = scene.library.devices()[device].name.as_str();
        if shown && !named.iter().any(|(one, _)| *one == name) {
            named.push((name, true));
        }
    }
    for (name, _) in named {
        let words = symbol(name).map_or("", |sign| &sign.words);
        let words = match name {
            "valve" => "ball valve with its tag",
            _ => words,
        };
        add(on_pipe(name), words);
    }
    if tags.drains.iter().any(|(place, ..)| on_level(place)) {
        add(of("drain-valve"), "drain of the main with its tag");
    }
    if !level.crossings.is_empty() {
        let words = match level.crossings.len() {
            1 => "pipe through a wall: 1 place".to_owned(),
            count => format!("pipe through a wall: {count} places"),
        };
        add(on_pipe("through-wall"), &words);
    }
    add(on_pipe("flow"), "air flows this way");
    if level
        .straights
        .iter()
        .any(|one| !super::ways::falling(plan, one).is_empty())
    {
        let words = match plan.job.main.fall.value.is_level() {
            true => "main falls towards the tip".to_owned(),
            false => format!("main falls towards the tip, {}", super::words::stated(plan)),
        };
        add(of("fall"), &words);
    }
    entries
}
