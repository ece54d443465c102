//! Dimension lines: of rooms outside their walls, and in chains along the main
//! (ISO 129-1, oblique strokes, figures above the line, from memory).

use super::super::shape::At;
use super::super::{Layer, Mark};
use super::chain::Chain;
use super::draft::Draft;
use super::level::Straight;
use super::pipes::WALL;
use crate::job::Direction;
use crate::network::{LinkId, Node, Owner, Point, Spot};
use crate::quantity::{Length, Units};
use crate::source::Span;

/// What a chain measures.
struct Measured {
    /// The places along a straight, from the left or the top of the sheet.
    stops: Vec<f64>,
    /// What lies between two of them, and whether no tape has told it.
    lengths: Vec<Length>,
    guessed: Vec<bool>,
    /// Where the straight lies across.
    across: f64,
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
            let across = figure(inside.east - inside.west, units);
            let down = figure(inside.north - inside.south, units);
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

    /// Where things stand along each straight of main, as far as there is room; `~`
    /// before what no tape has told.
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
            let Some(Measured {
                stops,
                lengths,
                guessed,
                across,
            }) = self.stops(straight, upright)
            else {
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
                            figures(&stops, &lengths, &guessed, merged, |one| figure(one, units));
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

    /// What is measured along a straight.
    fn stops(&self, straight: &Straight, upright: bool) -> Option<Measured> {
        let network = &self.scene.plan.network;
        let along = |at: Point| if upright { -at.north } else { at.east };
        let places = straight.places.iter().map(|place| network.node(*place));
        let mut places: Vec<&Node> = places
            .filter(|node| node.origin.spot != Spot::Crest)
            .collect();
        places.sort_by_key(|node| along(node.at));
        let on_sheet: Vec<At> = places.iter().map(|node| self.view.at(node.at)).collect();
        let first = on_sheet.first()?;
        let guessed_links = straight.links.iter().filter(|link| self.is_guessed(**link));
        let guessed_links: Vec<[Length; 2]> = guessed_links
            .map(|link| {
                network
                    .ends_of(*link)
                    .map(|end| along(network.node(end).at))
            })
            .collect();
        let between = |pair: &[&Node]| {
            let (low, high) = (along(pair[0].at), along(pair[1].at));
            let on = |[a, b]: &[Length; 2]| *a.min(b) < high && low < *a.max(b);
            guessed_links.iter().any(on) || pair.iter().any(|node| self.is_guessed_mark(node))
        };
        Some(Measured {
            across: if upright { first.x } else { first.y },
            stops: on_sheet
                .iter()
                .map(|at| if upright { at.y } else { at.x })
                .collect(),
            guessed: places.windows(2).map(between).collect(),
            lengths: places
                .windows(2)
                .map(|pair| along(pair[1].at) - along(pair[0].at))
                .collect(),
        })
    }

    /// Whether no tape has told the length of the straight on which a link lies.
    fn is_guessed(&self, link: LinkId) -> bool {
        let plan = self.scene.plan;
        let link = plan.network.link(link);
        let leg = link.leg.and_then(|leg| plan.job.legs.get(leg));
        leg.is_some_and(|leg| {
            let mut straights = leg.straights.iter();
            straights.any(|one| {
                let way = one.value.direction;
                let same = way == link.direction || way.opposite() == link.direction;
                same && self.is_told_by_none(one.span)
            })
        })
    }

    /// Whether no tape has told where a mark stands.
    fn is_guessed_mark(&self, node: &Node) -> bool {
        let (Owner::Leg(leg), Spot::Mark(mark)) = (node.origin.owner, node.origin.spot) else {
            return false;
        };
        let leg = self.scene.plan.job.legs.get(leg);
        let mark = leg.and_then(|leg| leg.marks.get(mark));
        mark.is_some_and(|mark| self.is_told_by_none(mark.reading.span))
    }

    fn is_told_by_none(&self, span: Span) -> bool {
        let mut guesses = self.scene.plan.job.unmeasured.iter();
        guesses.any(|one| one.span == span)
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
}

/// A length on a dimension line: millimetres without their unit, which a note says
/// once (ISO 129-1, from memory).
fn figure(length: Length, units: Units) -> String {
    let words = length.show(units);
    match units {
        Units::Feet => words,
        Units::Metric => words.trim_end_matches(" mm").to_owned(),
    }
}

/// What stands between the stops; three or more equal ones in a row together, if
/// `merged`.
fn figures(
    stops: &[f64],
    lengths: &[Length],
    guessed: &[bool],
    merged: bool,
    show: impl Fn(Length) -> String,
) -> (Vec<f64>, Vec<String>) {
    let mut kept: Vec<f64> = stops.first().copied().into_iter().collect();
    let mut figures = Vec::new();
    let mut at = 0;
    while at < lengths.len() {
        let same = |other: &usize| (lengths[*other], guessed[*other]) == (lengths[at], guessed[at]);
        let equal = (at..lengths.len()).take_while(same).count();
        let show = |one: Length| {
            let sign = if guessed[at] { "~" } else { "" };
            format!("{sign}{}", show(one))
        };
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
