//! Whether the compressor and its tank give what the shop wants.

use super::demand::Demand;
use super::receiver::{starts_an_hour, tank_for, usable};
use super::{Site, density};
use crate::job::{Job, Supply};
use crate::quantity::{AirFlow, Pressure, Units, Volume};

/// What the compressor gives against what the shop wants. Flows are free air
/// at sea level and 20 C, as the tools' figures are.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The answer, in one line.
    pub line: String,
    /// What the compressor takes in at its place, as its plate says.
    pub free_air: Option<AirFlow>,
    /// The mass of air at its place, to that at sea level and 20 C.
    pub density_ratio: f64,
    /// What it delivers.
    pub delivered: Option<AirFlow>,
    /// The share of time in which it would have to run; above one it cannot.
    pub duty: Option<f64>,
    /// What is left of it; below zero what is missing.
    pub spare: Option<AirFlow>,
    /// The tank, where the job states it and its pressures.
    pub tank: Option<Tank>,
    /// What else is to be known of the supply, in sentences.
    pub remarks: Vec<String>,
    /// What the job must say before this can be answered.
    pub missing: Vec<String>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
}

/// What the tank does between cut-out and cut-in.
#[derive(Debug, Clone, PartialEq)]
pub struct Tank {
    /// Its volume.
    pub volume: Volume,
    /// The pressure at which the compressor starts.
    pub cut_in: Pressure,
    /// The pressure at which it stops.
    pub cut_out: Pressure,
    /// The free air that it gives between the two.
    pub usable: Volume,
    /// How often each hour the motor starts at average demand; none where it
    /// never stops.
    pub starts: Option<f64>,
    /// How long it lasts the average, each tool, the likely peak, and all at
    /// once, in this order.
    pub bursts: Vec<Burst>,
    /// The tank that carries the likely peak for [`BURST`] seconds from cut-out
    /// to cut-in.
    pub for_peak: Option<ForPeak>,
}

/// More air than the average, for a while.
#[derive(Debug, Clone, PartialEq)]
pub struct Burst {
    /// What runs.
    pub what: String,
    /// What is taken all together.
    pub flow: AirFlow,
    /// Minutes from a full tank until the compressor starts; none if nothing is
    /// taken.
    pub until_cut_in: Option<f64>,
    /// What the pressure loses in each minute after that, while the compressor
    /// runs; nothing where it keeps up. None if nothing says what it delivers.
    pub then_falls: Option<Pressure>,
}

/// Two tanks: which one is needed depends on what the compressor does when the
/// burst begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ForPeak {
    /// While the compressor runs from the first moment on.
    pub running: Volume,
    /// While it stands, as it does with a full tank.
    pub standing: Volume,
}

/// How long a likely peak lasts, seconds. Common practice, no source.
pub const BURST: f64 = 60.0;
/// As often as a motor may start each hour. Common practice, no source: 10 to
/// 15, the larger the motor the fewer.
pub const MOST_STARTS: f64 = 10.0;
/// A compressor that runs for more of the time has nothing left for growth,
/// wear and leaks. Common practice, no source.
const MOST_DUTY: f64 = 0.8;

/// Holds the demand against the supply at its place.
#[must_use]
pub fn verdict(job: &Job, demand: &Demand, site: &Site) -> Verdict {
    let standard = Site::SEA_LEVEL;
    let density_ratio = density(site.atmosphere, site.temperature)
        / density(standard.atmosphere, standard.temperature);
    let delivered = job
        .free_air()
        .map(|flow| AirFlow::from_litres_per_second(flow.litres_per_second() * density_ratio));
    let average = demand.total.average.litres_per_second();
    let given = delivered.map(AirFlow::litres_per_second);
    let mut verdict = Verdict {
        line: String::new(),
        free_air: job.free_air(),
        density_ratio,
        delivered,
        duty: given.map(|given| average / given),
        spare: given.map(|given| AirFlow::from_litres_per_second(given - average)),
        tank: tank(job, demand, delivered, site),
        remarks: Vec::new(),
        missing: missing(job, demand),
        assumptions: vec![
            "The compressor starts at its cut-in, stops at its cut-out and delivers the same at every pressure between.".to_owned(),
            "Leaks are not in it.".to_owned(),
        ],
    };
    let who = Who::of(job);
    verdict.line = line(&verdict, demand, job.units, &who);
    verdict.remarks = remarks(&verdict, demand, job.units, &who);
    if job.supplies.len() > 1 {
        verdict.assumptions.push(format!(
            "What {} deliver is taken together, all of it comes to the main, and their tanks fill and empty as one.",
            job.supply_names()
        ));
    }
    if verdict.tank.is_some() {
        verdict.assumptions.extend([
            format!(
                "The likely peak lasts {} (common practice, no source).",
                time(BURST / 60.0)
            ),
            "The air in the tank is as warm as the air that is taken in: a tank that is hotter holds less.".to_owned(),
        ]);
    }
    verdict
}

