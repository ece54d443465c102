//! From a job to its network, with everything that cannot be built as written.

use super::drops::Builder;
use super::route::{DraftKind, DraftNode, Route};
use super::{
    Lay, LegName, Link, LinkId, Network, Node, NodeKind, Open, Owner, Spot, States, connection,
    ends, falls, route, sizes, walls,
};
use crate::finding::{Finding, stops};
use crate::fitting::{Fitting, NoFitting, Way};
use crate::job::{Job, State, Wall};
use crate::library::Library;
use crate::quantity::Length;
use crate::source::Span;
use petgraph::graph::{NodeIndex, UnGraph};
use std::collections::BTreeSet;

/// Builds the network; what the job leaves open has its sizes `from` somewhere.
/// It is there if nothing stops it.
#[must_use]
pub fn build(job: &Job, library: &Library, from: Open<'_>) -> (Option<Network>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut assumptions = job.assumptions.clone();
    let mut draft = route::Draft::default();
    let starts = connection::add_all(job, library, &mut draft);
    let mut route = route::walk(job, draft, &starts, &mut findings);
    names_fit(job, &mut findings);
    supplies_are_free(job, &route, &starts, &mut findings);
    lengths_fit(job, &mut findings);
    let lay = Lay::of(job, &route);
    // What follows depends on where things stand: it would only repeat what a
    // broken walk has said already.
    if stops(&findings) || !job.complete {
        return (None, findings);
    }
    walls::agree(job, &lay, &mut findings);
    walls::hold(job, &lay, &mut findings);
    let mut heights = Vec::new();
    falls::apply(job, &mut route, &starts, &mut heights, &mut findings);
    assumptions.extend(heights.iter().cloned());
    let auto = sizes::choose(
        job,
        library,
        &route,
        &starts,
        from,
        &mut assumptions,
        &mut findings,
    );
    let mut builder = Builder {
        job,
        library,
        auto,
        graph: auto.settle(&route.draft, library),
        findings: &mut findings,
    };
    let drains = builder.drains(&route);
    let drops = builder.drops(&route);
    let valves = builder.valves(&route, &starts);
    let (plugged, draft) = builder.plugs(&route);
    let graph = builder.graph;
    let states = States::of(job, draft);
    let graph = decide_fittings(job, library, graph, &states, &mut findings);
    let Some(graph) = graph.filter(|_| !stops(&findings)) else {
        return (None, findings);
    };
    let legs = job
        .legs
        .iter()
        .map(|leg| LegName {
            label: leg.label(),
            line: leg.line,
            marks: leg
                .marks
                .iter()
                .map(|mark| mark.name.value.clone())
                .collect(),
            end: leg
                .to
                .as_ref()
                .map(|to| to.value.clone())
                .unwrap_or_default(),
        })
        .collect();
    let supplies = job.supplies.iter();
    let supplies = supplies
        .map(|supply| (supply.name.value.clone(), supply.line))
        .collect();
    let network = Network {
        graph,
        system: job.system,
        units: job.units,
        unions: job.main.unions,
        threading: job.main.threading,
        unlike: job.main.unlike,
        drops,
        drains,
        valves,
        plugged,
        states,
        legs,
        walls: lay.walls,
        supplies,
        connections: connection::names(job, library),
        assumptions,
        heights,
    };
    (Some(network), findings)
}

