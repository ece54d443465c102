//! The job file as typed values: quantities read, names not yet resolved.
//! Every value keeps the place where the user wrote it.

mod direction;
mod drop;
mod fields;
pub mod keys;
mod leg;
mod main_pipe;
mod obstacle;
mod offered;
mod points;
mod read;
mod reading;
mod stages;
mod state;
mod supplies;
mod supply;
mod syntax;
mod tables;
mod unmeasured;
mod vary;

pub(crate) use direction::Angle;
pub use direction::Direction;
pub use drop::{DropKind, Foot, Hose, LegEnd, Outlet, Quality, TakeOff, Tool};
pub(crate) use fields::{Fields, one_of, read_quantity, unknown_name};
pub use leg::{Leg, LineValve, MainDrain, Mark, Straight, Wall};
pub use main_pipe::{Main, SizeChoice, Threading, Unions, UnlikeMetals};
pub use obstacle::Obstacle;
pub use offered::{Accepted, Alternate, AsBuilt, JobOption, Together};
pub use points::PointTo;
pub use read::read;
pub use reading::{Reading, Spot};
pub use stages::{Plug, PlugOf};
pub use state::State;
pub(crate) use supplies::ABOVE_CUT_OUT;
pub use supply::{DeviceUse, Room, Supply};
pub(crate) use syntax::findings as syntax_findings;
pub(crate) use tables::share as read_share;
pub use unmeasured::{Guess, Unmeasured};
pub use vary::Stretch;

use crate::air::{Site, Stream};
use crate::library::{Library, MORE_LOSS};
use crate::quantity::{Length, Pressure, Size, Temperature, Units};
use crate::rating::{AMBIENT, Conditions};
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
