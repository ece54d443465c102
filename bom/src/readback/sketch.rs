//! The shop from above in characters, so that a mirrored or turned one is seen at once.

mod grid;

use crate::job::Job;
use crate::library::Library;
use crate::network::{Extent, Lay, Point};
use crate::quantity::{Length, Units};
use grid::{Cell, Grid};

/// Columns and lines between the outermost pipe, at most: with walls and letters a
/// terminal of 78 columns holds it.
const COLUMNS: i64 = 66;
const LINES: i64 = 30;
/// No column is narrower, in inches or in 25 mm: a small shop shall look small.
const LEAST: i64 = 6;

/// The shop from above.
#[derive(Debug)]
pub struct Sketch {
    /// The plan, line by line.
    pub lines: Vec<String>,
    /// What its signs are: `1` and `drop for bench`.
    pub legend: Vec<(String, String)>,
    /// How much a column and a line stand for; none if there is nothing to draw.
    pub scale: Option<(Length, Length)>,
}

pub(super) fn sketch(job: &Job, lay: &Lay, library: &Library) -> Sketch {
    let points = lay.legs.iter().flatten().copied();
    let pipe = Extent::around(points.chain(lay.places.values().copied()));
    let Some(pipe) = pipe.filter(|_| lay.legs.iter().any(|leg| !leg.is_empty())) else {
        return Sketch {
            lines: Vec::new(),
            legend: Vec::new(),
            scale: None,
        };
    };
    let rooms = lay.walls.iter().map(|walls| &walls.inside);
    let all = rooms.fold(pipe, |all, one| all.with(one));
    let across = (all.east - all.west).nm() / COLUMNS + 1;
    let down = (all.north - all.south).nm() / (2 * LINES) + 1;
    let step = match job.units {
        Units::Feet => Length::from_64ths(64),
        Units::Metric => Length::from_mm(25),
    };
    let steps = across.max(down) / step.nm() + 1;
    let column = step.times(steps.max(LEAST));
    let mut drawing = Drawing {
        all,
        column,
        grid: Grid::default(),
    };
    for walls in &lay.walls {
        let [left, top] = drawing.cell(walls.inside.west, walls.inside.north);
        let [right, bottom] = drawing.cell(walls.inside.east, walls.inside.south);
        let corners = [[left - 1, top - 1], [right + 1, bottom + 1]];
        drawing.grid.walls(corners, walls.known);
    }
    for leg in &lay.legs {
        for pair in leg.windows(2) {
            if let [from, to] = pair {
                let [from, to] = [from, to].map(|at| drawing.cell(at.east, at.north));
                drawing.grid.pipe(from, to);
            }
        }
    }
    let mut legend = drawing.signs(job, lay, library);
    let assumed = lay.walls.iter().filter(|walls| !walls.known);
    let assumed: Vec<&str> = assumed.map(|walls| walls.name.as_str()).collect();
    if !assumed.is_empty() {
        let words = format!(
            "walls of {}, drawn round the pipe: no leg runs along one",
            assumed.join(" and ")
        );
        legend.push(("···".to_owned(), words));
    }
    Sketch {
        lines: drawing.grid.lines(),
        legend,
        scale: Some((column, column.times(2))),
    }
}

struct Drawing {
    all: Extent,
    /// How wide a column is; a line is twice as high.
    column: Length,
    grid: Grid,
}

impl Drawing {
    fn cell(&self, east: Length, north: Length) -> Cell {
        let near = |length: Length, step: i64| (length.nm() + step / 2) / step;
        [
            near(east - self.all.west, self.column.nm()),
            near(self.all.north - north, 2 * self.column.nm()),
        ]
    }

    /// Sets the signs of everything that stands on the pipe, and says what they are.
    fn signs(&mut self, job: &Job, lay: &Lay, library: &Library) -> Vec<(String, String)> {
        let mut legend = Vec::new();
        let mut set = |sign: String, words: String, at: Point| {
            let cell = self.cell(at.east, at.north);
            self.grid.sign(cell, &sign);
            legend.push((sign, words));
        };
        let at = |name: &str| lay.places.get(name).copied();
        for (number, supply) in job.supplies.iter().enumerate() {
            let Some(at) = at(&supply.name.value) else {
                continue;
            };
            let sign = match number {
                0 => "T".to_owned(),
                _ => format!("T{}", number + 1),
            };
            set(sign, format!("tank of {}", supply.name.value), at);
        }
        // The valves at the tanks have the first tags, as on every drawing.
        let connected = job.supplies.iter().flat_map(|supply| &supply.connect);
        let connected = connected.filter(|one| library.devices()[one.value.device].name == "valve");
        let (mut outlets, mut drains, mut valves, mut places) = (0, 0, connected.count(), 0);
        for name in &lay.order {
            let Some(at) = at(name) else { continue };
            if job.outlets.iter().any(|one| one.name.value == *name) {
                outlets += 1;
                set(outlets.to_string(), format!("drop for {name}"), at);
            } else if job.drains.iter().any(|one| one.name.value == *name) {
                drains += 1;
                set(format!("D{drains}"), format!("drain {name}"), at);
            } else if job.valves.iter().any(|one| one.name.value == *name) {
                valves += 1;
                set(format!("V{valves}"), format!("valve {name}"), at);
            } else if job.supplies.iter().all(|one| one.name.value != *name) && places < 26 {
                let letter = (b'a'..=b'z').nth(places).map(char::from);
                places += 1;
                set(
                    letter.unwrap_or('?').to_string(),
                    format!("place {name}"),
                    at,
                );
            }
        }
        legend
    }
}
