//! From the answers to a survey, which is written as a job file.

use super::answers::{Answers, Plate, Who, typed};
use super::legs::{self, Stretch};
use super::reading::Taped;
use super::walls::place;
use super::{By, Spot};
use crate::job::{Direction, Wall};
use crate::library::{Gender, Library};
use crate::quantity::{AirFlow, Length, Pressure, Size, Units};
use crate::survey::{
    Drain, DropKind, LINE, Leg, Main, Mark, Outlet, PAINT, REGULATED, Room, Supply, Survey, Tool,
    usual_drop,
};
use std::collections::BTreeSet;

const SUPPLY: &str = "compressor";
const ENTRY: &str = "entry";
const LOW: &str = "low";

/// The pipe whose sizes stand in where nothing says how much air flows.
const USUAL_SYSTEM: &str = "black-iron";

/// What works best above this wants the pressure of the line. Common practice, no
/// source.
const LINE_PRESSURE: f64 = 105.0;

impl Answers {
    /// The survey of the answers; `title` heads the papers.
    #[must_use]
    pub fn survey(&self, title: &str, library: &Library) -> Survey {
        let answers = self.with_an_outlet();
        let (stretches, drains) = legs::stretches(&answers, LOW);
        let mut walk = vec![answers.riser()];
        walk.extend(stretches.iter().map(|stretch| answers.leg(stretch)));
        Survey {
            remarks: self.remarks(library),
            title: Some(title.to_owned()),
            units: answers.in_units(),
            people: answers.people,
            rooms: vec![answers.room()],
            supplies: vec![answers.supply()],
            main: answers.main(&stretches, library),
            legs: walk,
            drops: answers.drops(library),
            drains: drains
                .into_iter()
                .map(|name| Drain {
                    name,
                    ..Drain::default()
                })
                .collect(),
            outlets: answers.outlets(library),
            ..Survey::default()
        }
    }

    /// Pipe without an outlet is none that anybody wants: one stands on the last wall.
    fn with_an_outlet(&self) -> Self {
        let mut answers = self.clone();
        if let (true, Some(walls)) = (answers.spots.is_empty(), &answers.walls) {
            let wall = walls.last().copied().unwrap_or_else(|| answers.start());
            answers.spots.push(Spot {
                name: "outlet-1".to_owned(),
                wall,
                reading: Taped::Open,
                by: By::Left,
            });
        }
        answers
    }

    fn text(&self, taped: Taped) -> String {
        let units = self.in_units();
        match taped {
            Taped::Measured(length) => typed(length, units),
            Taped::Paced(length) => format!("~{}", typed(length, units)),
            Taped::Open => "?".to_owned(),
        }
    }

    /// What is to be measured or read off before anything is bought.
    #[must_use]
    pub fn to_confirm(&self, library: &Library) -> Vec<String> {
        let above = self.above.iter().filter(|above| !above.is_empty());
        let above = above.map(|above| format!("how the pipe passes what is in its way: {above}"));
        let mut confirm: Vec<String> = above.chain(self.confirm.iter().cloned()).collect();
        if let Some([main, drop]) = self.stand_in_sizes(library) {
            confirm.push(format!(
                "the sizes: the main is {main} and the drops {drop} for now, since nothing says how \
                 much air there is or is used"
            ));
        }
        if self.spots.is_empty() {
            confirm.push(
                "where the outlets stand: there is one for now, so that there is a count"
                    .to_owned(),
            );
        }
        confirm
    }

    /// Sizes of main and drops where nothing says how much air flows.
    fn stand_in_sizes(&self, library: &Library) -> Option<[Size; 2]> {
        let flow = self.plate.and_then(|plate| plate.free_air);
        if flow.is_some() || self.tools.iter().any(|tools| !tools.is_empty()) {
            return None;
        }
        let of = |name: &str| library.systems().iter().position(|one| one.name == name);
        let usual = of(USUAL_SYSTEM)?;
        let own = self
            .systems
            .iter()
            .flatten()
            .next()
            .and_then(|name| of(name));
        let size = |text| {
            let size = Size::parse(text).ok()?;
            Some(library.size_in(own.unwrap_or(usual), usual, size))
        };
        Some([size("3/4in")?, size("1/2in")?])
    }

