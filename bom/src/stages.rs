//! A job in which not all is new: what is to come sets sizes, what comes out is
//! counted, and what stands is said.

use crate::air::sizes::Costs;
use crate::finding::{Finding, Severity};
use crate::job::{Direction, Job, Plug, PlugOf, State};
use crate::library::Library;
use crate::network::{self, Network, Open, Owner, Point, Rooms};
use crate::sized;
use crate::takeoff::{Counts, taken_out};

/// Main beside the network: what is taken out, or comes later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// Which of the two: [`State::Remove`] or [`State::Later`].
    pub state: State,
    /// Its leg.
    pub leg: String,
    /// The outlets on that leg, told with its first piece.
    pub outlets: Vec<String>,
    /// Its ends.
    pub ends: [Point; 2],
    /// The room in which it stands, as an index into the job's; none where it has none.
    pub room: Option<usize>,
}

/// The job with what the shop before the work and the shop to come tell of it.
pub(crate) struct Settled {
    pub(crate) job: Job,
    pub(crate) taken_out: Option<Counts>,
    pub(crate) beside: Vec<Beside>,
    pub(crate) findings: Vec<Finding>,
}

pub(crate) fn settle(mut job: Job, library: &Library, costs: Option<&Costs<'_>>) -> Settled {
    let mut findings = Vec::new();
    let mut beside = Vec::new();
    if let Some(to_come) = job.to_come.take() {
        let (network, found) = sized(&to_come, library, costs);
        // What only the shop to come lacks is said when it is built.
        findings.extend(found.into_iter().filter(stops));
        if let Some(network) = network {
            let legs: Vec<usize> = to_come.legs.iter().map(|leg| leg.number).collect();
            size_plugs(&mut job.plugs, &to_come, &network, true);
            job = job.sized_by(&legs, &network);
            beside.extend(main_in(State::Later, &to_come, &network));
        }
        job.to_come = Some(to_come);
    }
    let mut out = None;
    if let Some(before) = job.before.take() {
        let (network, found) = network::build(&before, library, Open::Chart);
        findings.extend(found.into_iter().filter(stops));
        if let Some(network) = network {
            size_plugs(&mut job.plugs, &before, &network, false);
            out = taken_out(&network, library);
            beside.extend(main_in(State::Remove, &before, &network));
        }
        job.before = Some(before);
    }
    Settled {
        job,
        taken_out: out,
        beside,
        findings,
    }
}

/// The main of a shop that has a state, a piece for each straight way of a leg.
fn main_in(state: State, job: &Job, network: &Network) -> Vec<Beside> {
    let rooms = Rooms::of(job, network);
    let is_outlet = |name: &String| job.outlets.iter().any(|outlet| outlet.name.value == *name);
    let mut pieces: Vec<(Direction, Beside)> = Vec::new();
    for (id, from, to, link) in network.links() {
        let Some(leg) = link.leg.filter(|_| network.link_state(id) == state) else {
            continue;
        };
        let [from, to] = [from, to].map(|place| network.node(place).at);
        let marks = job.legs[leg].marks.iter().map(|mark| &mark.name.value);
        let leg = network.legs[leg].label.clone();
        if let Some((way, last)) = pieces.last_mut()
            && *way == link.direction
            && last.leg == leg
            && last.ends[1] == from
        {
            last.ends[1] = to;
            continue;
        }
        let first = pieces.iter().all(|(_, piece)| piece.leg != leg);
        let piece = Beside {
            state,
            leg,
            outlets: marks
                .filter(|name| first && is_outlet(name))
                .cloned()
                .collect(),
            ends: [from, to],
            room: rooms.of_link(id),
        };
        pieces.push((link.direction, piece));
    }
    pieces.into_iter().map(|(_, piece)| piece).collect()
}

fn stops(finding: &Finding) -> bool {
    matches!(finding.severity, Severity::Error | Severity::Unreadable)
}