/// Every outlet, drain and line valve stands somewhere, and every mark is something.
fn names_fit(job: &Job, findings: &mut Vec<Finding>) {
    let outlets = job.outlets.iter().map(|outlet| ("outlet", &outlet.name));
    let drains = job.drains.iter().map(|drain| ("drain", &drain.name));
    let marks: BTreeSet<&str> = job
        .legs
        .iter()
        .flat_map(|leg| leg.marks.iter().map(|mark| &mark.name).chain(&leg.to))
        .map(|name| name.value.as_str())
        .collect();
    let valves = job.valves.iter().map(|valve| ("line valve", &valve.name));
    let named = outlets.chain(drains).chain(valves);
    let named = named.map(|(what, name)| (what, name.value.as_str(), name.span));
    let plugs = job.plugs.iter();
    let plugs = plugs.filter_map(|plug| Some(("plug", plug.place.as_str(), plug.span?)));
    for (what, name, span) in named.chain(plugs) {
        if !marks.contains(name) {
            findings.push(Finding::unreadable(
                "never-placed",
                span,
                format!("the {what} `{name}` stands nowhere on the main"),
                format!("add `{name}` to the marks of the leg that it stands on"),
            ));
        }
    }
    let branches: BTreeSet<&str> = job
        .legs
        .iter()
        .flat_map(|leg| leg.from.iter().chain(&leg.to))
        .map(|name| name.value.as_str())
        .collect();
    let known: Vec<&str> = job.declared.iter().map(String::as_str).collect();
    for mark in job.legs.iter().flat_map(|leg| &leg.marks) {
        let name = &mark.name;
        let known_name = job.declared.contains(&name.value) || job.unused.contains(&name.value);
        if !known_name && !branches.contains(name.value.as_str()) {
            let mut finding =
                crate::job::unknown_name("outlet, drain or valve", &name.value, name.span, &known);
            finding.rule = "mark-names-nothing";
            findings.push(finding);
        }
    }
    for supply in &job.supplies {
        let mut from_supply = job.legs_from(supply);
        if let (Some(first), Some(second)) = (from_supply.next(), from_supply.next()) {
            findings.push(
                Finding::unreadable(
                    "second-leg-from-supply",
                    second.span,
                    "two legs start at the supply, and it has one port",
                    "start one of them from a mark on the other",
                )
                .related(first.span, "the other one"),
            );
        }
    }
}

/// One pipe leaves a supply, and nothing else stands there.
fn supplies_are_free(job: &Job, route: &Route, starts: &[NodeIndex], findings: &mut Vec<Finding>) {
    for (supply, start) in job.supplies.iter().zip(starts) {
        let supply = &supply.name;
        let marked = route
            .places
            .iter()
            .filter(|(name, place)| place.node == *start && **name != supply.value)
            .map(|(name, place)| (name, place.span));
        let closed = job
            .legs
            .iter()
            .filter_map(|leg| leg.to.as_ref())
            .filter(|to| to.value == supply.value)
            .map(|to| (&to.value, to.span));
        for (name, span) in marked.chain(closed) {
            findings.push(
                Finding::unreadable(
                    "place-at-supply",
                    span,
                    format!("`{name}` stands at the supply itself, which has room for one pipe"),
                    "let it stand a little way along the leg that starts at the supply",
                )
                .related(supply.span, "the supply"),
            );
        }
    }
}

/// What is measured twice agrees.
pub(super) fn lengths_fit(job: &Job, findings: &mut Vec<Finding>) {
    heights_fit(job, findings);
    walls_fit(job, findings);
}

/// The riser leads to where the main is said to start.
fn heights_fit(job: &Job, findings: &mut Vec<Finding>) {
    let Some(riser_end) = connection::height_of_first_level(job) else {
        return;
    };
    let said = job.main.height;
    if riser_end != said.value {
        findings.push(
            Finding::unreadable(
                "main-height",
                said.span,
                format!(
                    "the main starts at {}, but the riser from {} ends at {}",
                    said.value.show(job.units),
                    first_supply_words(job),
                    riser_end.show(job.units)
                ),
                "measure the riser, the port's height or the main's height again",
            )
            .related(job.supplies[0].height.span, "the port"),
        );
    }
}

/// The supply at which the walk starts: by its name where there are several.
fn first_supply_words(job: &Job) -> String {
    match &job.supplies[..] {
        [first, _, ..] => format!("`{}`", first.name.value),
        _ => "the supply".to_owned(),
    }
}

