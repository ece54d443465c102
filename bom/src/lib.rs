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
pub mod assembly;
pub mod cutting;
pub mod drawing;
pub mod finding;
pub mod fitting;
pub mod handover;
pub mod interview;
pub mod job;
pub mod library;
pub mod network;
pub mod practice;
pub mod quantity;
pub mod rating;
pub mod readback;
pub mod source;
mod stages;
pub mod summary;
pub mod survey;
pub mod system;
pub mod takeoff;
pub mod water;

use air::sizes::{Costs, Sizes};
use finding::{Finding, stops};
use library::Library;
use network::Open;
use source::Source;

pub use stages::Beside;

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
    /// Main that is taken out or comes later: it is drawn, and no part of the network.
    pub beside: Vec<Beside>,
}

/// Reads, builds and counts a job. The plan is there if nothing stops it; the
/// findings stand in the order of the file.
#[must_use]
pub fn plan(source: &Source, library: &Library) -> (Option<Plan>, Vec<Finding>) {
    plan_by(source, library, None, None)
}

/// The same, with the main in another `system`: its sizes, and those of drops and
/// drains, become the ones that carry the air as well. Sizes that the job leaves
/// open are the cheapest by `costs`, or have the least metal.
#[must_use]
pub fn plan_by(
    source: &Source,
    library: &Library,
    system: Option<usize>,
    costs: Option<&Costs<'_>>,
) -> (Option<Plan>, Vec<Finding>) {
    let (job, findings) = job::read(source, library);
    let job = match system {
        Some(system) => job.map(|job| job.in_system(system, library)),
        None => job,
    };
    match job {
        Some(job) => plan_offered(job, findings, library, costs),
        None => (None, findings),
    }
}

/// Plans a job without what it offers besides, once all of it can be built.
fn plan_offered(
    job: job::Job,
    findings: Vec<Finding>,
    library: &Library,
    costs: Option<&Costs<'_>>,
) -> (Option<Plan>, Vec<Finding>) {
    if job.alternates.is_empty() {
        return plan_after(job, findings, library, costs);
    }
    let (whole, mut findings) = plan_after(job.clone(), findings, library, costs);
    if whole.is_none() {
        return (None, findings);
    }
    let (plan, found) = plan_job(job.with_alternates(&[]), library, costs);
    for finding in found {
        if !findings.contains(&finding) {
            findings.push(finding);
        }
    }
    findings.sort_by_key(Finding::place);
    (plan, findings)
}

/// Builds and counts a job that has been read, with all that it has.
#[must_use]
pub fn plan_job(
    job: job::Job,
    library: &Library,
    costs: Option<&Costs<'_>>,
) -> (Option<Plan>, Vec<Finding>) {
    plan_after(job, Vec::new(), library, costs)
}

/// The same, after what was found while it was read.
fn plan_after(
    mut job: job::Job,
    mut findings: Vec<Finding>,
    library: &Library,
    costs: Option<&Costs<'_>>,
) -> (Option<Plan>, Vec<Finding>) {
    if !stops(&findings) {
        findings.extend(nothing_left(&job));
    }
    let plan = 'plan: {
        if job.legs.is_empty() {
            break 'plan None;
        }
        let settled = stages::settle(job, library, costs);
        job = settled.job;
        findings.extend(settled.findings);
        let (mut network, found) = sized(&job, library, costs);
        for finding in found {
            if !findings.contains(&finding) {
                findings.push(finding);
            }
        }
        if let Some(network) = &mut network {
            stages::assume(&job, network);
        }
        findings.extend(readback::misfits(&job, library));
        let Some(network) = network.filter(|_| !stops(&findings)) else {
            break 'plan None;
        };
        let (takeoff, found) = takeoff::takeoff(&network, library);
        findings.extend(found);
        let Some(mut takeoff) = takeoff else {
            break 'plan None;
        };
        takeoff.taken_out = settled.taken_out.unwrap_or_default();
        takeoff.order_more(&job, &network, library);
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
            beside: settled.beside,
            network,
            job,
        })
    };
    findings.sort_by_key(Finding::place);
    (plan, findings)
}

/// A job of which all main went with the outlets that were taken out of it.
fn nothing_left(job: &job::Job) -> Option<Finding> {
    let alternate = job.alternates.first().map(|one| one.name.span);
    job.legs.is_empty().then(|| {
        Finding::unreadable(
            "nothing-left",
            alternate.unwrap_or_default(),
            match job.before.is_some() || job.to_come.is_some() {
                true => {
                    "all of the main is taken out or comes later, and nothing is left of it now"
                }
                false => {
                    "there is no leg of the main, or nothing is left of it without these outlets"
                }
            },
            match job.before.is_some() || job.to_come.is_some() {
                true => "describe the main that is there after the work",
                false => "keep one outlet at least in the job itself",
            },
        )
    })
}

/// The network with the sizes that the job leaves open: those that keep every
/// tool's pressure where it names tools, else those of the published chart.
fn sized(
    job: &job::Job,
    library: &Library,
    costs: Option<&Costs<'_>>,
) -> (Option<network::Network>, Vec<Finding>) {
    let chosen = || sizes(job, library, costs);
    match chosen() {
        Some(sizes) => network::build(job, library, Open::Chosen(&sizes)),
        None => {
            let (mut network, findings) = network::build(job, library, Open::Chart);
            if let (Some(network), Some(why)) = (&mut network, air::sizes::why_chart(job)) {
                network.assumptions.push(why);
            }
            (network, findings)
        }
    }
}

/// The sizes that are chosen for what a job leaves open: by costs, or by the
/// metal where these leave nothing to choose from. None where it leaves nothing
/// open or names no tools.
#[must_use]
pub fn sizes(job: &job::Job, library: &Library, costs: Option<&Costs<'_>>) -> Option<Sizes> {
    if !air::sizes::wanted(job) {
        return None;
    }
    let network = network::build(job, library, Open::Any).0?;
    let demand = air::demand::demand(job, library);
    let metal = |system, size| air::sizes::metal(library, system, size);
    let by_metal = Costs {
        of: &metal,
        basis: "the mass of metal",
    };
    let choose = |costs| air::sizes::choose(job, &network, library, &demand, costs);
    costs.and_then(choose).or_else(|| choose(&by_metal))
}