/// What delivers, with the verbs that go with it.
struct Who {
    delivers: &'static str,
    runs: &'static str,
    stops: &'static str,
    takes_in: &'static str,
}

impl Who {
    const fn of(job: &Job) -> Self {
        match job.supplies.len() {
            0 | 1 => Self {
                delivers: "the compressor delivers",
                runs: "the compressor runs",
                stops: "the compressor never stops",
                takes_in: "The compressor takes in",
            },
            _ => Self {
                delivers: "all compressors deliver",
                runs: "all compressors together run",
                stops: "the compressors never stop",
                takes_in: "The compressors take in",
            },
        }
    }
}

fn missing(job: &Job, demand: &Demand) -> Vec<String> {
    let mut missing = Vec::new();
    let cut_in = job.cut_in().show(job.units);
    for supply in &job.supplies {
        let under = match &job.supplies[..] {
            [_] => "the supply".to_owned(),
            _ => format!("[supply.{}]", supply.name.value),
        };
        missing.extend(missing_of(supply, &under, &cut_in));
    }
    if one_band(job).is_none() && missing.is_empty() {
        missing.push(
            "NOT KNOWN: how long the tanks last a burst. That is worked out where all compressors of one main have the same `cut_in` and the same `cut_out`.".to_owned(),
        );
    }
    if demand.tools.is_empty() {
        missing.push(
            "NOT KNOWN: what the shop wants. Name the tools of each outlet: tools = [{ tool = \"orbital sander\" }].".to_owned(),
        );
    }
    missing
}

/// All tanks as one, where they rise and fall together: volume, cut-in, cut-out.
fn one_band(job: &Job) -> Option<(Volume, Pressure, Pressure)> {
    let mut bands = job.supplies.iter().map(|supply| {
        let band = (supply.cut_in?, supply.cut_out?);
        Some((supply.tank?.litres(), band))
    });
    let (litres, band) = bands.next()??;
    let litres = bands.try_fold(litres, |litres, other| {
        let (more, other) = other?;
        (other == band).then_some(litres + more)
    })?;
    let volume = match &job.supplies[..] {
        [only] => only.tank?,
        _ => Volume::from_litres(litres),
    };
    Some((volume, band.0, band.1))
}

fn missing_of(supply: &Supply, under: &str, cut_in: &str) -> Vec<String> {
    let from = format!(
        "how much air the tank gives, and what it still has when the compressor starts: {cut_in} is taken"
    );
    let needed = [
        (
            supply.free_air.is_none(),
            "free_air",
            "what the compressor delivers, and so whether it is enough",
        ),
        (
            supply.tank.is_none(),
            "tank",
            "how long the tank lasts a burst",
        ),
        (supply.cut_in.is_none(), "cut_in", from.as_str()),
        (
            supply.cut_out.is_none(),
            "cut_out",
            "how much air the tank gives",
        ),
    ];
    let needed = needed.into_iter().filter(|(missing, ..)| *missing);
    needed
        .map(|(_, key, what)| format!("NOT KNOWN: {what}. Write `{key}` under {under}."))
        .collect()
}

fn line(verdict: &Verdict, demand: &Demand, units: Units, who: &Who) -> String {
    let average = demand.total.average.show(units);
    if demand.tools.is_empty() {
        return "No tool is named: nothing says how much air the shop wants".to_owned();
    }
    let (Some(delivered), Some(duty)) = (verdict.delivered, verdict.duty) else {
        return format!(
            "{average} average, and nothing says what {}: NOT CHECKED",
            who.delivers
        );
    };
    let against = format!(
        "{average} average against {} delivered",
        delivered.show(units)
    );
    match verdict.spare {
        Some(spare) if duty <= 1.0 => format!(
            "{against}: {} {:.0} % of the time, and {} is left",
            who.runs,
            duty * 100.0,
            spare.show(units)
        ),
        _ => format!("{against}: {} and the pressure falls", who.stops),
    }
}

