//! The air that a compressor takes in, and the air around its pipe, over the
//! year.

use crate::air::Site;
use crate::air::cooling::BARE_PIPE;
use crate::air::moisture::{COLDEST, humidity_ratio, saturation, saturation_ratio};
use crate::job::{Job, Leg, Room, Supply, USUAL_HUMIDITY, USUAL_INTAKE};
use crate::network::Rooms;
use crate::quantity::Temperature;

/// Air as it leaves the tank where the job does not say. Common practice, no
/// source; a hotter one would only leave more water to the pipe.
const TANK: Temperature = Temperature::from_fahrenheit(100);
/// Air around the pipe where the job does not say. Common practice, no source.
const AROUND: Temperature = Temperature::from_fahrenheit(70);
/// Hours of full delivery. Common practice, no source.
const HOURS: f64 = 8.0;

/// Which day of the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Season {
    /// Half way between the coldest and the hottest.
    Mean,
    Coldest,
    Hottest,
}

/// What is known of the air.
pub(super) struct Air {
    /// Dry air, kg/s.
    pub(super) dry: f64,
    /// Vapour to dry air, as taken in.
    pub(super) ratio: f64,
    /// The same as it leaves the tank.
    pub(super) after_tank: f64,
    /// Absolute pressure in the pipe, Pa.
    pub(super) absolute: f64,
    /// As it leaves the tank, K.
    pub(super) tank: f64,
    /// Heat that the pipe loses, W/(m2 K).
    pub(super) loss: f64,
    /// Running time of the day.
    pub(super) seconds: f64,
}

/// The air of a season. None where the job says no flow, or where air so warm
/// would be nothing but vapour.
pub(super) fn air(job: &Job, rooms: &Rooms<'_>, season: Season) -> Option<Air> {
    let flow = job.free_air()?;
    let most = |of: &dyn Fn(&Supply) -> f64| job.supplies.iter().map(of).fold(0.0, f64::max);
    let hottest = |of: &dyn Fn(&Supply) -> Option<Temperature>, usual| {
        let each = job
            .supplies
            .iter()
            .map(|supply| of(supply).unwrap_or(usual));
        each.max().unwrap_or(usual)
    };
    let warmer = |home: &Option<usize>| {
        let home = home.map(|room| &job.rooms[room]);
        around(home, season) - around(home, Season::Mean)
    };
    let warmer = rooms.of_supplies.iter().map(warmer);
    let warmer = warmer.fold(f64::NEG_INFINITY, f64::max);
    let on_the_day = |mean: Temperature| (mean.kelvin() + warmer).max(COLDEST);
    let intake = on_the_day(hottest(&|supply| supply.intake, USUAL_INTAKE));
    let tank = on_the_day(hottest(&|supply| supply.discharge, TANK));
    let site = Site {
        temperature: Temperature::from_kelvin(intake),
        ..job.site()
    };
    let vapour = most(&|supply| supply.humidity.unwrap_or(USUAL_HUMIDITY)) * saturation(intake);
    let ratio = humidity_ratio(vapour, site.atmosphere);
    let absolute = site.atmosphere + job.cut_in().kpa() * 1_000.0;
    ratio.is_finite().then(|| Air {
        // The vapour takes its part of the pressure; the rest is the dry air's.
        dry: site.mass(flow) * (1.0 - vapour / site.atmosphere),
        ratio,
        after_tank: ratio.min(saturation_ratio(tank, absolute)),
        absolute,
        tank,
        loss: job.main.heat_loss.unwrap_or(BARE_PIPE),
        seconds: most(&|supply| supply.running.unwrap_or(HOURS)) * 3_600.0,
    })
}

