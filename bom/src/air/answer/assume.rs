//! What was taken for granted.

use crate::air::demand::Demand;
use crate::air::ladder::piping::PIPE_TEMPERATURE;
use crate::air::supply::Verdict;
use crate::air::{DROP_SPEED, MAIN_SPEED};
use crate::job::Job;
use crate::library::Library;
use crate::network::Network;

/// In sentences.
pub(super) fn assumptions(
    job: &Job,
    network: &Network,
    demand: &Demand,
    supply: &Verdict,
    library: &Library,
) -> Vec<String> {
    let cut_in = job.cut_in().show(job.units);
    let unsaid = job.supplies.iter().any(|supply| supply.cut_in.is_none());
    let tank = match &job.supplies[..] {
        [_, _, ..] => format!(
            "Tanks on one main come to the same pressure: pressures start from every tank at {cut_in}, the lowest cut-in{}, at which all compressors run.",
            if unsaid {
                " (where none is stated, as is common practice)"
            } else {
                ""
            }
        ),
        _ if !unsaid => format!(
            "Pressures start from the tank at its cut-in of {cut_in}: no tool ever gets less while the compressor keeps up."
        ),
        _ => format!(
            "The job states no cut-in: pressures start from the tank at {cut_in} (common practice, no source)."
        ),
    };
    let limits = match (job.main.speed, job.main.drop_speed) {
        (Some(_), Some(_)) => None,
        _ => Some(format!(
            "As fast as air should run, where the job does not say: {} in the main, {} in drops (common practice, no source).",
            MAIN_SPEED.show(job.units),
            DROP_SPEED.show(job.units)
        )),
    };
    let own = [
        "Each tool is held against its worst case: it runs, or what the job says runs together does, all others take their average, and each line valve of a ring is shut in turn.",
        "Worn means after years: pipe as rough as its system's figures say, filters due for their change, all else as new.",
        "A regulator that nobody says the setting of is set so that its tool gets what it works best at. What a regulator holds back is no loss.",
        "Filters, regulators, lubricators and couplers resist as the sample figures of the shipped table; the maker's curve holds.",
        "Speeds are those with all valves open.",
    ];
    let warm = format!(
        "The air in the pipe has {}.",
        PIPE_TEMPERATURE.show(job.units)
    );
    let mut connected = job.supplies.iter().flat_map(|supply| &supply.connect);
    let unset = connected.any(|used| {
        let device = &library.devices()[used.value.device];
        device.name == "regulator" && used.value.set.is_none()
    });
    let unset = unset.then(|| {
        "Nothing says what a regulator behind the tank is set to: it is taken to let everything through.".to_owned()
    });
    let lists = demand.assumptions.iter().chain(&supply.assumptions);
    let all = std::iter::once(tank)
        .chain(own.into_iter().map(str::to_owned))
        .chain(unset)
        .chain(std::iter::once(warm))
        .chain(limits)
        .chain(std::iter::once(demand.method.clone()))
        .chain(lists.cloned())
        .chain(network.assumptions.iter().cloned());
    let mut said: Vec<String> = Vec::new();
    for one in all {
        if !said.contains(&one) {
            said.push(one);
        }
    }
    said
}
