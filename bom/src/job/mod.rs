//! The job file as typed values: quantities read, names not yet resolved.
//! Every value keeps the place where the user wrote it.

mod direction;
mod fields;
pub mod keys;
mod obstacle;
mod points;
mod read;
mod reading;
mod stages;
mod state;
mod supplies;
mod syntax;
mod tables;
mod unmeasured;
mod vary;

pub(crate) use direction::Angle;
pub use direction::Direction;
pub(crate) use fields::{Fields, one_of, read_quantity, unknown_name};
pub use obstacle::Obstacle;
pub use points::PointTo;
pub use read::read;
pub use reading::{Reading, Spot};
pub use stages::{Plug, PlugOf};
pub use state::State;
pub(crate) use supplies::ABOVE_CUT_OUT;
pub(crate) use syntax::findings as syntax_findings;
pub(crate) use tables::share as read_share;
pub use unmeasured::{Guess, Unmeasured};
pub use vary::Stretch;

use crate::air::{Site, Stream};
use crate::library::{Gender, Library, MORE_LOSS, ToolKind};
use crate::quantity::{AirFlow, Fall, Length, Pressure, Size, Speed, Temperature, Units, Volume};
use crate::rating::{AMBIENT, Conditions};
use crate::source::{Span, Spanned};
use std::collections::BTreeSet;

/// A whole job file.
#[derive(Debug, Clone)]
pub struct Job {
    /// The job's title.
    pub title: String,
    /// Who it is for; empty if left out.
    pub customer: String,
    /// The file's revision; empty if left out.
    pub revision: String,
    /// How plain lengths read and how results print.
    pub units: Units,
    /// How many people use air at the same time, if the job says so.
    pub people: Option<u8>,
    /// How high the site is above the sea, if given.
    pub altitude: Option<Length>,
    /// The rooms.
    pub rooms: Vec<Room>,
    /// The compressors, in the file's order, one at least: the walk starts at
    /// the first.
    pub supplies: Vec<Supply>,
    /// Defaults for every leg.
    pub main: Main,
    /// The legs, in the file's order.
    pub legs: Vec<Leg>,
    /// Drains of the main.
    pub drains: Vec<MainDrain>,
    /// Line valves.
    pub valves: Vec<LineValve>,
    /// Kinds of drops.
    pub drops: Vec<DropKind>,
    /// Outlets, in the file's order.
    pub outlets: Vec<Outlet>,
    /// Outlets whose tools run at the same time.
    pub together: Vec<Together>,
    /// What is offered besides, at its own price.
    pub alternates: Vec<Alternate>,
    /// The same work in other ways, for the customer to choose.
    pub options: Vec<JobOption>,
    /// What stands in the pipe's way.
    pub obstacles: Vec<Obstacle>,
    /// What a second walk with the tape read.
    pub checks: Vec<Reading>,
    /// Findings that the user has read and takes as they are.
    pub accept: Vec<Accepted>,
    /// Names of all outlets, drains and line valves that the file defines, those
    /// that could not be read included.
    pub declared: BTreeSet<String>,
    /// Whether all of it could be read. If not, its legs can still be walked,
    /// but nothing can be built.
    pub complete: bool,
    /// Index into the library's systems.
    pub system: usize,
    /// Lengths that no tape has told, in the order of the file.
    pub unmeasured: Vec<Unmeasured>,
    /// What was taken because the file does not say it.
    pub assumptions: Vec<String>,
    /// Names of marks at which nothing stands after the work.
    pub unused: BTreeSet<String>,
    /// Where something is to come, or has been: a branch that is plugged.
    pub plugs: Vec<Plug>,
    /// Of which job this is the one that was built, if it was frozen from one.
    pub as_built: Option<AsBuilt>,
    /// What stands before the work, where some of it is taken out.
    pub before: Option<Box<Job>>,
    /// The job with what is to come later, where it names any.
    pub to_come: Option<Box<Job>>,
}

/// The pressure at which the compressor starts where the job states none: the
/// air holds most water there.
/// Common practice, no source.
pub(crate) const USUAL_CUT_IN: Pressure = Pressure::from_psi(100.0);

/// Air as a compressor takes it in where the job does not say. Common practice,
/// no source.
pub(crate) const USUAL_INTAKE: Temperature = Temperature::from_fahrenheit(75);
/// Its relative humidity. Common practice, no source.
pub(crate) const USUAL_HUMIDITY: f64 = 0.6;
/// The room that has no walls.
pub(crate) const OUTDOORS: &str = "outdoors";

