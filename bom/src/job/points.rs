//! `to_point`: a leg that runs straight to a place given by its distances from the
//! south-west inside corner of its room, or from where the walk starts if no leg says
//! where that room stands.

use super::read::Reader;
use super::{Direction, Job, Straight};
use crate::finding::Finding;
use crate::network::{Point, lay};
use crate::quantity::{Length, Units};
use crate::source::{Span, Spanned};

/// Where a leg is to end.
#[derive(Debug, Clone, Copy)]
pub struct PointTo {
    /// Where it is written.
    pub span: Span,
    /// From the corner to the east.
    pub east: Length,
    /// From the corner to the north.
    pub north: Length,
    /// Above the floor, if the job says it.
    pub up: Option<Length>,
}

/// What a point may be beside the line of a direction: what 45° offsets round to.
const BESIDE: Length = Length::from_64ths(4);

/// Gives every leg that runs to a point its straight, as soon as the walk says where it
/// starts. Says whether all have theirs.
pub(super) fn resolve(job: &mut Job, r: &mut Reader<'_>) -> bool {
    let open = |job: &Job| -> Vec<usize> {
        let legs = job.legs.iter().enumerate();
        let open = legs.filter(|(_, leg)| leg.point.is_some() && leg.straights.is_empty());
        open.map(|(index, _)| index).collect()
    };
    loop {
        let waiting = open(job);
        let walked = lay(job, r.library);
        let start = |index: usize| -> Option<Point> {
            match &job.legs[index].from {
                Some(from) => walked.places.get(&from.value).copied(),
                None => walked.legs.get(index.checked_sub(1)?)?.last().copied(),
            }
        };
        let mut ready = waiting
            .iter()
            .filter_map(|index| Some((*index, start(*index)?)));
        let Some((index, from)) = ready.next() else {
            let all = waiting.is_empty();
            for index in waiting {
                let leg = &job.legs[index];
                r.findings.push(Finding::unreadable(
                    "point-without-start",
                    leg.point.map_or(leg.span, |point| point.span),
                    format!("nothing says where {} starts, and so how long it is", leg.label()),
                    "let it start at a mark, at an end of another leg or at the compressor, or write it with `go`",
                ));
            }
            return all;
        };
        let Some(point) = job.legs[index].point else {
            return false;
        };
        let room = job.room_of(index);
        let walls = walked.walls.iter().find(|walls| Some(walls.room) == room);
        let corner = match walls.filter(|walls| walls.known) {
            Some(walls) => Point {
                east: walls.inside.west,
                north: walls.inside.south,
                ..Point::default()
            },
            None => Point::default(),
        };
        // The room must not come to stand elsewhere once the walk goes on.
        let along = |leg: usize| job.legs[leg].along.is_some() && job.room_of(leg) == room;
        let later = walls.is_none_or(|walls| !walls.known) && (0..job.legs.len()).any(along);
        let found = match later {
            true => Err(unplaced(job, index, point)),
            false => straight(job, index, point, from, corner),
        };
        match found {
            Ok(straight) => job.legs[index]
                .straights
                .push(Spanned::new(straight, point.span)),
            Err(finding) => {
                r.findings.push(finding);
                return false;
            }
        }
    }
}

fn unplaced(job: &Job, index: usize, point: PointTo) -> Finding {
    Finding::unreadable(
        "point-before-room",
        point.span,
        format!(
            "{} runs to a point of its room, and where that stands follows only from legs behind it",
            job.legs[index].label()
        ),
        "write this leg with `go`, or let a leg along a wall come before it",
    )
}

