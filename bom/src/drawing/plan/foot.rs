//! What stands below a plan: north, scale, signs, notes, and the list of what is on it.

use super::super::shape::{Area, At, Dash, Fill, Shape, Stroke, Weight};
use super::super::symbol::symbol;
use super::super::tags::Tags;
use super::super::text::{Text, TextSize, width as text_width};
use super::super::{Column, Entry, Layer, Mark, Scene, legend, table};
use super::layout::Paper;
use super::level::Level;
use super::scale::{Scale, bar};
use crate::network::{NodeKind, Owner, Point};
use crate::quantity::Length;

/// Height of the row with north and scale.
const STRIP: f64 = 11.0;
/// From here on north and scale stand in one row.
const WIDE: f64 = 120.0;
/// The least width of a foot beside a plan.
const COLUMN: f64 = 64.0;

/// What stands below the plans of a level.
#[derive(Debug)]
pub(super) struct Foot {
    entries: Vec<Entry>,
    notes: Vec<String>,
}

impl Foot {
    pub(super) fn of(scene: &Scene<'_>, level: &Level, tags: &Tags, notes: Vec<String>) -> Self {
        Self {
            entries: entries(scene, level, tags),
            notes,
        }
    }

    /// Where it may stand on a sheet: below the plan, or beside it; only north and
    /// scale if `bare`.
    pub(super) fn places(&self, width: f64, height: f64, bare: bool) -> Vec<Paper> {
        let paper = |foot: At, across, right, bottom| Paper {
            width,
            height,
            foot: (foot, across),
            bare,
            room: Area::of(At::default(), At::new(right, bottom)),
        };
        if bare {
            let below = At::new(0.0, height - strip(width));
            return vec![paper(below, width, width, below.y)];
        }
        let below = At::new(0.0, height - self.height(width));
        let words = self.entries.iter();
        let words = words.map(|entry| text_width(&entry.words, TextSize::Small, false));
        let column = words.fold(COLUMN, |most, one| most.max(one + 18.0));
        let beside = At::new(width - column, height - self.height(column));
        let mut places = vec![paper(below, width, width, below.y)];
        if beside.y >= 0.0 && beside.x > column {
            places.push(paper(beside, column, beside.x - 4.0, height));
        }
        places
    }

    /// How high it is.
    fn height(&self, across: f64) -> f64 {
        let lines = wrapped(&self.notes, across).len();
        let notes: f64 = (0..lines).map(|_| TextSize::Small.leading()).sum();
        strip(across) + legend(&self.entries, At::default(), across).1 + 2.0 + notes
    }

    /// Draws it below a place.
    pub(super) fn drawn(
        &self,
        scene: &Scene<'_>,
        scale: &Scale,
        (at, across): (At, f64),
    ) -> Vec<Mark> {
        let mut marks = vec![scaled(scene, scale, (at, across))];
        marks.extend(self.signs(at.by(0.0, strip(across)), across).0);
        marks
    }

    /// Its signs and notes below a place, and how far down they reach.
    pub(super) fn signs(&self, at: At, across: f64) -> (Vec<Mark>, f64) {
        let (mark, down) = legend(&self.entries, at, across);
        let mut notes = Vec::new();
        let mut top = down + 2.0;
        for line in wrapped(&self.notes, across) {
            let baseline = at.by(0.0, top + 0.76 * TextSize::Small.mm());
            notes.push(Shape::Text(Text::new(baseline, TextSize::Small, line)));
            top += TextSize::Small.leading();
        }
        (vec![mark, Mark::new(Layer::Note, notes)], top)
    }
}

/// North and the scale below a place.
pub(super) fn scaled(scene: &Scene<'_>, scale: &Scale, (at, across): (At, f64)) -> Mark {
    let mut row = Vec::new();
    if let Some(north) = symbol("north") {
        row.extend(north.drawn(at.by(4.0, 5.4), (1.0, 0.0), (0.0, 1.0)));
    }
    let letter = Text::new(at.by(7.0, 6.6), TextSize::Plain, "N").bold();
    row.push(Shape::Text(letter));
    let (shapes, long) = bar(scale, scene.plan.network.units, at.by(16.0, 1.6));
    row.extend(shapes);
    let words = format!("Scale {}", scale.words);
    let place = if across < WIDE {
        at.by(0.0, STRIP + 3.4)
    } else {
        at.by(16.0 + long + 8.0, 4.8)
    };
    row.push(Shape::Text(Text::new(place, TextSize::Plain, words).bold()));
    Mark::new(Layer::Note, row)
}

/// The height of the row with north and scale; two rows where it is narrow.
fn strip(across: f64) -> f64 {
    if across < WIDE { STRIP + 6.0 } else { STRIP }
}