/// A leg along a wall comes out at its length.
fn walls_fit(job: &Job, findings: &mut Vec<Finding>) {
    for leg in &job.legs {
        let room = match (&leg.room, &job.rooms[..]) {
            (None, [room]) => Some(room),
            (None, _) => None,
            (Some(name), rooms) => rooms.iter().find(|room| room.name.value == name.value),
        };
        let Some(along) = &leg.along else { continue };
        let Some(room) = room else {
            // A room that is not there has been said.
            if leg.room.is_some() {
                continue;
            }
            findings.push(Finding::unreadable(
                "wall-without-room",
                along.span,
                format!("nothing says whose {} wall this is", along.value.word()),
                "add a [room.NAME] with its size; where there are several, add `room = \"NAME\"` to the leg",
            ));
            continue;
        };
        let (mut east, mut north) = (Length::ZERO, Length::ZERO);
        for straight in &leg.straights {
            let by = straight.value.direction.displacement(straight.value.length);
            east += by.0;
            north += by.1;
        }
        let (wall, walked) = match along.value {
            Wall::North | Wall::South => (room.east_west, east),
            Wall::East | Wall::West => (room.north_south, north),
        };
        if walked.abs() != wall {
            let span = leg
                .straights
                .first()
                .map_or(leg.span, |straight| straight.span);
            findings.push(
                Finding::unreadable(
                    "wall-length",
                    span,
                    format!(
                        "{} is {} long, and the {} wall of `{}` is {}",
                        leg.label(),
                        walked.abs().show(job.units),
                        along.value.word(),
                        room.name.value,
                        wall.show(job.units)
                    ),
                    "measure both again; a leg that follows only part of a wall has no `along`",
                )
                .related(room.name.span, "the room"),
            );
        }
    }
}

/// Gives every place its fitting, or says that no fitting joins what meets
/// there.
fn decide_fittings(
    job: &Job,
    library: &Library,
    graph: UnGraph<DraftNode, Link>,
    states: &States,
    findings: &mut Vec<Finding>,
) -> Option<UnGraph<Node, Link>> {
    let mut kinds = Vec::with_capacity(graph.node_count());
    for node in graph.node_indices() {
        kinds.push(match graph[node].kind {
            DraftKind::Port { size, gender } => Some(NodeKind::Port { size, gender }),
            DraftKind::Device {
                device,
                size,
                length,
            } => Some(NodeKind::Device {
                device,
                size,
                length,
            }),
            DraftKind::Place => {
                fitting(job, library, (&graph, states), node, findings).map(NodeKind::Fitting)
            }
        });
    }
    let kinds: Vec<NodeKind> = kinds.into_iter().collect::<Option<_>>()?;
    let mut kinds = kinds.into_iter();
    let mut built = UnGraph::with_capacity(graph.node_count(), graph.edge_count());
    for node in graph.node_weights() {
        if let Some(kind) = kinds.next() {
            built.add_node(Node {
                at: node.at,
                kind,
                origin: node.origin,
                span: span_of(job, node.origin.owner, node.origin.spot),
            });
        }
    }
    for edge in graph.raw_edges() {
        built.add_edge(edge.source(), edge.target(), edge.weight);
    }
    Some(built)
}

