//! How much water there is: what the tank keeps back, and what each length of
//! pipe makes as the air cools in it. The first legs make most of it.

use super::map::WaterMap;
use crate::air::Site;
use crate::air::cooling::{BARE_PIPE, cooled, surface};
use crate::air::moisture::{humidity_ratio, saturation, saturation_ratio};
use crate::job::Job;
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId};
use crate::quantity::{Length, Pressure, Temperature};
use std::collections::BTreeMap;

/// Water each day, in litres.
#[derive(Debug, Clone)]
pub struct Amounts {
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
    /// What was taken because the job does not say it, and how it is meant.
    pub assumptions: Vec<String>,
}

/// The pressure at which the compressor starts, where the job says none; the
/// air holds most water there.
const CUT_IN: Pressure = Pressure::from_psi(100.0);

/// What is known of the air.
struct Air {
    /// Dry air, kg/s.
    dry: f64,
    /// Vapour to dry air, as taken in.
    ratio: f64,
    /// Absolute pressure in the pipe, Pa.
    absolute: f64,
    tank: Temperature,
    around: Temperature,
    seconds: f64,
}

/// The water of a day; none where the job says no flow of air.
#[must_use]
pub(super) fn amounts(
    job: &Job,
    network: &Network,
    library: &Library,
    map: &WaterMap,
) -> Option<Amounts> {
    let mut assumptions = Vec::new();
    let air = air(job, network, &mut assumptions)?;
    let after_tank = air
        .ratio
        .min(saturation_ratio(air.tank.kelvin(), air.absolute));
    let litres = |ratio: f64, share: f64| ratio * share * air.dry * air.seconds;

    let shares = shares(network);
    let mut at_ends = vec![0.0; map.ends.len()];
    let (mut standing, mut leaves) = (0.0, 0.0);
    // From the tank outwards each place has the state of the air that comes to
    // it, on the shortest way.
    let mut state = BTreeMap::from([(shares.start, (air.tank, after_tank))]);
    for (node, by) in &shares.order {
        let end = network.ends(*node).find(|end| end.link == *by);
        let Some((here, ratio)) = end.and_then(|end| state.get(&end.far).copied()) else {
            continue;
        };
        let link = network.link(*by);
        let share = shares.of(*by);
        let outside = library.systems()[link.system]
            .row(link.size)
            .map_or(Length::ZERO, |row| row.outside);
        let cold = match link.pipe {
            Some(length) if share > 0.0 => cooled(
                here,
                air.around,
                air.dry * share,
                surface(length, outside),
                BARE_PIPE,
            ),
            _ => here,
        };
        let left = ratio.min(saturation_ratio(cold.kelvin(), air.absolute));
        let made = litres(ratio - left, share);
        match map.end_of(*by) {
            Some(end) => at_ends[end] += made,
            None => standing += made,
        }
        let ends_here = share - shares.onward(*node);
        if ends_here > 0.0 {
            leaves += litres(left, ends_here);
        }
        state.insert(*node, (cold, left));
    }
    assumptions.push(
        "Each outlet takes an equal share of the air, the shortest way; the pipe is bare and loses 10 W/(m2 K) (handbook figure, from memory).".to_owned(),
    );
    Some(Amounts {
        taken_in: litres(air.ratio, 1.0),
        in_tank: litres(air.ratio - after_tank, 1.0),
        at_ends,
        standing,
        leaves,
        assumptions,
    })
}

fn air(job: &Job, network: &Network, assumptions: &mut Vec<String>) -> Option<Air> {
    let flow = job.supply.free_air?;
    let units = network.units;
    let mut taken = |stated: Option<Temperature>, usual: i32, what: &str| {
        stated.unwrap_or_else(|| {
            let usual = Temperature::from_fahrenheit(usual);
            assumptions.push(format!(
                "{what} {} (common practice, no source).",
                usual.show(units)
            ));
            usual
        })
    };
    let intake = taken(job.supply.intake, 75, "The air is taken in at");
    let tank = taken(job.supply.discharge, 100, "It leaves the tank at");
    let coldest = job.rooms.iter().filter_map(|room| room.coldest).min();
    let hottest = job.rooms.iter().filter_map(|room| room.hottest).max();
    let between = coldest
        .zip(hottest)
        .map(|(cold, hot)| Temperature::from_kelvin(cold.kelvin().midpoint(hot.kelvin())));
    let around = taken(between, 70, "The air around the pipe is at");
    let humidity = job.supply.humidity.unwrap_or_else(|| {
        assumptions.push("Its relative humidity is 60 % (common practice, no source).".to_owned());
        0.6
    });
    let hours = job.supply.running.unwrap_or_else(|| {
        assumptions.push(
            "The compressor delivers its whole flow for 8 hours a day (common practice, no source)."
                .to_owned(),
        );
        8.0
    });
    let site = Site {
        temperature: intake,
        ..Site::SEA_LEVEL
    };
    let vapour = humidity * saturation(intake.kelvin());
    let ratio = humidity_ratio(vapour, site.atmosphere);
    let pressure = job.supply.cut_in.unwrap_or(CUT_IN);
    Some(Air {
        // The vapour takes its part of the pressure; the rest is the dry air's.
        dry: site.mass(flow) * (1.0 - vapour / site.atmosphere),
        ratio,
        absolute: site.atmosphere + pressure.kpa() * 1_000.0,
        tank,
        around,
        seconds: hours * 3_600.0,
    })
}

/// How much of the air goes through each link, the shortest way.
struct Shares {
    start: NodeId,
    /// Every place but the first, nearest first, with the link that leads to it.
    order: Vec<(NodeId, LinkId)>,
    share: Vec<f64>,
    onward: Vec<f64>,
}

impl Shares {
    fn of(&self, link: LinkId) -> f64 {
        self.share[link.index()]
    }

    /// What goes on from a place, away from the tank.
    fn onward(&self, node: NodeId) -> f64 {
        self.onward[node.index()]
    }
}

fn shares(network: &Network) -> Shares {
    let reached = network.shortest_ways();
    let mut share = vec![0.0; network.link_count()];
    let mut through = vec![0.0; network.node_count()];
    let mut onward = vec![0.0; network.node_count()];
    #[expect(clippy::cast_precision_loss, reason = "far fewer drops than 2^52")]
    let each = 1.0 / network.drops.len().max(1) as f64;
    for drop in &network.drops {
        through[drop.foot_at.index()] += each;
    }
    // From the farthest place inwards all that goes through it is known.
    for (node, by) in reached.iter().rev() {
        let here = through[node.index()];
        share[by.index()] += here;
        if let Some(end) = network.ends(*node).find(|end| end.link == *by) {
            through[end.far.index()] += here;
            onward[end.far.index()] += here;
        }
    }
    let first = network.nodes().next().map(|(id, _)| id);
    Shares {
        start: first.unwrap_or_else(|| reached[0].0),
        order: reached,
        share,
        onward,
    }
}