impl Job {
    /// The same job with its main in another system. Legs that name a system
    /// of their own keep it.
    #[must_use]
    pub fn in_system(mut self, system: usize, library: &Library) -> Self {
        let of = self.system;
        self.to_come = self
            .to_come
            .map(|job| Box::new(job.in_system(system, library)));
        let kinds = self.drops.len();
        self.pin_what_stands();
        let stream = self.stream();
        let carrying =
            |size: &mut Size| *size = library.carrying(system, of, *size, stream.as_ref());
        let mut stated = false;
        let mut choose = |choice: &mut SizeChoice| {
            if let SizeChoice::Given(size) = choice {
                carrying(size);
                stated = true;
            }
        };
        choose(&mut self.main.size);
        let legs = self.legs.iter_mut().filter(|leg| leg.system.is_none());
        for size in legs.filter_map(|leg| leg.size.as_mut()) {
            choose(&mut size.value);
        }
        for drop in self.drops.iter_mut().take(kinds) {
            choose(&mut drop.size);
        }
        for size in self
            .drains
            .iter_mut()
            .filter(|drain| State::of(drain.state) != State::Existing)
            .filter_map(|drain| drain.size.as_mut())
        {
            carrying(size);
        }
        if stated && system != of {
            self.assumptions.push(match self.free_air() {
                Some(flow) => format!(
                    "Sizes that the job states for {} become those that lose at most {:.0} % more pressure at the whole {}.",
                    library.systems()[of].name,
                    (MORE_LOSS - 1.0) * 100.0,
                    flow.show(self.units)
                ),
                None => format!(
                    "Sizes that the job states for {} become those whose bore is at most 5 % narrower: nothing says how much air flows.",
                    library.systems()[of].name
                ),
            });
        }
        // An alloy is said of the joints of the job's own system.
        self.main.alloy = None;
        self.system = system;
        self
    }

    /// The air of the site, at 20 C.
    #[must_use]
    pub fn site(&self) -> Site {
        self.altitude.map_or(Site::SEA_LEVEL, Site::at_altitude)
    }

    /// The room in which a leg stands, as an index: the one that it names, else
    /// the file's first.
    pub(crate) fn room_of(&self, leg: usize) -> Option<usize> {
        let named = self.legs.get(leg).and_then(|leg| leg.room.as_ref());
        let mut rooms = self.rooms.iter();
        named
            .and_then(|name| rooms.position(|room| room.name.value == name.value))
            .or((!self.rooms.is_empty()).then_some(0))
    }

    /// All the air of the compressors, at the lowest pressure at which one starts:
    /// the most that a pipe may have to carry.
    #[must_use]
    pub fn stream(&self) -> Option<Stream> {
        let site = self.site();
        let stream = |flow| Stream::new(flow, &site, self.cut_in(), site.temperature);
        self.free_air().map(stream)
    }

    /// What the pipe meets, for its ratings.
    #[must_use]
    pub fn conditions(&self) -> Conditions {
        let hottest = || self.rooms.iter().map(|room| room.hottest);
        // A room that does not say how hot it gets may be as hot as any.
        let ambient = hottest()
            .flatten()
            .max()
            .filter(|most| *most >= AMBIENT || hottest().all(|one| one.is_some()));
        let strongest = self.strongest();
        Conditions {
            relief: strongest.relief,
            cut_out: strongest.cut_out,
            cut_in: Some(self.cut_in()),
            intake: self.intake(),
            site: self.site(),
            heat_loss: self.main.heat_loss,
            discharge: self.discharge(),
            ambient,
            free_air: self.free_air(),
            alloy: self.main.alloy.as_ref().map(|alloy| alloy.value.clone()),
        }
    }
}

/// The job from which one was frozen when it was built.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AsBuilt {
    /// The mark of its papers.
    pub mark: String,
    /// The day, as it was written.
    pub date: String,
}

/// Outlets whose tools run at the same time.
#[derive(Debug, Clone)]
pub struct Together {
    /// What the job calls it.
    pub name: Spanned<String>,
    /// Indices of the outlets.
    pub outlets: Vec<usize>,
}

/// Outlets that are offered besides: they are no part of the job until they are taken.
#[derive(Debug, Clone)]
pub struct Alternate {
    /// What the job calls it.
    pub name: Spanned<String>,
    /// What the customer reads; empty if the job says nothing.
    pub text: String,
    /// The names of its outlets.
    pub outlets: Vec<String>,
}