/// Gives plugs the sizes of what is to come, or has been.
fn size_plugs(plugs: &mut [Plug], job: &Job, network: &Network, to_come: bool) {
    for plug in plugs.iter_mut().filter(|plug| plug.to_come == to_come) {
        let pipe = match plug.of {
            PlugOf::Drop(_) => {
                let mut drops = network.drops.iter();
                let drop = drops.find(|drop| drop.name == plug.name);
                drop.map(|drop| (drop.size, drop.system))
            }
            PlugOf::Drain => {
                let drain = job
                    .drains
                    .iter()
                    .position(|one| one.name.value == plug.name);
                let mut links = network.links();
                let found = links.find(|(_, _, to, _)| {
                    let owner = network.node(*to).origin.owner;
                    drain.is_some_and(|drain| owner == Owner::Drain(drain))
                });
                found.map(|(.., link)| (link.size, link.system))
            }
            PlugOf::Leg(_) => {
                let leg = job.legs.iter().position(|leg| leg.label() == plug.name);
                let mut links = network.links();
                let found = links.find(|(.., link)| leg.is_some() && link.leg == leg);
                found.map(|(.., link)| (link.size, link.system))
            }
        };
        if let Some((size, system)) = pipe {
            (plug.size, plug.system) = (Some(size), Some(system));
        }
    }
}

/// Says what stands, what comes out and what comes later, and what is taken of it.
pub(crate) fn assume(job: &Job, network: &mut Network) {
    let stands = named(job, State::Existing);
    let mut said = Vec::new();
    if !stands.is_empty() {
        said.push(format!(
            "Standing already, and not bought: {}. It carries air and water and counts in falls and ratings.",
            stands.join(", ")
        ));
        said.push("Pipe that stands is taken to be sound, clean inside and as the job describes it; what its threads are like shows when it is opened.".to_owned());
    }
    let ties = network.tie_ins();
    if !ties.is_empty() {
        said.push(format!(
            "Tie-ins into what stands: {}. Where pipe is cut, or goes on in line, a union stands beside the new part, on tube a coupling that slides over the cut; new pipe is cut to fit there.",
            ties.len()
        ));
    }
    let shut = network
        .nodes()
        .any(|(_, node)| node.origin.spot == network::Spot::Shut);
    if shut {
        said.push("Each new drop on main that stands has an isolating valve at its head, so that the rest goes on while it is worked on.".to_owned());
    }
    if let Some(before) = &job.before {
        said.push(format!(
            "Taken out: {}. The fittings at which it leaves pipe that stays are left, and plugged or capped.",
            named(before, State::Remove).join(", ")
        ));
    }
    if let Some(to_come) = &job.to_come {
        said.push(format!(
            "To come later: {}. On new pipe a plugged tee is counted at each place now; on pipe that stands it is taken to be plugged there already. Sizes that are left open are chosen with it; air, water, counts and prices are without.",
            named(to_come, State::Later).join(", ")
        ));
    }
    network.assumptions.extend(said);
}

/// What of a job is in a state, in words.
fn named(job: &Job, state: State) -> Vec<String> {
    let supplies = job
        .supplies
        .iter()
        .filter(|one| State::of(one.state) == state);
    let supplies = supplies.map(|one| format!("what connects {}", one.name.value));
    let legs = job.legs.iter().filter(|one| State::of(one.state) == state);
    let things = [
        (
            "outlet",
            job.outlets
                .iter()
                .map(|one| (&one.name.value, one.state))
                .collect::<Vec<_>>(),
        ),
        (
            "drain",
            job.drains
                .iter()
                .map(|one| (&one.name.value, one.state))
                .collect(),
        ),
        (
            "valve",
            job.valves
                .iter()
                .map(|one| (&one.name.value, one.state))
                .collect(),
        ),
    ];
    let things = things.into_iter().flat_map(|(what, list)| {
        let list = list.into_iter().filter(|(_, one)| State::of(*one) == state);
        list.map(|(name, _)| format!("{what} {name}"))
            .collect::<Vec<_>>()
    });
    supplies
        .chain(legs.map(crate::job::Leg::label))
        .chain(things)
        .collect()
}