/// Text in lines that are no longer than `across`; the words of each note together,
/// a word that is longer itself in pieces.
pub(super) fn wrapped(notes: &[String], across: f64) -> Vec<String> {
    let fits = |line: &str| text_width(line, TextSize::Small, false) <= across;
    let mut lines: Vec<String> = Vec::new();
    for note in notes {
        let mut line = String::new();
        for word in note.split_whitespace() {
            if !line.is_empty() && fits(&format!("{line} {word}")) {
                line = format!("{line} {word}");
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            for letter in word.chars() {
                if !line.is_empty() && !fits(&format!("{line}{letter}")) {
                    lines.push(std::mem::take(&mut line));
                }
                line.push(letter);
            }
        }
        lines.push(line);
    }
    lines
}

/// The signs that are on the plan of a level.
fn entries(scene: &Scene<'_>, level: &Level, tags: &Tags) -> Vec<Entry> {
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
    add(vec![line(Stroke::WIDE, 0.0)], "main");
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
        add(on_pipe("sleeve"), &words);
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

/// The list of outlets, valves and drains of a level: its columns and rows.
pub(super) fn list(
    scene: &Scene<'_>,
    level: &Level,
    tags: &Tags,
) -> (Vec<Column>, Vec<Vec<String>>) {
    let plan = scene.plan;
    let network = &plan.network;
    let units = network.units;
    let columns = vec![
        Column::words("No."),
        Column::words("Name"),
        Column::words("What"),
        Column::figures("Height"),
        Column::figures("East"),
        Column::figures("North"),
        Column::words("For"),
    ];
    let from = super::origin(level);
    let place = |at: Point, height: Length| {
        let off = |length: Length, back: &str| match length < Length::ZERO {
            true => format!("{} {back}", length.abs().show(units)),
            false => length.show(units),
        };
        vec![
            height.show(units),
            off(at.east - from.east, "west"),
            off(at.north - from.north, "south"),
        ]
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut row = |tag: &str, name: &str, what: String, place: Vec<String>, tools: String| {
        let mut cells = vec![
            vec![tag.to_owned()],
            wrapped(&[name.to_owned()], 38.0),
            wrapped(&[what], 38.0),
        ];
        cells.extend(place.into_iter().map(|cell| vec![cell]));
        cells.push(wrapped(&[tools], 44.0));
        let lines = cells.iter().map(Vec::len).max().unwrap_or_default();
        for line in 0..lines {
            let cell = |cell: &Vec<String>| cell.get(line).cloned().unwrap_or_default();
            rows.push(cells.iter().map(cell).collect());
        }
    };
    for (foot, number, name) in &tags.outlets {
        let drop = network.drops.iter().find(|drop| drop.foot_at == *foot);
        let Some(drop) = drop.filter(|drop| level.has(plan, drop.take_off_at)) else {
            continue;
        };
        let outlet = plan
            .job
            .outlets
            .iter()
            .find(|outlet| outlet.name.value == *name);
        let tools = outlet.map_or_else(Vec::new, |outlet| {
            outlet
                .tools
                .iter()
                .map(|tool| tool.words().to_owned())
                .collect()
        });
        let what = format!("drop {} {}", drop.kind, drop.size);
        let at = network.node(drop.take_off_at).at;
        row(
            &number.to_string(),
            name,
            what,
            place(at, drop.height),
            together(&tools),
        );
    }
    for (id, tag, name) in &tags.valves {
        let node = network.node(*id);
        let shown = match node.origin.owner {
            Owner::Supply(supply) => level.has_supply(plan, supply),
            _ => level.has(plan, *id),
        };
        if let (true, NodeKind::Device { size, .. }) = (shown, &node.kind) {
            let what = format!("ball valve {size}");
            row(tag, name, what, place(node.at, node.at.up), String::new());
        }
    }
    for (id, tag, name) in &tags.drains {
        let drain = network.drains.iter().find(|drain| drain.at == *id);
        if let Some(drain) = drain.filter(|_| level.has(plan, *id)) {
            let at = network.node(*id).at;
            let what = format!("drain {}", drain.valve);
            row(tag, name, what, place(at, at.up), String::new());
        }
    }
    (columns, rows)
}

/// Tools in words, equal ones together.
fn together(tools: &[String]) -> String {
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for tool in tools {
        match counted.iter_mut().find(|(name, _)| name == tool) {
            Some((_, count)) => *count += 1,
            None => counted.push((tool, 1)),
        }
    }
    let words = counted.into_iter().map(|(name, count)| match count {
        1 => name.to_owned(),
        _ => format!("{count} x {name}"),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// The list in pages, as many as it takes: `first` is left on the first, `down` on
/// the others.
pub(super) fn pages(
    rows: &[Vec<String>],
    first: f64,
    down: f64,
    columns: &[Column],
) -> Vec<Vec<Vec<String>>> {
    let height = |rows: &[Vec<String>]| table(columns, rows, At::default()).2;
    let mut pages = Vec::new();
    let (mut rest, mut left) = (rows, first);
    while !rest.is_empty() {
        let fits = (1..=rest.len())
            .rev()
            .find(|count| height(&rest[..*count]) <= left);
        let (page, more) = rest.split_at(match (fits, pages.is_empty()) {
            (Some(count), _) => count,
            (None, true) => 0,
            (None, false) => 1,
        });
        pages.push(page.to_vec());
        (rest, left) = (more, down);
    }
    pages
}