/// The air around the pipe in a room, K.
pub(super) fn around(room: Option<&Room>, season: Season) -> f64 {
    let coldest = room.and_then(|room| room.coldest);
    let hottest = room.and_then(|room| room.hottest);
    let mean = match (coldest, hottest) {
        (Some(cold), Some(hot)) => cold.kelvin().midpoint(hot.kelvin()),
        (cold, hot) => {
            let usual = cold.map_or(AROUND, |cold| AROUND.max(cold));
            hot.map_or(usual, |hot| usual.min(hot)).kelvin()
        }
    };
    match season {
        Season::Mean => mean,
        Season::Coldest => coldest.map_or(mean, Temperature::kelvin),
        Season::Hottest => hottest.map_or(mean, Temperature::kelvin),
    }
}

/// Whether a season is any other than the mean: whether a room in which
/// something stands says how cold or how hot it gets.
pub(super) fn is_stated(job: &Job, rooms: &Rooms<'_>, season: Season) -> bool {
    let used = rooms.used();
    let mut used = used.iter().filter_map(|room| job.rooms.get((*room)?));
    used.any(|room| match season {
        Season::Mean => true,
        Season::Coldest => room.coldest.is_some(),
        Season::Hottest => room.hottest.is_some(),
    })
}

/// What was taken because the job does not say it, and how it is meant.
pub(super) fn assumptions(job: &Job, rooms: &Rooms<'_>) -> Vec<String> {
    let units = job.units;
    let unsaid = |of: &dyn Fn(&Supply) -> bool| job.supplies.iter().any(of);
    let usual = |what: &str, value: String| format!("{what} {value} (common practice, no source).");
    let mut said = Vec::new();
    if job.altitude.is_none() {
        said.push("The site is at sea level.".to_owned());
    }
    if unsaid(&|supply| supply.intake.is_none()) {
        said.push(usual("The air is taken in at", USUAL_INTAKE.show(units)));
    }
    if unsaid(&|supply| supply.humidity.is_none()) {
        let percent = format!("{:.0} %", USUAL_HUMIDITY * 100.0);
        said.push(usual("Its relative humidity is", percent));
    }
    if unsaid(&|supply| supply.discharge.is_none()) {
        said.push(usual("It leaves the tank at", TANK.show(units)));
    }
    if unsaid(&|supply| supply.cut_in.is_none()) {
        said.push(usual("The pipe is at", job.cut_in().show(units)));
    }
    for used in rooms.used() {
        let room = used.map(|room| &job.rooms[room]);
        if room.is_none_or(|room| room.coldest.is_none() || room.hottest.is_none()) {
            let mean = Temperature::from_kelvin(around(room, Season::Mean)).show(units);
            let place = room.map_or("around the pipe", |_| "in");
            let name = room.map_or(String::new(), |room| format!(" {}", room.name.value));
            said.push(usual(&format!("The air {place}{name} is at"), mean));
        }
    }
    let unnamed: Vec<String> = job
        .legs
        .iter()
        .filter(|leg| leg.room.is_none())
        .map(Leg::label)
        .collect();
    if let [first, _, ..] = &job.rooms[..]
        && !unnamed.is_empty()
    {
        said.push(format!(
            "What names no room stands in {}: {}.",
            first.name.value,
            unnamed.join(", ")
        ));
    }
    if unsaid(&|supply| supply.running.is_none()) {
        said.push(usual(
            "The compressor delivers its whole flow for",
            format!("{HOURS:.0} hours a day"),
        ));
    }
    said.push("Each outlet takes an equal share of the air, the shortest way.".to_owned());
    if job.supplies.len() > 1 {
        said.push(
            "That is the way from the nearest compressor: to which end the water comes shifts with the machine that runs. For all of them hold the warmest and wettest air that one takes in, the hottest tank, the longest hours and the lowest cut-in.".to_owned(),
        );
    }
    said.push(match job.main.heat_loss {
        Some(loss) => format!("The pipe loses {loss} W/(m2 K)."),
        None => format!(
            "The pipe is bare and loses {BARE_PIPE} W/(m2 K) (handbook figure, from memory): `heat_loss` under [main] is another."
        ),
    });
    said
}