    /// The kinds of drops, where they are not as usual.
    fn drops(&self, library: &Library) -> Vec<DropKind> {
        let Some([_, size]) = self.stand_in_sizes(library) else {
            return Vec::new();
        };
        let kinds: BTreeSet<String> = self
            .outlets(library)
            .into_iter()
            .filter_map(|one| one.drop)
            .collect();
        let kinds = kinds.iter().filter_map(|kind| usual_drop(kind));
        kinds
            .map(|kind| DropKind {
                size: Some(size.to_string()),
                ..kind
            })
            .collect()
    }

    fn remarks(&self, library: &Library) -> Vec<String> {
        let mut remarks = vec![
            "Written from the answers to `dripleg new`. Correct it here: every line says what it is.".to_owned(),
            format!(
                "The main door is in the {} wall. Left and right corners are those of somebody who \
                 faces the wall from inside.",
                self.door_in().word()
            ),
        ];
        let others = self.systems.iter().flatten().skip(1);
        let others: Vec<&str> = others.map(String::as_str).collect();
        if !others.is_empty() {
            remarks.push(format!("To be compared with: {}.", others.join(", ")));
        }
        let confirm = self.to_confirm(library).into_iter();
        remarks.extend(confirm.map(|what| format!("To confirm: {what}.")));
        remarks
    }

    fn room(&self) -> Room {
        let [east_west, north_south, eave] = self.room.unwrap_or([Taped::Open; 3]);
        // What is paced is marked where it makes pipe: a room has no such mark.
        let plain = |taped: Taped| self.text(taped).replace('~', "");
        Room {
            name: "shop".to_owned(),
            size: Some((plain(east_west), plain(north_south))),
            eave: eave.length().map(|eave| typed(eave, self.in_units())),
            coldest: self
                .coldest
                .flatten()
                .map(|coldest| coldest.show(self.in_units())),
            hottest: None,
        }
    }

    fn supply(&self) -> Supply {
        let units = self.in_units();
        let Plate {
            free_air,
            cut_in,
            cut_out,
            tank,
            ..
        } = self.plate.unwrap_or_default();
        let (height, size, gender) = match self.port {
            Some((height, size, gender)) => (self.text(height), Some(size), gender),
            None => ("?".to_owned(), None, Gender::Female),
        };
        let gender = match gender {
            Gender::Male => "male",
            Gender::Female => "female",
        };
        let stands = self.place.map(|at| {
            let inside = match at.outside {
                Some(far) => format!(", {} outside", self.text(far)),
                None => String::new(),
            };
            format!(
                "by the {} wall, {} from its left corner{inside}",
                at.wall.word(),
                self.text(at.from_left)
            )
        });
        Supply {
            name: SUPPLY.to_owned(),
            remark: stands,
            free_air: free_air.map(|air| air.show(units)),
            cut_in: cut_in.map(|pressure| pressure.show(units)),
            cut_out: cut_out.map(|pressure| pressure.show(units)),
            tank: tank.map(|tank| tank.show(units)),
            port: size.map(|size| format!("{size} {gender}")),
            height: Some(height),
            ..Supply::default()
        }
    }

    fn main(&self, stretches: &[Stretch], library: &Library) -> Main {
        let system = self.systems.iter().flatten().next().cloned();
        let owner = self.who.is_some_and(|who| who != Who::Contractor);
        let threaded = library
            .systems()
            .iter()
            .find(|one| Some(&one.name) == system.as_ref())
            .is_some_and(|system| !system.ready.is_empty());
        let back = match self.low {
            Some(None) => " back",
            _ => "",
        };
        let sizes = self.stand_in_sizes(library);
        Main {
            system,
            size: sizes.map(|[main, _]| main.to_string()),
            height: Some(self.text(self.height.unwrap_or(Taped::Open))),
            fall: Some(format!("{}{back}", self.fall(stretches))),
            threading: (owner && threaded).then(|| "bought".to_owned()),
            ..Main::default()
        }
    }