/// The one direction that leads to the point, or which way it is off.
fn straight(
    job: &Job,
    index: usize,
    point: PointTo,
    from: Point,
    corner: Point,
) -> Result<Straight, Finding> {
    let units = job.units;
    let (east, north) = (
        corner.east + point.east - from.east,
        corner.north + point.north - from.north,
    );
    let up = point.up.map_or(Length::ZERO, |up| up - from.up);
    let on = |by: Length| by.abs() <= BESIDE;
    let way = |by: Length, ahead, back| if by > Length::ZERO { ahead } else { back };
    let go = |direction: Direction, by: Length| {
        Ok(Straight {
            direction,
            length: by.abs(),
        })
    };
    match (on(east), on(north), on(up)) {
        (true, true, false) => return go(way(up, Direction::Up, Direction::Down), up),
        (false, true, true) => return go(way(east, Direction::East, Direction::West), east),
        (true, false, true) => return go(way(north, Direction::North, Direction::South), north),
        (false, false, true) if on(east.abs() - north.abs()) => {
            let direction = match (east > Length::ZERO, north > Length::ZERO) {
                (true, true) => Direction::Northeast,
                (true, false) => Direction::Southeast,
                (false, true) => Direction::Northwest,
                (false, false) => Direction::Southwest,
            };
            return go(direction, east.diagonal_whole());
        }
        _ => {}
    }
    let steps: Vec<(Length, &str)> = [
        (up, way(up, Direction::Up, Direction::Down)),
        (east, way(east, Direction::East, Direction::West)),
        (north, way(north, Direction::North, Direction::South)),
    ]
    .into_iter()
    .filter(|(by, _)| !on(*by))
    .map(|(by, way)| (by.abs(), way.word()))
    .collect();
    let label = job.legs[index].label();
    let Some((last, way)) = steps.last() else {
        return Err(Finding::unreadable(
            "point-at-start",
            point.span,
            format!("{label} runs to the point at which it starts"),
            "leave the leg out, or check the point",
        ));
    };
    let before = steps[..steps.len() - 1].iter();
    let before: Vec<String> = before
        .map(|(by, way)| format!("{} {way}", by.show(units)))
        .collect();
    let written = steps
        .iter()
        .map(|(by, way)| format!("\"{way} {}\"", written(*by, units)));
    let written: Vec<String> = written.collect();
    let height = match point.up {
        Some(said) if !on(up) => format!(
            "; the walk is {} above the floor there, and the point {}",
            from.up.show(units),
            said.show(units)
        ),
        _ => String::new(),
    };
    Err(Finding::unreadable(
        "point-off-line",
        point.span,
        format!(
            "from the start of {label} this point is {} and {} {way}{height}: no pipe runs straight there",
            before.join(", "),
            last.show(units)
        ),
        format!(
            "pipe runs north, east, south, west, at 45 degrees between them, up or down: write it as several, go = [{}], or as legs to the points between",
            written.join(", ")
        ),
    ))
}

/// A length as a job file has it.
fn written(length: Length, units: Units) -> String {
    match units {
        Units::Feet => length.show(units).replace("'-", "-").replace('"', ""),
        Units::Metric => format!("{}mm", length.to_mm_text()),
    }
}

#[cfg(test)]
mod tests {
    use crate::job::{Direction, read};
    use crate::library::Library;
    use crate::quantity::Length;
    use crate::source::Source;

    const DEMO: &str = include_str!("../../../catalogs-demo/millrace.toml");

    /// Directions and lengths of the demo's legs with some text replaced.
    fn legs(edits: &[(&str, &str)]) -> Vec<(Direction, Length)> {
        let mut text = DEMO.to_owned();
        for (old, new) in edits {
            assert!(text.contains(old), "{old}");
            text = text.replacen(old, new, 1);
        }
        let source = Source::new("job", text);
        let (job, findings) = read(&source, &Library::shipped().unwrap());
        let job = job.unwrap_or_else(|| panic!("{findings:?}"));
        let straights = job.legs.iter().flat_map(|leg| &leg.straights);
        straights
            .map(|one| (one.value.direction, one.value.length))
            .collect()
    }

    #[test]
    fn legs_to_points_of_the_room_are_those_that_were_measured() {
        let by_points = legs(&[
            (
                "go    = \"south 32-0\"",
                "to_point = [\"48-0\", \"0-0\", \"11-0\"]",
            ),
            ("go    = \"west 48-0\"", "to_point = [\"0-0\", \"0-0\"]"),
            (
                "go = \"north 16-0\"\nto",
                "to_point = [\"0-0\", \"16-0\"]\nto",
            ),
        ]);
        assert_eq!(by_points, legs(&[]));
    }

    #[test]
    fn without_walls_points_are_counted_from_where_the_walk_starts() {
        let feet = Length::from_feet;
        let along = ["north", "east", "south"].map(|wall| format!("along = \"{wall} wall\"\n"));
        let mut edits: Vec<(&str, &str)> = along.iter().map(|one| (one.as_str(), "")).collect();
        edits.push(("go   = \"north 16-0\"", "to_point = [\"-8-0\", \"12-0\"]"));
        let legs = legs(&edits);
        // Twelve each way at 45 degrees.
        assert_eq!(legs[2].0, Direction::Northwest);
        let (west, north, _) = legs[2].0.displacement(legs[2].1);
        assert_eq!((west, north), (-feet(12), feet(12)));
    }
}