fn fitting(
    job: &Job,
    library: &Library,
    (graph, states): (&UnGraph<DraftNode, Link>, &States),
    node: NodeIndex,
    findings: &mut Vec<Finding>,
) -> Option<Fitting> {
    let mut ends: Vec<_> = ends(graph, node).collect();
    ends.sort_by_key(|end| end.link);
    let ways: Vec<Way> = ends
        .into_iter()
        .map(|end| {
            let link = &graph[end.link.0];
            Way {
                direction: end.direction,
                size: link.size,
                system: link.system,
                main: link.is_main(),
            }
        })
        .collect();
    let fitting = match &ways[..] {
        [way] if graph[node].origin.spot == Spot::Plug => Fitting::closing(*way, library),
        _ => Fitting::joining(&ways, library).map(|fitting| {
            let mut of: Vec<State> = ends_states(graph, states, node);
            of.dedup();
            if of.len() > 1 {
                fitting.with_joint()
            } else {
                fitting
            }
        }),
    };
    let origin = graph[node].origin;
    let span = span_of(job, origin.owner, origin.spot);
    match &fitting {
        Err(NoFitting::NotMade { part, size, system }) => findings.push(Finding::error(
            "fitting-not-made",
            span,
            format!(
                "{} has no {part} {size}, which joins {}",
                library.systems()[*system].name,
                meeting(job, graph, node)
            ),
            "choose sizes that are made, move one of them along, or use another system",
        )),
        Err(NoFitting::NoSuch) => findings.push(Finding::error(
            "no-such-fitting",
            span,
            format!(
                "no fitting joins what meets here: {}",
                meeting(job, graph, node)
            ),
            "move one of them along, so that tees and elbows can be used",
        )),
        Ok(fitting)
            if fitting.kind.part == Some("cap") && matches!(origin.owner, Owner::Leg(_)) =>
        {
            findings.push(Finding::warning(
                "main-ends-in-cap",
                span,
                "the main ends here in nothing: a cap is counted",
                "stand an outlet or a drain at the end, or leave the stub out",
            ));
        }
        Ok(fitting) if fitting.is_saddle() && main_changes(graph, states, node) => {
            findings.push(Finding::error(
                "tie-in-under-saddle",
                span,
                "new pipe meets pipe that stands right under a drop's saddle",
                "move the mark a little along the leg, so that the pipe under the saddle is in one piece",
            ));
        }
        Ok(_) => {}
    }
    fitting.ok()
}

/// What becomes of the pipes that meet at a place.
fn ends_states(graph: &UnGraph<DraftNode, Link>, states: &States, node: NodeIndex) -> Vec<State> {
    let owner = |id: LinkId| {
        let to = graph.edge_endpoints(id.0).map(|(_, to)| to);
        to.map_or(graph[node].origin.owner, |to| graph[to].origin.owner)
    };
    ends(graph, node)
        .map(|end| states.link(end.link, graph[end.link.0].leg, owner(end.link)))
        .collect()
}

/// Whether main of one state ends at a place and main of another begins.
fn main_changes(graph: &UnGraph<DraftNode, Link>, states: &States, node: NodeIndex) -> bool {
    let main = ends(graph, node).filter_map(|end| graph[end.link.0].leg.map(|leg| (end.link, leg)));
    let mut of = main.map(|(link, leg)| states.link(link, Some(leg), graph[node].origin.owner));
    let first = of.next();
    of.any(|state| Some(state) != first)
}

/// What leaves a place, in words: `the main to the north, bench up`.
fn meeting(job: &Job, graph: &UnGraph<DraftNode, Link>, node: NodeIndex) -> String {
    let mut words: Vec<String> = ends(graph, node)
        .map(|end| {
            let name = match graph[end.far.0].origin.owner {
                Owner::Outlet(outlet) => &job.outlets[outlet].name.value,
                Owner::Drain(drain) => &job.drains[drain].name.value,
                Owner::Leg(_) | Owner::Supply(_) => "the main",
            };
            let to = if end.direction.is_level() {
                "to the "
            } else {
                ""
            };
            format!("{name} {to}{}", end.direction.word())
        })
        .collect();
    words.sort();
    words.join(", ")
}

/// Where the user wrote what stands at a node.
fn span_of(job: &Job, owner: Owner, spot: Spot) -> Span {
    match (owner, spot) {
        (Owner::Supply(supply), _) => job.supplies[supply].name.span,
        (Owner::Leg(leg), Spot::Mark(mark)) => job.legs[leg].marks[mark].name.span,
        (Owner::Leg(leg), _) => job.legs[leg].span,
        (Owner::Drain(drain), _) => job.drains[drain].name.span,
        (Owner::Outlet(outlet), _) => job.outlets[outlet].name.span,
    }
}
