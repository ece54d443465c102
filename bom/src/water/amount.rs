//! How much water there is: what the tank keeps back, and what each length of
//! pipe makes as the air cools in it. The first legs make most of it.

use super::map::WaterMap;
use super::season::{Air, Season, air, around, assumptions, is_stated};
use super::shares::Shares;
use crate::air::cooling::{MoistAir, Wall, surface};
use crate::job::{Job, Quality};
use crate::library::Library;
use crate::network::{Drop, LinkId, Network, NodeId, NodeKind, Rooms};
use crate::quantity::{Length, Temperature};
use std::collections::BTreeMap;

/// The water of a year's days, and the air that the outlets get.
#[derive(Debug, Clone)]
pub struct Amounts {
    /// A day half way between the coldest and the hottest.
    pub mean: Day,
    /// The coldest day, where the job says how cold it gets.
    pub coldest: Option<Day>,
    /// The hottest day, where the job says how hot it gets: drains are sized
    /// for it.
    pub hottest: Option<Day>,
    /// The air of the mean day at each outlet, in the file's order; none behind
    /// a dryer, of which the job does not say how dry it makes air.
    pub arrivals: Vec<Arrival>,
    /// What was taken because the job does not say it, and how it is meant.
    pub assumptions: Vec<String>,
}

/// Water of a day, in litres.
#[derive(Debug, Clone)]
pub struct Day {
    /// What the air brings in as vapour.
    pub taken_in: f64,
    /// What stays in the tank.
    pub in_tank: f64,
    /// What comes to each of the map's ends, in its order.
    pub at_ends: Vec<f64>,
    /// What stands in level pipe.
    pub standing: f64,
    /// What leaves with the air as vapour.
    pub leaves: f64,
}

/// Air as it comes to an outlet, at the pressure of the pipe.
#[derive(Debug, Clone)]
pub struct Arrival {
    /// The outlet's name.
    pub outlet: String,
    /// How warm it is.
    pub air: Temperature,
    /// Where water begins to fall out of it; none below -100 C.
    pub dew_point: Option<Temperature>,
    /// Whether it is at its dew point: it loses water wherever it cools.
    pub saturated: bool,
    /// Whether the outlet is for paint.
    pub paint: bool,
}

/// The water of a day; none where the job says no flow of air, or has no outlet
/// that would take it.
pub(super) fn amounts(
    job: &Job,
    network: &Network,
    library: &Library,
    map: &WaterMap,
) -> Option<Amounts> {
    if network.drops.is_empty() {
        return None;
    }
    let rooms = Rooms::of(job, network);
    let walk = Walk {
        job,
        network,
        library,
        map,
        rooms: &rooms,
        shares: Shares::of(network),
    };
    let (mean, states) = walk.day(Season::Mean)?;
    let season = |season| {
        let stated = is_stated(job, &rooms, season);
        stated
            .then(|| walk.day(season))
            .flatten()
            .map(|(day, _)| day)
    };
    let mut assumptions = assumptions(job, &rooms);
    let (coldest, hottest) = (season(Season::Coldest), season(Season::Hottest));
    if coldest.is_some() || hottest.is_some() {
        assumptions.push(
            "On the coldest and the hottest day the air is taken in, and leaves the tank, as much colder or warmer as the compressor's room is.".to_owned(),
        );
    }
    if walk.has_dryer() {
        assumptions.push(
            "What a dryer takes out is not counted, so less water comes; no dew point behind it is known.".to_owned(),
        );
    }
    Some(Amounts {
        arrivals: walk.arrivals(&states),
        mean,
        coldest,
        hottest,
        assumptions,
    })
}

/// The air at each place to which it comes.
struct States {
    absolute: f64,
    at: BTreeMap<NodeId, MoistAir>,
}

struct Walk<'a> {
    job: &'a Job,
    network: &'a Network,
    library: &'a Library,
    map: &'a WaterMap,
    rooms: &'a Rooms<'a>,
    shares: Shares,
}

impl Walk<'_> {
    /// From the tank outwards each place has the air that comes to it, on the
    /// shortest way.
    fn day(&self, season: Season) -> Option<(Day, States)> {
        let air = air(self.job, self.rooms, season)?;
        let litres = |ratio: f64, share: f64| ratio * share * air.dry * air.seconds;
        let mut day = Day {
            taken_in: litres(air.ratio, 1.0),
            in_tank: litres(air.ratio - air.after_tank, 1.0),
            at_ends: vec![0.0; self.map.ends.len()],
            standing: 0.0,
            leaves: 0.0,
        };
        let from_tank = MoistAir {
            kelvin: air.tank,
            ratio: air.after_tank,
        };
        let tanks = self.network.ports().map(|port| (port, from_tank));
        let mut at: BTreeMap<NodeId, MoistAir> = tanks.collect();
        for (node, before, by) in &self.shares.order {
            let Some(before) = at.get(before).copied() else {
                continue;
            };
            let share = self.shares.of_link(*by);
            let here = match share > 0.0 {
                true => before.behind(&self.wall(*by, &air, season), air.dry * share),
                false => before,
            };
            let made = litres(before.ratio - here.ratio, share);
            match self.map.end_of(*by) {
                Some(end) => day.at_ends[end] += made,
                None => day.standing += made,
            }
            day.leaves += litres(here.ratio, self.shares.taken_at(*node, share));
            at.insert(*node, here);
        }
        let absolute = air.absolute;
        Some((day, States { absolute, at }))
    }

    fn wall(&self, link: LinkId, air: &Air, season: Season) -> Wall {
        let room = self.rooms.of_link(link).map(|room| &self.job.rooms[room]);
        let pipe = self.network.link(link);
        let outside = self.library.systems()[pipe.system]
            .row(pipe.size)
            .map_or(Length::ZERO, |row| row.outside);
        Wall {
            surface: surface(pipe.pipe.unwrap_or_default(), outside),
            loss: air.loss,
            around: around(room, season),
            absolute: air.absolute,
        }
    }

    /// None behind a dryer, of which the job does not say how dry it makes air.
    fn arrivals(&self, states: &States) -> Vec<Arrival> {
        /// Air so near its dew point is at it, K.
        const AT_DEW_POINT: f64 = 0.05;
        if self.has_dryer() {
            return Vec::new();
        }
        let arrival = |drop: &Drop| {
            let air = states.at.get(&drop.foot_at)?;
            let dew = air.dew_point(states.absolute);
            let mut outlets = self.job.outlets.iter();
            let quality = outlets
                .find(|outlet| outlet.name.value == drop.name)
                .and_then(|outlet| outlet.quality.as_ref());
            Some(Arrival {
                outlet: drop.name.clone(),
                air: Temperature::from_kelvin(air.kelvin),
                dew_point: dew.map(Temperature::from_kelvin),
                saturated: dew.is_some_and(|dew| air.kelvin - dew < AT_DEW_POINT),
                paint: quality.is_some_and(|quality| quality.value == Quality::Paint),
            })
        };
        self.network.drops.iter().filter_map(arrival).collect()
    }

    fn has_dryer(&self) -> bool {
        self.network.nodes().any(|(_, node)| match node.kind {
            NodeKind::Device { device, .. } => self.library.devices()[device].name == "dryer",
            NodeKind::Port { .. } | NodeKind::Fitting(_) => false,
        })
    }
}