/// The same work in another way.
#[derive(Debug, Clone)]
pub struct JobOption {
    /// What it is called: `A`.
    pub name: Spanned<String>,
    /// Index of its pipe system in the library; the job's own if none.
    pub system: Option<usize>,
    /// The size of its main, where legs do not state their own; the job's if none.
    pub size: Option<Spanned<Size>>,
    /// The names of the outlets that it leaves out.
    pub leave_out: Vec<String>,
}

impl JobOption {
    /// Whether it is the job as it stands, whose pipe system is this.
    #[must_use]
    pub fn is_as_described(&self, system: usize) -> bool {
        self.system.is_none_or(|own| own == system)
            && self.size.is_none()
            && self.leave_out.is_empty()
    }
}

/// A finding that the user has read and takes as it is.
#[derive(Debug, Clone)]
pub struct Accepted {
    /// The rule that finds it.
    pub rule: Spanned<String>,
    /// Why the user takes it.
    pub reason: String,
}

/// A room, which checks the walk; outdoors is one without walls, of no size.
#[derive(Debug, Clone)]
pub struct Room {
    /// Its name.
    pub name: Spanned<String>,
    /// Inside, from the west wall to the east wall.
    pub east_west: Length,
    /// Inside, from the south wall to the north wall.
    pub north_south: Length,
    /// Height of the eave, if given.
    pub eave: Option<Spanned<Length>>,
    /// The coldest that it gets in it, if given.
    pub coldest: Option<Temperature>,
    /// The hottest that it gets in it, if given.
    pub hottest: Option<Temperature>,
}

/// The compressor and its connection.
#[derive(Debug, Clone)]
pub struct Supply {
    /// Its name, from which its first leg starts.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// Free air delivered.
    pub free_air: Option<AirFlow>,
    /// Pressure at which the machine starts.
    pub cut_in: Option<Pressure>,
    /// Pressure at which it stops.
    pub cut_out: Option<Pressure>,
    /// Setting of the relief valve.
    pub relief: Option<Pressure>,
    /// The air where it leaves the tank.
    pub discharge: Option<Temperature>,
    /// The air as it is taken in.
    pub intake: Option<Temperature>,
    /// Its relative humidity, from 0 to 1.
    pub humidity: Option<f64>,
    /// Hours of full delivery each day.
    pub running: Option<f64>,
    /// Volume of the tank.
    pub tank: Option<Volume>,
    /// Size of the tank's port.
    pub port: Size,
    /// Thread of the tank's port.
    pub port_gender: Gender,
    /// Height of the port above the floor.
    pub height: Spanned<Length>,
    /// What stands between port and pipe, in order.
    pub connect: Vec<Spanned<DeviceUse>>,
    /// Whether its connection stands already, if the job says so.
    pub state: Option<Spanned<State>>,
}

/// A device as used: which, and what the job says of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeviceUse {
    /// Index into the library's devices.
    pub device: usize,
    /// Its size, if the job gives it.
    pub size: Option<Size>,
    /// Its length, for hoses.
    pub length: Option<Length>,
    /// What it is set to, for regulators.
    pub set: Option<Pressure>,
}

/// Defaults for every leg.
#[derive(Debug, Clone)]
pub struct Main {
    /// The size of the main.
    pub size: SizeChoice,
    /// Where the size stands, for messages.
    pub size_span: Span,
    /// Where the main starts: pipe centre above the floor.
    pub height: Spanned<Length>,
    /// The fall.
    pub fall: Spanned<Fall>,
    /// The fall as the user wrote it.
    pub fall_text: String,
    /// Where unions stand.
    pub unions: Unions,
    /// Where the threads come from.
    pub threading: Threading,
    /// What stands between unlike metals.
    pub unlike: UnlikeMetals,
    /// The alloy of soldered or brazed joints, if the job names one.
    pub alloy: Option<Spanned<String>>,
    /// As fast as air may run in the main, if the job says so.
    pub speed: Option<Speed>,
    /// The same in drops.
    pub drop_speed: Option<Speed>,
    /// Heat that its outside loses, W/(m2 K), if stated.
    pub heat_loss: Option<f64>,
}

/// What stands between metals that eat each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnlikeMetals {
    /// A union with an insulating seal.
    #[default]
    InsulatingUnion,
    /// A brass coupling and brass nipples.
    Brass,
    /// Nothing.
    Bare,
}

/// Where the threads of the pipe come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Threading {
    /// Pipe is cut and threaded to measure.
    #[default]
    Cut,
    /// Every straight is built of ready-threaded lengths.
    Bought,
}

