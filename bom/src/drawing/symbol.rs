//! The signs of parts, read from data: a new sign is rows in `data/symbols.csv`.

use super::shape::{At, Dash, Fill, Shape, Stroke, Weight, round};
use std::collections::BTreeMap;
use std::sync::LazyLock;

const ROWS: &str = include_str!("../../data/symbols.csv");

/// A sign, drawn round the origin for pipe that runs to the right, in millimetres.
#[derive(Debug, Clone, Default)]
pub struct Symbol {
    /// What it stands for, for legends.
    pub words: String,
    /// Where it is from, each source once.
    pub sources: Vec<String>,
    strokes: Vec<Line>,
}

#[derive(Debug, Clone)]
struct Line {
    points: Vec<At>,
    closed: bool,
    fill: Fill,
    weight: Weight,
}

/// The sign of a device by its name in job files, or of another thing on drawings.
#[must_use]
pub fn symbol(name: &str) -> Option<&'static Symbol> {
    symbols().get(name)
}

/// All signs by their names.
#[must_use]
pub fn symbols() -> &'static BTreeMap<String, Symbol> {
    static SYMBOLS: LazyLock<BTreeMap<String, Symbol>> =
        LazyLock::new(|| read().unwrap_or_default());
    &SYMBOLS
}

impl Symbol {
    /// Draws it at a place: its right is `along`, its down is `across`, both of any
    /// length, so that it can be turned, mirrored, scaled, or laid in an oblique plane.
    #[must_use]
    pub fn drawn(&self, at: At, along: (f64, f64), across: (f64, f64)) -> Vec<Shape> {
        let place = |point: &At| {
            at.by(
                point.x * along.0 + point.y * across.0,
                point.x * along.1 + point.y * across.1,
            )
        };
        let draw = |line: &Line| Shape::Path {
            points: line.points.iter().map(place).collect(),
            closed: line.closed,
            stroke: Some(Stroke::new(line.weight, Dash::Whole)),
            fill: line.fill,
        };
        self.strokes.iter().map(draw).collect()
    }

    /// From the origin to its farthest point along the pipe.
    #[must_use]
    pub fn half(&self) -> f64 {
        let points = self.strokes.iter().flat_map(|line| &line.points);
        points.fold(0.0, |most, point| most.max(point.x.abs()))
    }

    /// From the origin back to its first point along the pipe.
    #[must_use]
    pub fn back(&self) -> f64 {
        let points = self.strokes.iter().flat_map(|line| &line.points);
        points.fold(0.0, |most, point| most.max(-point.x))
    }
}

fn read() -> Result<BTreeMap<String, Symbol>, String> {
    let mut symbols: BTreeMap<String, Symbol> = BTreeMap::new();
    for row in csv::Reader::from_reader(ROWS.as_bytes()).records() {
        let row = row.map_err(|error| error.to_string())?;
        let cell = |at: usize| row.get(at).unwrap_or_default().trim();
        let wrong = |what: &str| format!("symbols.csv: {}: {what}", cell(0));
        if cell(6).is_empty() {
            return Err(wrong("no source"));
        }
        let numbers = |text: &str| -> Option<Vec<f64>> {
            text.split_whitespace()
                .map(|one| one.parse().ok())
                .collect()
        };
        let points: Option<Vec<Vec<f64>>> = cell(5).split(',').map(numbers).collect();
        let points = points.ok_or_else(|| wrong("points are numbers"))?;
        let (points, closed) = match (cell(2), &points[..]) {
            ("ring", [centre, radius]) if centre.len() == 2 && radius.len() == 1 => {
                (round(At::new(centre[0], centre[1]), radius[0]), true)
            }
            (shape @ ("line" | "closed"), corners)
                if corners.len() > 1 && corners.iter().all(|one| one.len() == 2) =>
            {
                let corners = corners.iter().map(|one| At::new(one[0], one[1]));
                (corners.collect(), shape == "closed")
            }
            _ => return Err(wrong("its points do not make its shape")),
        };
        let symbol = symbols.entry(cell(0).to_owned()).or_default();
        cell(1).clone_into(&mut symbol.words);
        if !symbol.sources.iter().any(|known| known == cell(6)) {
            symbol.sources.push(cell(6).to_owned());
        }
        symbol.strokes.push(Line {
            points,
            closed,
            fill: match cell(3) {
                "open" => Fill::Open,
                "paper" => Fill::Paper,
                "ink" => Fill::Ink,
                _ => return Err(wrong("no such fill")),
            },
            weight: match cell(4) {
                "narrow" => Weight::Narrow,
                "wide" => Weight::Wide,
                _ => return Err(wrong("no such weight")),
            },
        });
    }
    Ok(symbols)
}

#[cfg(test)]
mod tests {
    use super::{read, symbol};
    use crate::drawing::At;
    use crate::library::Library;

    #[test]
    fn every_device_has_a_sign() {
        let symbols = read().unwrap();
        for device in Library::shipped().unwrap().devices() {
            assert!(symbols.contains_key(&device.name), "{}", device.name);
        }
    }

    #[test]
    fn a_sign_is_turned_with_its_pipe() {
        let cap = symbol("cap").unwrap();
        // Down the sheet: its right is down, its down is to the left.
        let shapes = cap.drawn(At::new(10.0, 20.0), (0.0, 2.0), (-2.0, 0.0));
        let (from, to) = shapes[0].segments()[0];
        assert_eq!((from, to), (At::new(12.6, 20.8), At::new(7.4, 20.8)));
        assert!((cap.half() - 0.4).abs() < 1e-12);
    }
}
