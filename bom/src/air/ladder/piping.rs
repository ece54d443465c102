//! The network as a circuit: what the air goes through from the tank to the feet
//! of the drops, with what every fitting resists on the way that it takes.

use crate::air::Site;
use crate::air::resistance::{self, Port, State, Way};
use crate::air::solve::{self, Circuit, Draw, Edge, Element, Failure, Known, Pipe, Source};
use crate::job::{DeviceUse, Job};
use crate::library::Library;
use crate::network::{LinkId, Network, NodeId, NodeKind, Owner, Spot};
use crate::quantity::{Length, Pressure, Size, Temperature};
use crate::source::Spanned;
use crate::system::SizeRow;
use std::cell::RefCell;

/// How much the pipework has seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wear {
    /// As it is put in.
    New,
    /// After years: rough iron, filters due for their change.
    Aged,
}

/// Air in the pipe has the temperature of the shop: what is taken for granted.
pub(in crate::air) const PIPE_TEMPERATURE: Temperature = Temperature::from_celsius(20);

/// How often the ways through fittings are chosen anew by the flows that came
/// of the last choice: they settle at once but where a pipe hardly flows.
const ROUNDS: usize = 4;

/// The pipework as air meets it.
#[derive(Debug)]
pub(in crate::air) struct Piping<'a> {
    pub(in crate::air) network: &'a Network,
    pub(in crate::air) library: &'a Library,
    wear: Wear,
    site: Site,
    nodes: Vec<NodeId>,
    /// The ways from the tanks to where the circuit begins, in the order of the
    /// supplies.
    feeds: Vec<Feed>,
    /// The links that the circuit is made of: all but the feeds and the sides.
    links: Vec<LinkId>,
    /// The edges of these links, each with the loss coefficient into it where the
    /// air can come but one way.
    edges: Vec<Edge>,
    /// Which links those are.
    settled: Vec<bool>,
    /// What is left of the last solution for the next.
    known: RefCell<Known>,
}

/// The way from a tank to where the circuit begins. That is the main where one
/// supply stands alone, since all air comes that way; of several each has its part
/// of the air, and its devices behind the last regulator are of the circuit.
#[derive(Debug)]
struct Feed {
    port: NodeId,
    /// Its devices outwards, with what a regulator among them lets through.
    devices: Vec<(NodeId, Element, Option<f64>)>,
}

impl Feed {
    /// Where the circuit begins.
    fn end(&self) -> NodeId {
        self.devices.last().map_or(self.port, |(at, ..)| *at)
    }
}

/// Pressures and flows.
#[derive(Debug, Clone)]
pub(in crate::air) struct Flowing {
    /// Absolute, Pa, at each node; none where no air comes.
    pub(in crate::air) pressures: Vec<Option<f64>>,
    /// kg/s along each link, below zero against its direction.
    pub(in crate::air) flows: Vec<f64>,
    /// As fast as the air runs in each pipe, m/s.
    pub(in crate::air) speeds: Vec<Option<f64>>,
    /// The most that a node's flows miss each other by, kg/s.
    pub(in crate::air) imbalance: f64,
    /// The most that a pipe's pressures miss its law by, Pa.
    pub(in crate::air) miss: f64,
}

/// Where the air does not get through.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blocked {
    /// The place.
    pub at: NodeId,
    /// What stands there, on the side of a drop.
    pub item: Option<String>,
    /// Whether no way leads there at all.
    pub cut_off: bool,
}

