//! The room, the compressor, and what holds for the whole main.

use super::{SUPPLY, Taped};
use crate::interview::answers::{Answers, Plate, Who};
use crate::interview::legs::Stretch;
use crate::library::{Gender, Library};
use crate::quantity::{Length, Size, Units};
use crate::survey::{Main, Room, Supply, as_written};

/// The pipe whose sizes stand in where nothing says how much air flows.
const USUAL_SYSTEM: &str = "black-iron";

impl Answers {
    pub(super) fn room(&self) -> Room {
        let [east_west, north_south, eave] = self.room.unwrap_or([Taped::Open; 3]);
        // What is paced is marked where it makes pipe: a room has no such mark.
        let plain = |taped: Taped| self.text(taped).replace('~', "");
        Room {
            name: "shop".to_owned(),
            size: Some((plain(east_west), plain(north_south))),
            eave: eave.length().map(|eave| as_written(eave, self.in_units())),
            coldest: self
                .coldest
                .flatten()
                .map(|coldest| coldest.show(self.in_units())),
            hottest: None,
        }
    }

    pub(super) fn supply(&self) -> Supply {
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

    pub(super) fn main(&self, stretches: &[Stretch], library: &Library) -> Main {
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
    pub(super) fn fall(&self, stretches: &[Stretch]) -> &'static str {
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

    /// Sizes of main and drops where nothing says how much air flows.
    pub(super) fn stand_in_sizes(&self, library: &Library) -> Option<[Size; 2]> {
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
}