    /// The steepest of the usual falls that takes no more than 18 in (450 mm) of height:
    /// common practice, no source.
    fn fall(&self, stretches: &[Stretch]) -> &'static str {
        let lengths = stretches
            .iter()
            .filter_map(|stretch| stretch.length.length());
        let mut way: Length = lengths.sum();
        if self.ring {
            way = way.scaled(1, 2);
        }
        let most = Length::from_mm(450);
        let (falls, per): ([&str; 3], _) = match self.in_units() {
            Units::Feet => (
                ["1in per 10ft", "1in per 20ft", "1in per 40ft"],
                [120, 240, 480],
            ),
            Units::Metric => (["1 %", "0.5 %", "0.2 %"], [100, 200, 500]),
        };
        let mut both = falls.into_iter().zip(per);
        let fits = both.find(|(_, per)| way.scaled(1, *per) <= most);
        fits.map_or(falls[2], |(fall, _)| fall)
    }

    /// From the tank up, and through the wall if it stands outside.
    fn riser(&self) -> Leg {
        let height = self.height.unwrap_or(Taped::Open);
        let port = self.port.map_or(Taped::Open, |(port, ..)| port);
        let up = height.with(port, |height, port| height - port);
        let mut go = vec![(Direction::Up, self.text(up))];
        let outside = self.place.and_then(|at| Some((at.wall, at.outside?)));
        go.extend(outside.map(|(wall, far)| (inwards(wall), self.text(far))));
        Leg {
            remark: Some(match outside {
                Some(_) => "from the tank up, and in through the wall".to_owned(),
                None => "from the tank up".to_owned(),
            }),
            from: Some(SUPPLY.to_owned()),
            to: Some(ENTRY.to_owned()),
            go,
            ..Leg::default()
        }
    }

    fn leg(&self, stretch: &Stretch) -> Leg {
        let marks = stretch.marks.iter().map(|mark| Mark {
            name: mark.name.clone(),
            reading: self.text(mark.reading),
            from_end: mark.back,
        });
        let wall = stretch.wall.word();
        Leg {
            remark: (!stretch.whole).then(|| format!("on the {wall} wall")),
            from: stretch.first.then(|| ENTRY.to_owned()),
            to: stretch.closes.then(|| ENTRY.to_owned()),
            along: stretch.whole.then(|| format!("{wall} wall")),
            go: vec![(stretch.direction, self.text(stretch.length))],
            marks: marks.collect(),
            ..Leg::default()
        }
    }

    fn outlets(&self, library: &Library) -> Vec<Outlet> {
        let height = self.outlets_at.map(|height| self.text(height));
        let spots = self.spots.iter().enumerate();
        spots
            .map(|(number, spot)| {
                let tools = self.tools.get(number).map_or(&[][..], Vec::as_slice);
                let paint = self.paint.iter().flatten().any(|name| *name == spot.name);
                let drop = match () {
                    () if paint => PAINT,
                    () if at_line_pressure(tools, library) => LINE,
                    () => REGULATED,
                };
                Outlet {
                    name: spot.name.clone(),
                    drop: Some(drop.to_owned()),
                    height: height.clone(),
                    paint,
                    tools: tools
                        .iter()
                        .map(|(tool, air)| Tool {
                            tool: Some(tool.clone()),
                            air: air.map(|air| air.show(self.in_units())),
                            ..Tool::default()
                        })
                        .collect(),
                    ..Outlet::default()
                }
            })
            .collect()
    }
}

/// Whether all that is used there wants what the line has.
fn at_line_pressure(tools: &[(String, Option<AirFlow>)], library: &Library) -> bool {
    let wants = |(name, _): &(String, _)| {
        let kind = library.tool_called(name).map(|tool| &library.tools()[tool]);
        kind.is_some_and(|kind| kind.best.kpa() > Pressure::from_psi(LINE_PRESSURE).kpa())
    };
    !tools.is_empty() && tools.iter().all(wants)
}

/// Into the shop through a wall.
const fn inwards(wall: Wall) -> Direction {
    match place(wall) {
        0 => Direction::South,
        1 => Direction::West,
        2 => Direction::North,
        _ => Direction::East,
    }
}
