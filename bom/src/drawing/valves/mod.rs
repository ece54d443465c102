//! What each valve of the main shuts off, and which valves shut off each part of it.

use super::page::{Block, Paper};
use super::shape::{At, Shape, Stroke};
use super::sketch::{Sketch, Spot};
use super::{Column, Layer, Mark, Scene, Sheet, Tags, TextSize, tags};
use crate::network::{NodeId, Section};

const SAID: &str = "Shut these valves, and let the air out at a drain of that part or at an outlet on it before anything is opened. Tag each valve that is shut.";

/// The isolation map; nothing where the main has no line valve.
#[must_use]
pub fn valves(scene: &Scene<'_>) -> Vec<Sheet> {
    let plan = scene.plan;
    let network = &plan.network;
    if network.valves.is_empty() {
        return Vec::new();
    }
    let tags = tags(plan);
    let places: Vec<NodeId> = tags.valves.iter().map(|valve| valve.0).collect();
    let sections = network.sections(&places);
    let below = |across: f64, down: f64| {
        let head = Block::heading("What a valve shuts off", across);
        let (columns, rows) = by_valve(scene, &tags);
        let mut blocks = titled(head, &columns, &rows, across, down);
        let head = Block::heading("To work on a part of the main", across)
            .above(Block::note(SAID, across), 0.6);
        let (columns, rows) = by_part(scene, &tags, &sections);
        blocks.extend(titled(head, &columns, &rows, across, down));
        blocks
    };
    let paper = Paper {
        id: "valves",
        title: "Valve map",
        about: &format!(
            "The main from above with its {} valves, the parts between them, and which outlets lose their air when a valve is shut.",
            places.len()
        ),
        width: scene.field.width,
        height: scene.field.height,
    };
    let draw = |across: f64, down: f64| sketch(scene, &tags, &sections, across, down);
    Sketch::sheets(scene, &paper, &draw, &below)
}

/// A table below its heading.
fn titled(
    head: Block,
    columns: &[Column],
    rows: &[Vec<String>],
    across: f64,
    down: f64,
) -> Vec<Block> {
    let room = (down - head.down - 2.0).max(20.0);
    let mut tables = Block::tables(columns, rows, across, room).into_iter();
    let first = tables.next().map(|first| head.above(first, 1.0));
    first.into_iter().chain(tables).collect()
}

fn sketch(
    scene: &Scene<'_>,
    tags: &Tags,
    sections: &[Section],
    across: f64,
    down: f64,
) -> Vec<Block> {
    let network = &scene.plan.network;
    let mut sketch = Sketch::new(scene.plan, across, down);
    sketch.take_offs();
    let mut places = Vec::new();
    for (at, ..) in &tags.valves {
        let (here, along) = place(&sketch, *at);
        let shapes = sketch.sign("valve", here, along);
        sketch.draw(Mark::new(Layer::Part, shapes));
        places.push((here, along));
    }
    for ((at, tag, name), (here, along)) in tags.valves.iter().zip(places) {
        let towards = match network.is_line_valve(*at) {
            true => sketch.outwards(*at),
            false => (-along.1, along.0.abs()),
        };
        let spot = Spot {
            at: here,
            gap: 2.8,
            towards,
        };
        let lines = [
            (tag.clone(), TextSize::Plain, true),
            (name.clone(), TextSize::Small, false),
        ];
        sketch.label(
            spot,
            &lines,
            (&format!("valve-{tag}"), &format!("Valve {tag}, {name}")),
        );
    }
    for (number, section) in sections.iter().enumerate() {
        let letter = letter(number);
        // In the middle of its longest pipe.
        let long = |link: &&crate::network::LinkId| network.link(**link).pipe.unwrap_or_default();
        if let Some(longest) = section.main.iter().max_by_key(long) {
            let [from, to] = network.ends_of(*longest);
            let (from, to) = (sketch.at(from), sketch.at(to));
            let spot = Spot {
                at: from.towards(to, 0.5),
                gap: 2.0,
                towards: (-(to.y - from.y), to.x - from.x),
            };
            let id = format!("part-{letter}");
            sketch.label(
                spot,
                &[(letter.clone(), TextSize::Large, true)],
                (&id, &format!("Part {letter}")),
            );
        }
    }
    let sign = super::Text::centred(At::default(), TextSize::Large, "A").bold();
    sketch.means("part of the main between valves", vec![Shape::Text(sign)]);
    let pipe = vec![At::new(-6.0, 0.0), At::new(6.0, 0.0)];
    sketch.means("main", vec![Shape::line(Stroke::WIDE, pipe)]);
    sketch.numbers();
    sketch.finished(across)
}