/// Where unions stand. A ring has one in any case: without it, it cannot be
/// screwed together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unions {
    /// In rings only.
    None,
    /// In rings, and where a hose meets the pipe.
    #[default]
    Loops,
    /// Also where the pipe meets the supply in any other way, beside each line
    /// valve, and before each set of filter, regulator and lubricator.
    Service,
}

/// A size given, or left to be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SizeChoice {
    /// As given.
    Given(Size),
    /// Chosen by the tool.
    Auto,
}

/// One wall.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wall {
    /// The wall to the north, which runs east and west.
    North,
    /// The wall to the south.
    South,
    /// The wall to the east, which runs north and south.
    East,
    /// The wall to the west.
    West,
}

/// A stretch of the walk.
#[derive(Debug, Clone)]
pub struct Leg {
    /// 1, 2, 3 … in the file.
    pub number: usize,
    /// The line of its table.
    pub line: usize,
    /// The place of its table.
    pub span: Span,
    /// Where it starts; the end of the leg before it if left out.
    pub from: Option<Spanned<String>>,
    /// The name of its end.
    pub to: Option<Spanned<String>>,
    /// The wall that it follows.
    pub along: Option<Spanned<Wall>>,
    /// The room in which it stands, and whose wall that is.
    pub room: Option<Spanned<String>>,
    /// Its size, if other than the main's.
    pub size: Option<Spanned<SizeChoice>>,
    /// Its system, if other than the main's: an index into the library's.
    pub system: Option<Spanned<usize>>,
    /// Its fall away from the supply, if other than the main's.
    pub fall: Option<Spanned<Fall>>,
    /// The least height of its level pipe's centre above the floor.
    pub clear: Option<Spanned<Length>>,
    /// The point that it runs to, where that is said instead of a way.
    pub point: Option<PointTo>,
    /// Its straights, in walking order.
    pub straights: Vec<Spanned<Straight>>,
    /// Its marks, as written.
    pub marks: Vec<Mark>,
    /// Closing reading: from the last mark to the end.
    pub left: Option<Spanned<Length>>,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

impl Leg {
    /// The names of its marks and of its end.
    pub(crate) fn names(&self) -> impl Iterator<Item = &Spanned<String>> {
        self.marks.iter().map(|mark| &mark.name).chain(&self.to)
    }

    /// Its whole length along the pipe.
    #[must_use]
    pub fn length(&self) -> Length {
        self.straights
            .iter()
            .map(|straight| straight.value.length)
            .sum()
    }

    /// How messages and reasons call it: `leg 3 (north wall)`.
    #[must_use]
    pub fn label(&self) -> String {
        match &self.along {
            Some(along) => format!("leg {} ({} wall)", self.number, along.value.word()),
            None => format!("leg {}", self.number),
        }
    }
}

impl Wall {
    /// Every wall and its words in job files.
    pub(crate) const WORDS: [(&'static str, Self); 4] = [
        ("north wall", Self::North),
        ("south wall", Self::South),
        ("east wall", Self::East),
        ("west wall", Self::West),
    ];

    /// `north`, `south`, `east` or `west`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::North => "north",
            Self::South => "south",
            Self::East => "east",
            Self::West => "west",
        }
    }
}

/// One direction and a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Straight {
    /// Where it goes.
    pub direction: Direction,
    /// How far, along the pipe.
    pub length: Length,
}

/// Where something stands along a leg.
#[derive(Debug, Clone)]
pub struct Mark {
    /// The name of what stands there.
    pub name: Spanned<String>,
    /// The reading.
    pub reading: Spanned<Length>,
    /// Whether it was read from the far end.
    pub back: bool,
}

/// A drain of the main.
#[derive(Debug, Clone)]
pub struct MainDrain {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// What closes it.
    pub valve: DeviceUse,
    /// From the main's centre to the lower end of the leg.
    pub drip_leg: Length,
    /// Size of the leg, if other than the main's.
    pub size: Option<Size>,
    /// Whether the main falls to it from every side.
    pub low_point: bool,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

/// A line valve: it shuts off the main that goes on behind it.
#[derive(Debug, Clone)]
pub struct LineValve {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// What it is.
    pub device: DeviceUse,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

/// How a drop leaves the main.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakeOff {
    /// Up, over and down.
    Top,
    /// Sideways, then down.
    Side,
    /// Straight down.
    Bottom,
}

/// What ends the down pipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Foot {
    /// Two sides and a drip leg.
    Cross,
    /// One side and a drip leg.
    Tee,
    /// One side, no drip leg.
    Elbow,
}