impl<'a> Piping<'a> {
    pub(in crate::air) fn of(
        job: &Job,
        network: &'a Network,
        library: &'a Library,
        wear: Wear,
    ) -> Self {
        let mut piping = Self {
            network,
            library,
            wear,
            site: job.site(),
            nodes: network.nodes().map(|(id, _)| id).collect(),
            feeds: Vec::new(),
            links: Vec::new(),
            edges: Vec::new(),
            settled: vec![false; network.link_count()],
            known: RefCell::default(),
        };
        for port in network.ports() {
            let devices = Vec::new();
            piping.feeds.push(Feed { port, devices });
        }
        for (id, _, to, _) in network.links() {
            let origin = network.node(to).origin;
            match (origin.owner, origin.spot) {
                (Owner::Supply(supply), Spot::Connection(number)) => {
                    let connect = &job.supplies[supply].connect;
                    let regulates = |used: &Spanned<DeviceUse>| used.value.set.is_some();
                    let last = connect.iter().rposition(regulates);
                    if job.supplies.len() > 1 && last.is_none_or(|last| number > last + 1) {
                        // What stands between two fittings of it is a joint.
                        piping.settled[id.index()] = true;
                        piping.links.push(id);
                        continue;
                    }
                    let set = connect[number - 1].value.set;
                    let set = set.map(|set| piping.absolute(set));
                    let device = (to, piping.device(to), set);
                    piping.feeds[supply].devices.push(device);
                }
                // No air goes there, or its way is reckoned from the foot.
                (_, Spot::Side(..) | Spot::DripLeg | Spot::LowerFoot) => {}
                _ => piping.links.push(id),
            }
        }
        piping.settle();
        piping
    }

    /// Works out what the air comes through wherever it can come but one way: all
    /// of a tree.
    fn settle(&mut self) {
        for link in &self.links {
            let [from, to] = self.network.ends_of(*link);
            let element = match self.is_connection(to) {
                true => self.device(to),
                false => Element::Pipe(self.pipe(*link)),
            };
            let [from, to] = [from, to].map(NodeId::index);
            self.edges.push(Edge { from, to, element });
        }
        let (circuit, links) = self.bare();
        let walk = solve::walk(&circuit);
        for core in &walk.cores {
            let Some((edge, above)) = core.bridge else {
                continue;
            };
            let feeding = walk.core_of[above].map(|core| &walk.cores[core]);
            let by = match feeding {
                Some(feeding) if feeding.nodes.len() == 1 => feeding.bridge.map(|(by, _)| by),
                _ => continue,
            };
            let (up, out) = (self.nodes[above], links[edge]);
            if self.settled[out.index()] {
                continue;
            }
            self.settled[out.index()] = true;
            let by = by.map(|by| links[by]);
            let k = self.k(up, by, out, |link| self.bore(link));
            if let Element::Pipe(pipe) = &mut self.edges[edge].element {
                pipe.k = k;
            }
        }
    }

    /// Whether a device connects a tank with the main.
    pub(in crate::air) fn is_connection(&self, at: NodeId) -> bool {
        let origin = self.network.node(at).origin;
        matches!(origin.spot, Spot::Connection(_))
    }

    /// The port of a supply, and its devices up to where the circuit begins,
    /// outwards, with what a regulator among them lets through. The supply is the
    /// one from which air comes to a place, by its way from there.
    pub(in crate::air) fn feed(
        &self,
        begins: NodeId,
    ) -> Option<(NodeId, impl Iterator<Item = (NodeId, Option<f64>)>)> {
        let of = |feed: &&Feed| feed.end() == begins;
        let feed = self.feeds.iter().find(of).or(self.feeds.first())?;
        let devices = feed.devices.iter().map(|(at, _, set)| (*at, *set));
        Some((feed.port, devices))
    }

    /// A gauge pressure as an absolute one, Pa.
    pub(in crate::air) fn absolute(&self, gauge: Pressure) -> f64 {
        gauge.kpa() * 1e3 + self.site.atmosphere
    }

    /// An absolute pressure in Pa as a gauge one.
    pub(in crate::air) fn gauge(&self, absolute: f64) -> Pressure {
        Pressure::from_kpa((absolute - self.site.atmosphere) / 1e3)
    }