/// Where a valve is drawn and along what: in the main, or between tank and main.
fn place(sketch: &Sketch<'_>, at: NodeId) -> (At, (f64, f64)) {
    let network = sketch.network;
    if network.is_line_valve(at) {
        let (x, y) = sketch.outwards(at);
        return (sketch.at(at), (-y, x));
    }
    let owner = network.node(at).origin.owner;
    let mut ports = network.ports();
    let port = ports
        .find(|port| network.node(*port).origin.owner == owner)
        .unwrap_or(at);
    let (main, tank) = (sketch.at(port), sketch.tank(port));
    let far = main.distance(tank).max(1e-9);
    let along = ((tank.x - main.x) / far, (tank.y - main.y) / far);
    (main.by(3.6 * along.0, 3.6 * along.1), along)
}

/// A, B … Z, A2 …: what parts of the main are called.
pub(crate) fn letter(number: usize) -> String {
    let letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    let one = letters.chars().nth(number % 26).unwrap_or('A');
    match number / 26 {
        0 => one.to_string(),
        more => format!("{one}{}", more + 1),
    }
}

type Rows = (Vec<Column>, Vec<Vec<String>>);

fn by_valve(scene: &Scene<'_>, tags: &Tags) -> Rows {
    let network = &scene.plan.network;
    let columns = vec![
        Column::words("valve"),
        Column::words("place"),
        Column::words("without air when it is shut"),
        Column::words("still with air"),
    ];
    let rows = tags.valves.iter().map(|(at, tag, name)| {
        let off = network.without_air(&[*at]);
        let kept: Vec<usize> = (0..network.drops.len())
            .filter(|drop| !off.contains(drop))
            .collect();
        let place = match network.is_line_valve(*at) {
            true => name.clone(),
            false => format!("at tank {name}"),
        };
        vec![
            tag.clone(),
            place,
            outlets(scene, tags, &off),
            outlets(scene, tags, &kept),
        ]
    });
    (columns, rows.collect())
}

fn by_part(scene: &Scene<'_>, tags: &Tags, sections: &[Section]) -> Rows {
    let network = &scene.plan.network;
    let columns = vec![
        Column::words("part"),
        Column::words("shut"),
        Column::words("outlets on it"),
        Column::words("without air as well"),
    ];
    let rows = sections.iter().enumerate().map(|(number, section)| {
        let off = network.without_air(&section.valves);
        let as_well: Vec<usize> = off
            .into_iter()
            .filter(|drop| !section.drops.contains(drop))
            .collect();
        let valves: Vec<&str> = section
            .valves
            .iter()
            .filter_map(|at| tags.valve_at(*at))
            .collect();
        let shut = match (section.has_tank, valves.is_empty()) {
            (true, true) => "stop the compressor, empty the tank".to_owned(),
            (true, false) => format!("{}; stop the compressor, empty the tank", valves.join(", ")),
            (false, _) => valves.join(", "),
        };
        vec![
            letter(number),
            shut,
            outlets(scene, tags, &section.drops),
            outlets(scene, tags, &as_well),
        ]
    });
    (columns, rows.collect())
}

/// `1 to 4, 7`, by their numbers; `none`, `all`.
fn outlets(scene: &Scene<'_>, tags: &Tags, drops: &[usize]) -> String {
    let all = scene.plan.network.drops.len();
    match drops.len() {
        0 => return "none".to_owned(),
        count if count == all && all > 1 => return format!("all {all}"),
        _ => {}
    }
    let names = drops
        .iter()
        .filter_map(|drop| scene.plan.network.drops.get(*drop));
    let mut numbers: Vec<usize> = names.map(|drop| tags.outlet(&drop.name)).collect();
    numbers.sort_unstable();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some(last) if last.1 + 1 == number => last.1 = number,
            _ => runs.push((number, number)),
        }
    }
    let words = runs.into_iter().map(|(from, to)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from} to {to}"),
    });
    words.collect::<Vec<_>>().join(", ")
}