/// What ends a drip leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LegEnd {
    /// A drain.
    Drain(DeviceUse),
    /// A cap.
    Cap,
}

/// A kind of drop.
#[derive(Debug, Clone)]
pub struct DropKind {
    /// Its name.
    pub name: Spanned<String>,
    /// How it leaves the main.
    pub take_off: TakeOff,
    /// The drop pipe.
    pub size: SizeChoice,
    /// Where the size stands, for messages.
    pub size_span: Span,
    /// Main centre to upper elbow.
    pub rise: Length,
    /// How far it stands over from the main.
    pub reach: Length,
    /// What ends the down pipe.
    pub foot: Foot,
    /// The devices of each side, outwards.
    pub sides: Vec<Vec<Spanned<DeviceUse>>>,
    /// From the foot's centre to the lower end of the drip leg.
    pub drip_leg: Length,
    /// What ends the drip leg.
    pub drain: LegEnd,
    /// What becomes of its outlets that say nothing themselves.
    pub state: Option<Spanned<State>>,
}

/// An outlet.
#[derive(Debug, Clone)]
pub struct Outlet {
    /// Its name.
    pub name: Spanned<String>,
    /// The line of its table.
    pub line: usize,
    /// Index into the job's drops; none if the name is unknown.
    pub drop: Option<usize>,
    /// Foot centre above the floor.
    pub height: Spanned<Length>,
    /// What its air is for.
    pub quality: Option<Spanned<Quality>>,
    /// What its regulator is set to, if other than its kind of drop says.
    pub set: Option<Spanned<Pressure>>,
    /// What hangs on it.
    pub tools: Vec<Tool>,
    /// Whether an isolating valve stands at the head of its drop, if the job says so.
    pub head: Option<bool>,
    /// What becomes of it, if the job says so.
    pub state: Option<Spanned<State>>,
}

impl Outlet {
    /// What the regulator of one of its sides is said to be set to.
    pub(crate) fn set_for(&self, side: &[Spanned<DeviceUse>]) -> Option<Pressure> {
        let on_side = || side.iter().find_map(|used| used.value.set);
        self.set.map(|set| set.value).or_else(on_side)
    }
}

/// What the air of an outlet is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quality {
    /// Ordinary tools.
    General,
    /// Paint: no oil, no dirt.
    Paint,
}

/// A tool at an outlet. Its hose is the user's own.
#[derive(Debug, Clone)]
pub struct Tool {
    /// Where its table stands.
    pub span: Span,
    /// What it is.
    pub name: Option<Spanned<String>>,
    /// Index into the library's tools, if its name is known.
    pub kind: Option<usize>,
    /// What it uses while it runs.
    pub air: Option<Spanned<AirFlow>>,
    /// What it uses over the day: its share of time is in it already.
    pub average: Option<Spanned<AirFlow>>,
    /// The pressure at which it works best.
    pub pressure: Option<Spanned<Pressure>>,
    /// The share of time in which it runs, from 0 to 1.
    pub share: Option<Spanned<f64>>,
    /// Its hose.
    pub hose: Option<Spanned<Hose>>,
    /// The side of the foot that it hangs on, from 1.
    pub side: Option<Spanned<usize>>,
    /// Whatever else is to be said of it.
    pub note: Option<Spanned<String>>,
}

/// The hose of a tool.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hose {
    /// Its length.
    pub length: Length,
    /// Its bore.
    pub bore: Length,
}

impl DropKind {
    /// The index of the side that a tool hangs on: what it says, else the last
    /// that has a regulator, else the first. None if the drop has no such side.
    #[must_use]
    pub fn side_of(&self, tool: &Tool, library: &Library) -> Option<usize> {
        let stated = tool.side.map(|side| side.value.saturating_sub(1));
        let regulated = |side: &Vec<Spanned<DeviceUse>>| {
            let mut names = side
                .iter()
                .map(|used| &library.devices()[used.value.device].name);
            names.any(|name| name == "regulator")
        };
        let usual = || self.sides.iter().rposition(regulated).unwrap_or(0);
        Some(stated.unwrap_or_else(usual)).filter(|side| *side < self.sides.len())
    }
}

impl Tool {
    /// Its row in the library's list of tools, if its name is known.
    #[must_use]
    pub fn listed<'a>(&self, library: &'a Library) -> Option<&'a ToolKind> {
        library.tools().get(self.kind?)
    }

    /// What messages call it.
    #[must_use]
    pub fn words(&self) -> &str {
        let name = self.name.as_ref().or(self.note.as_ref());
        name.map_or("the tool", |name| &name.value)
    }
}