    /// What a device is to the air.
    pub(in crate::air) fn device(&self, at: NodeId) -> Element {
        let NodeKind::Device {
            device,
            size,
            length,
        } = self.network.node(at).kind
        else {
            return Element::Loss { r: 0.0 };
        };
        if let Some(length) = length {
            return Element::Pipe(resistance::hose(size, length));
        }
        let state = match self.wear {
            Wear::New => State::Clean,
            Wear::Aged => State::Dirty,
        };
        let name = &self.library.devices()[device].name;
        let r = self.library.resistances().device(name, size, state);
        Element::Loss {
            r: r.unwrap_or(0.0),
        }
    }

    /// Solves with these draws, kg/s at the foot of each drop, from an absolute
    /// pressure at every tank; a line valve may be shut. A supply into which air
    /// would run back, since its regulator is set lower than another's, gives none.
    pub(in crate::air) fn solve(
        &self,
        at_tank: f64,
        draws: &[f64],
        shut: Option<NodeId>,
    ) -> Result<Flowing, Blocked> {
        let total: f64 = draws.iter().sum();
        let mut pressures = vec![None; self.nodes.len()];
        let mut sources = Vec::with_capacity(self.feeds.len());
        for feed in &self.feeds {
            let mut here = at_tank;
            pressures[feed.port.index()] = Some(here);
            for (at, element, set) in &feed.devices {
                let inlet = set.map_or(here, |set| here.min(set));
                here = through(element, inlet, total).ok_or(Blocked {
                    at: *at,
                    item: None,
                    cut_off: false,
                })?;
                pressures[at.index()] = Some(here);
            }
            sources.push(Source {
                node: feed.end().index(),
                pressure: here,
            });
        }
        let mut laid = self.laid(sources, draws, shut);
        let mut solution = self.settled(&mut laid, shut)?;
        while let Some(fed) = laid.fed(&solution) {
            laid.circuit.sources.remove(fed);
            solution = self.settled(&mut laid, shut)?;
        }
        let mut flows = vec![0.0; self.network.link_count()];
        let mut speeds = vec![None; self.network.link_count()];
        for (edge, link) in laid.links.iter().enumerate() {
            flows[link.index()] = solution.flows[edge];
            if self.network.link(*link).pipe.is_some() {
                speeds[link.index()] = solution.speed(&laid.circuit, edge);
            }
        }
        for (all, solved) in pressures.iter_mut().zip(&solution.pressures) {
            *all = solved.or(*all);
        }
        Ok(Flowing {
            pressures,
            flows,
            speeds,
            imbalance: solution.imbalance,
            miss: solution.miss,
        })
    }

    /// Solves until the ways through the fittings are those of the flows.
    fn settled(&self, laid: &mut Laid, shut: Option<NodeId>) -> Result<solve::Solution, Blocked> {
        let mut solution = self.solved(laid)?;
        let mut last_ways = Vec::new();
        let settled = shut.is_none() && laid.links.iter().all(|link| self.settled[link.index()]);
        for _ in 0..if settled { 0 } else { ROUNDS } {
            let ways: Vec<bool> = solution.flows.iter().map(|flow| *flow < 0.0).collect();
            if ways == last_ways {
                break;
            }
            self.set_fittings(laid, &solution.flows);
            solution = self.solved(laid)?;
            last_ways = ways;
        }
        Ok(solution)
    }

    /// The pressure where the main of a single supply begins.
    pub(in crate::air) fn at_start(&self, at_tank: f64, kg_per_s: f64) -> Option<f64> {
        let mut devices = self.feeds.first()?.devices.iter();
        devices.try_fold(at_tank, |here, (_, element, set)| {
            let inlet = set.map_or(here, |set| here.min(set));
            through(element, inlet, kg_per_s)
        })
    }

