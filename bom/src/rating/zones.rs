//! What every part under the relief valve may carry, weakest first.

use super::heat::Heat;
use super::walk::Walk;
use super::weak::{KPA_PER_PSI, shown};
use crate::air::Site;
use crate::job::ABOVE_CUT_OUT;
use crate::library::Library;
use crate::network::{Network, NodeId};
use crate::quantity::{AirFlow, Pressure, Temperature, Units};
use crate::source::Span;
use crate::system::System;
use crate::takeoff::Takeoff;

/// What the pipe meets, as far as the job says it.
#[derive(Debug, Clone, Default)]
pub struct Conditions {
    /// Setting of the relief valve.
    pub relief: Option<Pressure>,
    /// Pressure at which the compressor stops.
    pub cut_out: Option<Pressure>,
    /// Pressure at which it starts.
    pub cut_in: Option<Pressure>,
    /// Air as it leaves the tank.
    pub discharge: Option<Temperature>,
    /// Air around the pipe.
    pub ambient: Option<Temperature>,
    /// Air as it is taken in.
    pub intake: Option<Temperature>,
    /// The air outside.
    pub site: Site,
    /// Heat that the outside of the pipe loses, W/(m2 K).
    pub heat_loss: Option<f64>,
    /// Free air delivered.
    pub free_air: Option<AirFlow>,
    /// The alloy of soldered and brazed joints.
    pub alloy: Option<String>,
}

/// Every pressure zone of a network, rated.
#[derive(Debug, Clone)]
pub struct Zones {
    /// The zones; one for all that is under the relief valve.
    pub zones: Vec<Zone>,
    /// What was taken because the job does not say it.
    pub assumptions: Vec<String>,
    /// How results print.
    pub units: Units,
}

/// A pressure zone: what can see the same pressure.
#[derive(Debug, Clone)]
pub struct Zone {
    /// Its name.
    pub name: String,
    /// The pressure that it can see, psi; none where the job states nothing.
    pub limit_psi: Option<f64>,
    /// Where that pressure comes from, as the end of a sentence.
    pub limit_words: String,
    /// Everything in it, weakest first.
    pub items: Vec<Rated>,
}

/// A part and what it may carry where it is hottest.
#[derive(Debug, Clone)]
pub struct Rated {
    /// What it is: `black iron pipe 3/4in`, `hose`.
    pub what: String,
    /// What the rating is for, as its row says it; empty for devices.
    pub words: String,
    /// Its hottest place.
    pub place: NodeId,
    /// That place in words.
    pub place_words: String,
    /// Where the user wrote it.
    pub span: Span,
    /// The temperature there.
    pub temperature: Temperature,
    /// What it may carry there, psi; none where no published figure holds.
    pub psi: Option<f64>,
    /// How far that is above the zone's limit, psi.
    pub margin_psi: Option<f64>,
    /// Who says so.
    pub source: String,
    /// Other published views, for the paper only.
    pub shown: Vec<Shown>,
}

/// Another published view of a rating.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// What it is for.
    pub words: String,
    /// What it says, psi.
    pub psi: f64,
    /// The temperature up to which it says it, where that is less than the
    /// part's own.
    pub only_to: Option<Temperature>,
    /// Who says so.
    pub source: String,
}

/// Rates everything that the take-off counts. What stands behind a regulator
/// is in the same zone: a regulator can fail open.
#[must_use]
pub fn zones(
    network: &Network,
    takeoff: &Takeoff,
    library: &Library,
    conditions: &Conditions,
) -> Zones {
    rated(network, takeoff, library, library.systems(), conditions)
}

/// The same with the systems given apart.
pub(super) fn rated(
    network: &Network,
    takeoff: &Takeoff,
    library: &Library,
    systems: &[System],
    conditions: &Conditions,
) -> Zones {
    let mut assumptions = Vec::new();
    let (limit_psi, limit_words) = limit(network.units, conditions, &mut assumptions);
    let walk = Walk {
        network,
        takeoff,
        library,
        systems,
        alloy: conditions.alloy.as_deref(),
        heat: Heat::new(network, systems, conditions, &mut assumptions),
    };
    if walk.has_regulator() {
        assumptions.push(
            "what stands behind a regulator is judged at the full pressure: \
             a regulator can fail open"
                .to_owned(),
        );
    }
    for fitting in walk.unjudged() {
        assumptions.push(format!("{fitting} is not judged: its maker's figure holds"));
    }
    let mut items = walk.items();
    for item in &mut items {
        item.margin_psi = limit_psi
            .zip(item.psi)
            .map(|(limit, carries)| carries - limit);
    }
    // What has no rating comes first: nobody says that it carries anything.
    items.sort_by(|a, b| {
        let psi = |item: &Rated| item.psi.unwrap_or(f64::NEG_INFINITY);
        psi(a).total_cmp(&psi(b))
    });
    Zones {
        zones: vec![Zone {
            name: format!("under the relief valve of {}", network.supply_names()),
            limit_psi,
            limit_words,
            items,
        }],
        assumptions,
        units: network.units,
    }
}

/// The pressure that everything can see, psi, and where it comes from.
fn limit(
    units: Units,
    conditions: &Conditions,
    assumptions: &mut Vec<String>,
) -> (Option<f64>, String) {
    let psi = |pressure: Pressure| pressure.kpa() / KPA_PER_PSI;
    match (conditions.relief, conditions.cut_out) {
        (Some(relief), _) => (
            Some(psi(relief)),
            format!("the relief valve opens at {}", relief.show(units)),
        ),
        (None, Some(cut_out)) => {
            let taken = psi(cut_out) * ABOVE_CUT_OUT;
            let words = shown(taken, units);
            assumptions.push(format!(
                "no relief setting is stated: it is taken as {ABOVE_CUT_OUT} times the \
                 cut-out pressure, {words} (common practice, no source)"
            ));
            let cut_out = cut_out.show(units);
            (
                Some(taken),
                format!("{ABOVE_CUT_OUT} times the cut-out pressure of {cut_out} is {words}"),
            )
        }
        (None, None) => {
            let words = "neither a relief setting nor a cut-out pressure is stated";
            assumptions.push(format!(
                "{words}: nothing could be compared with its rating"
            ));
            (None, words.to_owned())
        }
    }
}