fn remarks(verdict: &Verdict, demand: &Demand, units: Units, who: &Who) -> Vec<String> {
    let mut said = Vec::new();
    if let (Some(free_air), Some(delivered)) = (verdict.free_air, verdict.delivered)
        && (verdict.density_ratio - 1.0).abs() > 0.005
    {
        said.push(format!(
            "{} {} of air that weighs {:.1} % of air at sea level and {}: to the tools that is {}.",
            who.takes_in,
            free_air.show(units),
            verdict.density_ratio * 100.0,
            Site::SEA_LEVEL.temperature.show(units),
            delivered.show(units)
        ));
    }
    if demand.tools.is_empty() {
        return said;
    }
    match (verdict.duty, &verdict.tank) {
        (Some(duty), Some(tank)) if duty > 1.0 => {
            said.extend(tank.bursts.first().map(|burst| no_tank_mends(burst, units)));
        }
        (Some(duty), None) if duty > 1.0 => {
            said.push("No tank mends that: it only puts it off.".to_owned());
        }
        (Some(duty), _) if duty > MOST_DUTY => said.push(format!(
            "More than {:.0} % leaves nothing for growth, wear and leaks (common practice, no source).",
            MOST_DUTY * 100.0
        )),
        _ => {}
    }
    let starts = verdict.tank.as_ref().and_then(|tank| tank.starts);
    if let Some(starts) = starts.filter(|starts| *starts > MOST_STARTS) {
        said.push(format!(
            "The motor starts {starts:.0} times an hour at average demand: 10 to 15 are the most that is usual (common practice, no source). A larger tank or a wider band mends that."
        ));
    }
    said
}

/// What a demand above the supply does, whatever the tank.
fn no_tank_mends(average: &Burst, units: Units) -> String {
    let after = time(average.until_cut_in.unwrap_or(0.0));
    let falls = average.then_falls.map_or_else(String::new, |falls| {
        format!(
            ", and from there the pressure falls by {} each minute",
            falls.show(units)
        )
    });
    format!("No tank mends that: full, this one is down to its cut-in after {after}{falls}.")
}

fn tank(job: &Job, demand: &Demand, delivered: Option<AirFlow>, site: &Site) -> Option<Tank> {
    let (volume, cut_in, cut_out) = one_band(job)?;
    // The pressure at which air as warm as the tank's is as dense as the free
    // air that the flows are measured in.
    let standard = Site::SEA_LEVEL;
    let free = standard.atmosphere * site.temperature.kelvin() / standard.temperature.kelvin();
    let (upper, lower) = (cut_out.kpa() * 1_000.0, cut_in.kpa() * 1_000.0);
    let litres = usable(volume.litres(), upper, lower, free);
    let given = delivered.map(AirFlow::litres_per_second);
    let total = &demand.total;
    let average = total.average.litres_per_second();
    let burst = |what: String, flow: f64| Burst {
        what,
        flow: AirFlow::from_litres_per_second(flow),
        until_cut_in: (flow > 0.0).then(|| litres / flow / 60.0),
        then_falls: given.filter(|_| volume.litres() > 0.0).map(|given| {
            let missing = (flow - given).max(0.0) * 60.0;
            Pressure::from_kpa(missing * free / volume.litres() / 1_000.0)
        }),
    };
    let flows = |flow: AirFlow| flow.litres_per_second();
    let mut bursts = vec![burst("average".to_owned(), average)];
    bursts.extend(demand.tools.iter().map(|tool| {
        let more = flows(tool.running.value) - flows(tool.average);
        burst(
            format!(
                "{} at {}, the rest at its average",
                tool.name, job.outlets[tool.outlet].name.value
            ),
            average + more,
        )
    }));
    bursts.extend([
        burst("likely peak".to_owned(), flows(total.peak)),
        burst("every tool at once".to_owned(), flows(total.connected)),
    ]);
    let peak = total.peak.litres_per_second();
    let carries = |given| tank_for(BURST, peak, given, upper, lower, free).map(Volume::from_litres);
    Some(Tank {
        volume,
        cut_in,
        cut_out,
        usable: Volume::from_litres(litres),
        starts: given.and_then(|given| starts_an_hour(litres, average, given)),
        bursts,
        for_peak: given.and_then(|given| {
            Some(ForPeak {
                running: carries(given)?,
                standing: carries(0.0)?,
            })
        }),
    })
}

/// A time in minutes, or in seconds where it is short.
fn time(minutes: f64) -> String {
    match minutes {
        short if short < 2.0 => format!("{:.0} seconds", short * 60.0),
        long if long < 10.0 => format!("{long:.1} minutes"),
        long => format!("{long:.0} minutes"),
    }
}

#[cfg(test)]
mod tests;