    /// The circuit without what is drawn, and the links of its edges.
    pub(in crate::air) fn bare(&self) -> (Circuit, Vec<LinkId>) {
        let source = |feed: &Feed| Source {
            node: feed.end().index(),
            pressure: self.site.atmosphere,
        };
        let laid = self.laid(self.feeds.iter().map(source).collect(), &[], None);
        (laid.circuit, laid.links)
    }

    /// A node by its number.
    pub(in crate::air) fn node(&self, number: usize) -> Option<NodeId> {
        self.nodes.get(number).copied()
    }

    /// Nothing shut, and each line valve that stands in a ring: shutting one cuts
    /// nothing off.
    pub(in crate::air) fn shut_in_turn(&self) -> Vec<Option<NodeId>> {
        let network = self.network;
        let in_ring = |at: &NodeId| {
            let mut ends = network.ends(*at).map(|end| end.far);
            let (Some(one), Some(other)) = (ends.next(), ends.next()) else {
                return false;
            };
            network.reached([one], &[*at])[other.index()]
        };
        let valves = network.valves.iter().map(|valve| valve.at);
        let mut shut = vec![None];
        shut.extend(valves.filter(in_ring).map(Some));
        shut
    }

    /// The circuit of all links but one end of a shut valve.
    fn laid(&self, sources: Vec<Source>, draws: &[f64], shut: Option<NodeId>) -> Laid {
        let shut = shut.and_then(|at| self.network.ends(at).next());
        let open = |link: LinkId| shut.is_none_or(|end| end.link != link);
        let mut laid = Laid {
            circuit: Circuit {
                nodes: self.nodes.len(),
                edges: Vec::with_capacity(self.links.len()),
                sources,
                draws: Vec::with_capacity(draws.len()),
                temperature: PIPE_TEMPERATURE,
            },
            links: Vec::with_capacity(self.links.len()),
            edge_of: vec![None; self.network.link_count()],
        };
        for (link, edge) in self.links.iter().zip(&self.edges) {
            if open(*link) {
                laid.edge_of[link.index()] = Some(laid.links.len());
                laid.links.push(*link);
                laid.circuit.edges.push(*edge);
            }
        }
        for (drop, kg_per_s) in self.network.drops.iter().zip(draws) {
            laid.circuit.draws.push(Draw {
                node: drop.foot_at.index(),
                kg_per_s: *kg_per_s,
            });
        }
        laid
    }

    /// The pipe of a link, without its fittings.
    pub(super) fn pipe(&self, id: LinkId) -> Pipe {
        let link = self.network.link(id);
        let length = link.pipe.unwrap_or_default();
        self.pipe_of(link.system, link.size, length)
    }

    /// Pipe of a size of a system.
    pub(in crate::air) fn pipe_of(&self, system: usize, size: Size, length: Length) -> Pipe {
        let of = &self.library.systems()[system];
        let roughness = match self.wear {
            Wear::New => of.roughness(),
            Wear::Aged => of.aged_roughness(),
        };
        Pipe::new(self.bore_of(system, size), roughness, length)
    }

    /// The inside diameter of a link's size.
    pub(in crate::air) fn bore(&self, id: LinkId) -> Length {
        let link = self.network.link(id);
        self.bore_of(link.system, link.size)
    }

    /// The inside diameter of a size. Every size of a network is a row of its
    /// system.
    pub(in crate::air) fn bore_of(&self, system: usize, size: Size) -> Length {
        let row = self.library.systems()[system].row(size);
        row.map_or(Length::from_mm(1), SizeRow::bore)
    }

    fn solved(&self, laid: &Laid) -> Result<solve::Solution, Blocked> {
        let known = &mut self.known.borrow_mut();
        solve::solve_like(&laid.circuit, known).map_err(|failure| {
            let (at, cut_off) = match failure {
                Failure::Choked { edge, .. } => (Some(laid.circuit.edges[edge].to), false),
                Failure::Isolated { nodes } => (nodes.first().copied(), true),
                Failure::Unsettled { node } => (Some(node), false),
                Failure::Unusable(_) => (None, false),
            };
            let at = at.and_then(|node| self.nodes.get(node)).copied();
            Blocked {
                at: at.unwrap_or_default(),
                item: None,
                cut_off,
            }
        })
    }

