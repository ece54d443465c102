//! The pipework: everything that has no price.
//!
//! A job file becomes one immutable layout graph, and every answer is a walk
//! over it:
//!
//! ```text
//! Source ─ job::read ─▶ Job ─ network::build ─▶ Network ─ takeoff::takeoff ─▶ Takeoff
//! ```
//!
//! Each stage returns its value and what it found wrong; none prints, reads a
//! file or looks back at an earlier form of its input.

pub mod air;
pub mod cutting;
pub mod finding;
pub mod fitting;
pub mod job;
pub mod library;
pub mod network;
pub mod practice;
pub mod quantity;
pub mod rating;
pub mod source;
pub mod summary;
pub mod system;
pub mod takeoff;
pub mod water;

use finding::{Finding, stops};
use library::Library;
use source::Source;

/// A job, walked and counted.
#[derive(Debug)]
pub struct Plan {
    /// The job as it was read.
    pub job: job::Job,
    /// The layout.
    pub network: network::Network,
    /// The layout in a few facts.
    pub summary: summary::Summary,
    /// The count.
    pub takeoff: takeoff::Takeoff,
    /// Where the water goes.
    pub water: water::WaterMap,
    /// Where that water may freeze.
    pub freezing: Vec<water::Freezing>,
    /// How much water a day brings, where the job says how much air.
    pub amounts: Option<water::Amounts>,
    /// What good practice would do otherwise.
    pub practice: Vec<Finding>,
    /// All the air of the compressor, where the job says how much it is.
    pub stream: Option<air::Stream>,
    /// What every part may carry, against what it can see.
    pub zones: rating::Zones,
}

/// Reads, builds and counts a job. The plan is there if nothing stops it; the
/// findings stand in the order of the file.
#[must_use]
pub fn plan(source: &Source, library: &Library) -> (Option<Plan>, Vec<Finding>) {
    planned(source, library, None)
}

/// The same, with the main in another system: its sizes, and those of drops
/// and drains, become the ones that carry the air as well.
#[must_use]
pub fn plan_in(source: &Source, library: &Library, system: usize) -> (Option<Plan>, Vec<Finding>) {
    planned(source, library, Some(system))
}

fn planned(
    source: &Source,
    library: &Library,
    system: Option<usize>,
) -> (Option<Plan>, Vec<Finding>) {
    let (job, mut findings) = job::read(source, library);
    let job = match system {
        Some(system) => job.map(|job| job.in_system(system, library)),
        None => job,
    };
    let plan = job.and_then(|job| {
        let (network, found) = network::build(&job, library);
        findings.extend(found);
        let network = network.filter(|_| !stops(&findings))?;
        let (takeoff, found) = takeoff::takeoff(&network, library);
        findings.extend(found);
        let takeoff = takeoff?;
        let zones = rating::zones(&network, &takeoff, library, &job.conditions());
        findings.extend(rating::findings(&zones));
        let water = water::walk(&network, library);
        findings.extend(water::failure(&water));
        let freezing = water::freezing(&job, &network, &water);
        let amounts = water::amounts(&job, &network, library, &water);
        let mut practice = practice::findings(practice::Context {
            job: &job,
            network: &network,
            library,
            water: &water,
        });
        // Practice is said by whoever asks for it, unless it stops the job.
        if stops(&practice) {
            findings.append(&mut practice);
        }
        (!stops(&findings)).then(|| Plan {
            water,
            freezing,
            amounts,
            practice,
            summary: network.summary(&job, library),
            takeoff,
            zones,
            stream: job.stream(),
            network,
            job,
        })
    });
    findings.sort_by_key(Finding::place);
    (plan, findings)
}
