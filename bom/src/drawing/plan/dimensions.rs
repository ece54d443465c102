//! Dimension lines: of rooms outside their walls, and in chains along the main
//! (ISO 129-1, oblique strokes, figures above the line, from memory).

use super::super::shape::{Area, At, Shape, Stroke};
use super::super::text::{Anchor, Text, TextSize, width};
use super::super::{Layer, Mark};
use super::draft::Draft;
use super::level::Straight;
use super::pipes::WALL;
use crate::job::Direction;
use crate::network::{Point, Spot};
use crate::quantity::Length;

/// From what is measured to where its extension line begins, and past the line.
const GAP: f64 = 1.2;
/// Half a stroke, along each axis.
const TICK: f64 = 0.9;

/// A row of dimensions that stand in line.
struct Chain {
    /// The places between which it measures, along the line from the left or the top.
    stops: Vec<f64>,
    /// What is measured between two of them.
    figures: Vec<String>,
    /// Where what is measured lies across the line, and the line itself.
    from: f64,
    line: f64,
    upright: bool,
}

impl Chain {
    fn at(&self, along: f64, across: f64) -> At {
        if self.upright {
            At::new(across, along)
        } else {
            At::new(along, across)
        }
    }

    /// Its figures, where they all fit.
    fn texts(&self) -> Option<Vec<Text>> {
        let size = TextSize::Small;
        let last = self.figures.len().checked_sub(1)?;
        let mut texts = Vec::new();
        for (number, (pair, figure)) in self.stops.windows(2).zip(&self.figures).enumerate() {
            let long = width(figure, size, false);
            let room = pair[1] - pair[0];
            let middle = f64::midpoint(pair[0], pair[1]);
            // A figure that is too long for its place may stand outside at an end.
            let along = if long + 1.0 <= room {
                middle
            } else if number == last && number > 0 {
                pair[1] + 1.2 + long / 2.0
            } else if number == 0 && last > 0 {
                pair[0] - 1.2 - long / 2.0
            } else {
                return None;
            };
            let mut text = Text::new(self.at(along, self.line - 1.1), size, &**figure);
            text.turned = self.upright;
            texts.push(text.anchored(Anchor::Middle));
        }
        Some(texts)
    }

    /// Its lines: extension lines first, then the line and its strokes.
    fn lines(&self) -> Vec<Shape> {
        let mut shapes = Vec::new();
        let out = (self.line - self.from).signum();
        for stop in &self.stops {
            let ends = [self.from + out * GAP, self.line + out * GAP];
            let points = ends.map(|across| self.at(*stop, across));
            shapes.push(Shape::line(Stroke::NARROW, points.to_vec()));
            let middle = self.at(*stop, self.line);
            let stroke = vec![middle.by(-TICK, TICK), middle.by(TICK, -TICK)];
            shapes.push(Shape::line(Stroke::WIDE, stroke));
        }
        if let (Some(first), Some(last)) = (self.stops.first(), self.stops.last()) {
            let points = vec![self.at(*first, self.line), self.at(*last, self.line)];
            shapes.push(Shape::line(Stroke::NARROW, points));
        }
        shapes
    }
}