    /// Gives every pipe the resistance of what the air comes through into it.
    fn set_fittings(&self, laid: &mut Laid, flows: &[f64]) {
        for (edge, link) in laid.links.iter().enumerate() {
            if self.settled[link.index()] {
                continue;
            }
            let Edge { from, to, .. } = laid.circuit.edges[edge];
            let up = self.nodes[if flows[edge] < 0.0 { to } else { from }];
            let inflow = |other: LinkId| {
                let other = laid.edge_of[other.index()]?;
                let into = laid.circuit.edges[other].to == up.index();
                Some(if into { flows[other] } else { -flows[other] })
            };
            // Of several pipes the one that brings most of it.
            let others = self.network.ends(up).filter(|end| end.link != *link);
            let by = others
                .filter_map(|end| Some((inflow(end.link).filter(|flow| *flow > 0.0)?, end.link)))
                .max_by(|a, b| a.0.total_cmp(&b.0));
            let by = by.map(|(_, link)| link);
            let k = self.k(up, by, *link, |link| self.bore(link));
            if let Element::Pipe(pipe) = &mut laid.circuit.edges[edge].element {
                pipe.k = k;
            }
        }
    }

    /// The loss coefficient of a place for air that comes to it by one link and
    /// leaves it by another, both of these bores.
    pub(in crate::air) fn k(
        &self,
        at: NodeId,
        by: Option<LinkId>,
        out: LinkId,
        bore: impl Fn(LinkId) -> Length,
    ) -> f64 {
        let resistances = self.library.resistances();
        let k = match &self.network.node(at).kind {
            NodeKind::Fitting(fitting) => {
                let port = |link: LinkId| {
                    let end = self.network.ends(at).find(|end| end.link == link)?;
                    Some(Port {
                        direction: end.direction,
                        bore: bore(link),
                    })
                };
                let ways = by.and_then(port).zip(port(out));
                ways.and_then(|(from, to)| resistances.through(fitting, from, to))
            }
            NodeKind::Port { .. } => resistances.k("entry", Way::Straight, bore(out)),
            NodeKind::Device { .. } => match self.device(at) {
                Element::Loss { r } if self.network.is_in_line(at) => {
                    Some(r / resistance::per_k(bore(out).mm()))
                }
                Element::Loss { .. } | Element::Pipe(_) => None,
            },
        };
        k.unwrap_or(0.0)
    }
}

struct Laid {
    circuit: Circuit,
    links: Vec<LinkId>,
    edge_of: Vec<Option<usize>>,
}

impl Laid {
    /// The source into which most air runs back, if any.
    fn fed(&self, solution: &solve::Solution) -> Option<usize> {
        /// So little, kg/s, is rounding.
        const NONE: f64 = 1e-9;
        let sources = self.circuit.sources.iter().enumerate();
        let back = sources.map(|(number, source)| {
            let edges = self.circuit.edges.iter().zip(&solution.flows);
            let into = edges.map(|(edge, flow)| match source.node {
                node if node == edge.to => *flow,
                node if node == edge.from => -*flow,
                _ => 0.0,
            });
            (number, into.sum::<f64>())
        });
        let fed = back.filter(|(_, into)| *into > NONE && self.circuit.sources.len() > 1);
        let most = fed.max_by(|a, b| a.1.total_cmp(&b.1));
        most.map(|(number, _)| number)
    }
}

/// The pressure behind an element; none if the air does not get through.
pub(in crate::air) fn through(element: &Element, inlet: f64, kg_per_s: f64) -> Option<f64> {
    solve::behind(element, inlet, kg_per_s, PIPE_TEMPERATURE)
}