impl Draft<'_> {
    /// The inside of every room, across and down, outside of its walls; for each
    /// whether both found room.
    pub(super) fn room_sizes(&mut self) -> Vec<bool> {
        let mut measured = Vec::new();
        let units = self.scene.plan.network.units;
        for room in &self.level.rooms {
            let inside = &room.inside;
            let area = self.view.area(inside);
            let across = (inside.east - inside.west).show(units);
            let down = (inside.north - inside.south).show(units);
            let mut both = true;
            for (upright, figure) in [(false, across), (true, down)] {
                let (stops, sides) = if upright {
                    ([area.top, area.bottom], [area.left, area.right])
                } else {
                    ([area.left, area.right], [area.top, area.bottom])
                };
                let tries = [false, true].into_iter().flat_map(|crossing| {
                    let offs = [13.0, 16.0, 9.5, 6.0].into_iter();
                    offs.flat_map(move |off| [(crossing, off, 0), (crossing, off, 1)])
                });
                let placed = { tries }.find_map(|(crossing, off, side)| {
                    let out = [-1.0, 1.0][side];
                    let chain = Chain {
                        stops: stops.to_vec(),
                        figures: vec![figure.clone()],
                        from: sides[side] + out * WALL,
                        line: sides[side] + out * off,
                        upright,
                    };
                    self.chained(&chain, crossing)
                });
                both &= placed.is_some();
                if let Some(shapes) = placed {
                    self.put(Mark::new(Layer::Dimension, shapes));
                }
            }
            measured.push(both);
        }
        measured
    }

    /// Where things stand along each straight of main, as far as there is room.
    pub(super) fn chains(&mut self) {
        for straight in &self.level.joined() {
            let upright = match straight.direction {
                Direction::East | Direction::West => false,
                Direction::North | Direction::South => true,
                Direction::Northeast
                | Direction::Southeast
                | Direction::Southwest
                | Direction::Northwest
                | Direction::Up
                | Direction::Down => continue,
            };
            let Some((stops, lengths, across)) = self.stops(straight, upright) else {
                continue;
            };
            if self.is_a_room(straight, &lengths) {
                continue;
            }
            let aside = self.side_of(straight);
            let aside = if upright { aside.0 } else { aside.1 };
            let units = self.scene.plan.network.units;
            let placed = [6.5, 8.5, 10.5, 13.0].into_iter().find_map(|off| {
                [-aside, aside].into_iter().find_map(|out| {
                    [false, true].into_iter().find_map(|merged| {
                        let (stops, figures) =
                            figures(&stops, &lengths, merged, |one| one.show(units));
                        let chain = Chain {
                            stops,
                            figures,
                            from: across,
                            line: across + out * off,
                            upright,
                        };
                        self.chained(&chain, true)
                    })
                })
            });
            if let Some(shapes) = placed {
                self.put(Mark::new(Layer::Dimension, shapes));
            }
        }
    }

    /// The places along a straight in the sheet's order, what lies between them, and
    /// where the straight lies across.
    fn stops(&self, straight: &Straight, upright: bool) -> Option<(Vec<f64>, Vec<Length>, f64)> {
        let network = &self.scene.plan.network;
        let nodes = straight.places.iter().map(|place| network.node(*place));
        let mut points: Vec<Point> = nodes
            .filter(|node| node.origin.spot != Spot::Crest)
            .map(|node| node.at)
            .collect();
        let along = |at: &Point| if upright { -at.north } else { at.east };
        points.sort_by_key(along);
        let on_sheet: Vec<At> = points.iter().map(|at| self.view.at(*at)).collect();
        let first = on_sheet.first()?;
        let across = if upright { first.x } else { first.y };
        let stops = on_sheet.iter().map(|at| if upright { at.y } else { at.x });
        let lengths = points
            .windows(2)
            .map(|pair| along(&pair[1]) - along(&pair[0]));
        Some((stops.collect(), lengths.collect(), across))
    }

    /// Whether a straight says nothing but the size of a room.
    fn is_a_room(&self, straight: &Straight, lengths: &[Length]) -> bool {
        let [only] = lengths else { return false };
        let east = matches!(straight.direction, Direction::East | Direction::West);
        self.level.rooms.iter().any(|room| {
            let inside = &room.inside;
            *only
                == if east {
                    inside.east - inside.west
                } else {
                    inside.north - inside.south
                }
        })
    }

    /// To which side of a straight its outlets stand.
    fn side_of(&self, straight: &Straight) -> (f64, f64) {
        let middle = straight.places.get(straight.places.len() / 2);
        middle.map_or((0.0, 1.0), |middle| {
            self.aside(*middle, Some(straight.direction))
        })
    }

    /// A chain, if its figures fit and meet nothing, nor its lines any text, nor, unless
    /// it may be `crossing`, its dimension line anything.
    fn chained(&self, chain: &Chain, crossing: bool) -> Option<Vec<Shape>> {
        let texts = chain.texts()?;
        let mut shapes = chain.lines();
        let figures: Vec<Area> = texts.iter().map(Text::area).collect();
        let free = figures
            .iter()
            .all(|area| self.board.is_free(&area.grown(0.6)));
        let clear = shapes.iter().flat_map(Shape::segments).all(|(from, to)| {
            let beside = |area: &Area| !area.grown(0.1).is_crossed(from, to);
            self.board.is_clear(from, to, false) && figures.iter().all(beside)
        });
        // Nor may texts stand close to the dimension line.
        let beside = |off: f64| {
            let at = |stop: f64| chain.at(stop, chain.line + off);
            let mut ends = chain.stops.windows(2);
            ends.all(|pair| self.board.is_clear(at(pair[0]), at(pair[1]), false))
        };
        let clear = clear && beside(0.8) && beside(-0.8);
        let line = Area::of(
            chain.at(*chain.stops.first()?, chain.line),
            chain.at(*chain.stops.last()?, chain.line),
        );
        let on_sheet = self.view.board.holds(&line.grown(TICK));
        // A line along another line could be neither read.
        let middle = line.middle();
        let apart = if crossing {
            Area::of(middle, middle).grown(0.3)
        } else {
            line.grown(0.3)
        };
        if !(free && clear && on_sheet && self.board.is_free(&apart)) {
            return None;
        }
        shapes.extend(texts.into_iter().map(Shape::Text));
        Some(shapes)
    }
}

/// What stands between the stops; three or more equal ones in a row together, if
/// `merged`.
fn figures(
    stops: &[f64],
    lengths: &[Length],
    merged: bool,
    show: impl Fn(Length) -> String,
) -> (Vec<f64>, Vec<String>) {
    let mut kept: Vec<f64> = stops.first().copied().into_iter().collect();
    let mut figures = Vec::new();
    let mut at = 0;
    while at < lengths.len() {
        let equal = lengths[at..]
            .iter()
            .take_while(|one| **one == lengths[at])
            .count();
        let step = if merged && equal >= 3 { equal } else { 1 };
        figures.push(match step {
            1 => show(lengths[at]),
            _ => {
                let all: Length = lengths[at..at + step].iter().copied().sum();
                format!("{step} x {} = {}", show(lengths[at]), show(all))
            }
        });
        at += step;
        kept.push(stops[at]);
    }
    (kept, figures)
}
