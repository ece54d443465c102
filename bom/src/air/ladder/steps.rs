//! The steps from the tank to one tool.

use super::cases::Case;
use super::piping::{Flowing, PIPE_TEMPERATURE, Piping};
use crate::air::demand::{Demand, ToolDemand};
use crate::air::resistance::{hose_of, per_k};
use crate::air::solve::{Element, Passing, Pipe, passing};
use crate::job::{Direction, Hose, Job};
use crate::network::{LinkId, NodeId, NodeKind, Owner, Spot};
use crate::quantity::{Length, Pressure, Size};
use std::collections::BTreeMap;

/// What takes pressure, and what it leaves.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What it is, in words.
    pub item: String,
    /// Where on the way it stands.
    pub part: Part,
    /// The place of the device that it is; none for pipe and for a tool's own hose.
    pub device: Option<NodeId>,
    /// What it takes. A regulator that holds back takes nothing by this.
    pub loss: Pressure,
    /// What a regulator holds back beside that.
    pub held_back: Pressure,
    /// The pressure behind it.
    pub left: Pressure,
}

/// The parts of the way to a tool.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// From the tank to the main.
    Connection,
    /// The main.
    Main,
    /// The drop, to its foot.
    Drop,
    /// The devices on the side of the drop.
    Side,
    /// The tool's hose.
    Hose,
}

/// A link that the air goes through, with the place that it comes from and the
/// one that it goes to.
pub(in crate::air) type Passed = (LinkId, NodeId, NodeId);

/// The links from behind the feed to a drop's foot, by the way that most of the
/// air comes.
pub(in crate::air) fn way(piping: &Piping<'_>, flowing: &Flowing, drop: usize) -> Vec<Passed> {
    let network = piping.network;
    let mut way: Vec<Passed> = Vec::new();
    let mut here = network.drops[drop].foot_at;
    // Air only ever comes from higher pressure, so no place is passed twice.
    while way.len() < network.link_count() {
        let inflow = |end: &crate::network::End| {
            let flow = flowing.flows[end.link.index()];
            if network.ends_of(end.link)[1] == here {
                flow
            } else {
                -flow
            }
        };
        let from = network
            .ends(here)
            .filter(|end| inflow(end) > 0.0)
            .max_by(|a, b| inflow(a).total_cmp(&inflow(b)));
        let Some(from) = from else { break };
        way.push((from.link, from.far, here));
        here = from.far;
    }
    way.reverse();
    way
}

/// The steps of the pipework, from the tank along a way to a drop's foot.
pub(in crate::air) fn to_foot(
    piping: &Piping<'_>,
    flowing: &Flowing,
    drop: usize,
    way: &[Passed],
) -> Option<Vec<Step>> {
    let network = piping.network;
    let pressure = |node: NodeId| flowing.pressures[node.index()];
    let begins = way.first().map_or(NodeId::default(), |(_, from, _)| *from);
    let mut steps = feed(piping, flowing, begins)?;
    let mut last: Option<(Option<usize>, usize, Size)> = None;
    let mut length = Length::ZERO;
    for (id, from, to) in way.iter().copied() {
        if piping.is_connection(to) {
            steps.push(connected(piping, to, pressure(from)?, pressure(to)?));
            continue;
        }
        let link = network.link(id);
        let key = (link.leg, link.system, link.size);
        let (before, after) = (pressure(from)?, pressure(to)?);
        if last != Some(key) {
            length = Length::ZERO;
            steps.push(Step {
                item: String::new(),
                part: link.leg.map_or(Part::Drop, |_| Part::Main),
                device: None,
                loss: Pressure::from_kpa(0.0),
                held_back: Pressure::from_kpa(0.0),
                left: piping.gauge(before),
            });
            last = Some(key);
        }
        length += link.pipe.unwrap_or_default();
        let name = match link.leg {
            Some(leg) => network.legs[leg].label.clone(),
            None => format!("drop {}", network.drops[drop].name),
        };
        if let Some(step) = steps.last_mut() {
            step.item = format!("{name}, {} of {}", length.show(network.units), link.size);
            step.loss = Pressure::from_kpa(step.loss.kpa() + (before - after) / 1e3);
            step.left = piping.gauge(after);
        }
    }
    Some(steps)
}

/// A device between a tank and the main in which nothing is held back.
fn connected(piping: &Piping<'_>, at: NodeId, before: f64, behind: f64) -> Step {
    Step {
        item: device_words(piping, at),
        part: Part::Connection,
        device: Some(at),
        loss: Pressure::from_kpa((before - behind) / 1e3),
        held_back: Pressure::from_kpa(0.0),
        left: piping.gauge(behind),
    }
}

/// The devices between a tank and where the circuit begins.
fn feed(piping: &Piping<'_>, flowing: &Flowing, begins: NodeId) -> Option<Vec<Step>> {
    let (port, devices) = piping.feed(begins)?;
    let mut here = flowing.pressures[port.index()]?;
    let mut steps = Vec::new();
    for (at, set) in devices {
        let behind = flowing.pressures[at.index()]?;
        let inlet = set.map_or(here, |set| here.min(set));
        steps.push(Step {
            item: device_words(piping, at),
            part: Part::Connection,
            device: Some(at),
            loss: Pressure::from_kpa((inlet - behind) / 1e3),
            held_back: Pressure::from_kpa((here - inlet) / 1e3),
            left: piping.gauge(behind),
        });
        here = behind;
    }
    Some(steps)
}

fn device_at(piping: &Piping<'_>, at: NodeId) -> Option<usize> {
    match piping.network.node(at).kind {
        NodeKind::Device { device, .. } => Some(device),
        NodeKind::Fitting(_) | NodeKind::Port { .. } => None,
    }
}

fn device_words(piping: &Piping<'_>, at: NodeId) -> String {
    match piping.network.node(at).kind {
        NodeKind::Device {
            device,
            size,
            length,
        } => {
            let name = &piping.library.devices()[device].name;
            match length {
                Some(length) => {
                    format!("{name} {size}, {}", length.show(piping.network.units))
                }
                None => format!("{name} {size}"),
            }
        }
        NodeKind::Fitting(_) | NodeKind::Port { .. } => String::new(),
    }
}

/// What an item is.
enum Is {
    /// A fitting of the foot, with the size of the pipe behind it.
    Foot(NodeId, Size),
    Device(NodeId),
    Hose(Hose),
}

/// What the air goes through from a foot to a tool.
struct Item {
    is: Is,
    device: Option<usize>,
    passing: Passing,
}

/// A fitting of a foot, with the size of the pipe behind it and what it resists.
type Turn = (NodeId, Size, Element);

/// The fittings of a foot on the way into the side that begins with this device: the
/// turn, and before it the upper of two tees with the pipe between them.
fn turn(piping: &Piping<'_>, first: NodeId) -> Option<Vec<Turn>> {
    let network = piping.network;
    let is_foot = |at: NodeId| {
        let spot = network.node(at).origin.spot;
        matches!(spot, Spot::Foot | Spot::LowerFoot)
    };
    let end = network.ends(first).find(|end| is_foot(end.far))?;
    let (mut at, mut out) = (end.far, end.link);
    let mut turns = Vec::new();
    loop {
        let above = network
            .ends(at)
            .find(|end| end.direction == Direction::Up)?;
        let k = piping.k(at, Some(above.link), out, |link| piping.bore(link));
        let element = match network.link(out).pipe {
            Some(_) => Element::Pipe(Pipe {
                k,
                ..piping.pipe(out)
            }),
            None => Element::Loss {
                r: k * per_k(piping.bore(out).mm()),
            },
        };
        turns.push((at, network.link(out).size, element));
        if network.node(at).origin.spot == Spot::Foot {
            break;
        }
        (at, out) = (above.far, above.link);
    }
    turns.reverse();
    Some(turns)
}

/// The sides of the drops with the tools on them.
pub(in crate::air) struct Sides<'a> {
    pub(in crate::air) piping: &'a Piping<'a>,
    pub(in crate::air) job: &'a Job,
    pub(in crate::air) demand: &'a Demand,
    /// What each side of an outlet's drop has between the down pipe and its first
    /// device.
    turns: BTreeMap<(usize, usize), Vec<Turn>>,
    /// The devices of each side of an outlet's drop, outwards.
    devices: BTreeMap<(usize, usize), Vec<(NodeId, Element)>>,
    /// The tools on each.
    tools: BTreeMap<(usize, usize), Vec<usize>>,
}

impl<'a> Sides<'a> {
    pub(in crate::air) fn of(piping: &'a Piping<'a>, job: &'a Job, demand: &'a Demand) -> Self {
        let mut found = Vec::new();
        for (id, node) in piping.network.nodes() {
            if let (Owner::Outlet(outlet), Spot::Side(side, number)) =
                (node.origin.owner, node.origin.spot)
            {
                found.push(((outlet, side.wrapping_sub(1)), number, id));
            }
        }
        found.sort_unstable();
        let mut devices: BTreeMap<_, Vec<(NodeId, Element)>> = BTreeMap::new();
        for (side, _, id) in found {
            let device = (id, piping.device(id));
            devices.entry(side).or_default().push(device);
        }
        let turns = devices.iter().filter_map(|(side, devices)| {
            let (first, _) = devices.first()?;
            let turn = turn(piping, *first)?;
            Some((*side, turn))
        });
        let turns = turns.collect();
        let mut tools: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (number, tool) in demand.tools.iter().enumerate() {
            let side = (tool.outlet, tool.side);
            tools.entry(side).or_default().push(number);
        }
        Self {
            piping,
            job,
            demand,
            turns,
            devices,
            tools,
        }
    }

    /// What the air of a tool goes through from the foot on.
    fn items(&self, case: &Case, tool: usize) -> Vec<Item> {
        let one = &self.demand.tools[tool];
        let side = (one.outlet, one.side);
        let of = |tools: &Vec<usize>| -> f64 {
            let flows = tools.iter().map(|tool| case.of_tool(self.demand, *tool));
            flows.sum()
        };
        let on_side = self.tools.get(&side).map_or(0.0, of);
        let devices = self.devices.get(&side).into_iter().flatten();
        let devices = devices.map(|(at, element)| Item {
            is: Is::Device(*at),
            device: device_at(self.piping, *at),
            passing: passing(element, on_side, PIPE_TEMPERATURE),
        });
        let turns = self.turns.get(&side).into_iter().flatten();
        let turns = turns.map(|(at, size, element)| Item {
            is: Is::Foot(*at, *size),
            device: None,
            passing: passing(element, on_side, PIPE_TEMPERATURE),
        });
        let mut items: Vec<Item> = turns.chain(devices).collect();
        if let Some(hose) = one.hose {
            let pipe = Element::Pipe(hose_of(hose.value.bore, hose.value.length));
            let flow = case.of_tool(self.demand, tool);
            items.push(Item {
                is: Is::Hose(hose.value),
                device: None,
                passing: passing(&pipe, flow, PIPE_TEMPERATURE),
            });
        }
        items
    }

    fn words(&self, item: &Item) -> String {
        match item.is {
            Is::Foot(at, size) => {
                let spot = self.piping.network.node(at).origin.spot;
                format!("{}, {size}", spot.words())
            }
            Is::Device(at) => device_words(self.piping, at),
            Is::Hose(Hose { length, bore }) => {
                let units = self.piping.network.units;
                format!("hose {} x {}", length.show(units), bore.show(units))
            }
        }
    }

    /// The least pressure at the foot that gives a tool this pressure, both absolute,
    /// Pa, to a pascal; none if not even `most` does.
    pub(in crate::air) fn at_foot(
        &self,
        case: &Case,
        tool: usize,
        wanted: f64,
        most: f64,
    ) -> Option<f64> {
        let items = self.items(case, tool);
        let reaches = |foot: f64| {
            let mut numbered = items.iter().enumerate();
            let at_tool = numbered.try_fold(foot, |here, (number, item)| {
                let inlet = self.inlet(tool, here, item, &items[number + 1..]);
                item.passing.behind(inlet)
            });
            at_tool.is_some_and(|at_tool| at_tool >= wanted)
        };
        reaches(most).then(|| lowest(0.0, most, reaches))
    }

    /// The pressure that goes into an item.
    fn inlet(&self, tool: usize, here: f64, item: &Item, behind: &[Item]) -> f64 {
        if self.regulates(item.device) {
            self.let_through(&self.demand.tools[tool], here, item, behind)
        } else {
            here
        }
    }

    /// The steps from the foot to a tool, and the item in which the air does not
    /// get through, if any.
    pub(in crate::air) fn steps(
        &self,
        case: &Case,
        tool: usize,
        at_foot: f64,
    ) -> (Vec<Step>, Option<String>) {
        let items = self.items(case, tool);
        let mut here = at_foot;
        let mut steps = Vec::with_capacity(items.len());
        for (number, item) in items.iter().enumerate() {
            let inlet = self.inlet(tool, here, item, &items[number + 1..]);
            let Some(left) = item.passing.behind(inlet) else {
                return (steps, Some(self.words(item)));
            };
            steps.push(Step {
                item: self.words(item),
                part: match item.is {
                    Is::Foot(..) => Part::Drop,
                    Is::Device(_) => Part::Side,
                    Is::Hose(_) => Part::Hose,
                },
                device: match item.is {
                    Is::Device(at) => Some(at),
                    Is::Foot(..) | Is::Hose(_) => None,
                },
                loss: Pressure::from_kpa((inlet - left) / 1e3),
                held_back: Pressure::from_kpa((here - inlet) / 1e3),
                left: self.piping.gauge(left),
            });
            here = left;
        }
        (steps, None)
    }

    fn regulates(&self, device: Option<usize>) -> bool {
        device.is_some_and(|device| self.piping.library.devices()[device].name == "regulator")
    }

    /// What a regulator lets through: what it is said to be set to; else what
    /// gives its tool the pressure that it works best at; never more than there
    /// is.
    fn let_through(&self, tool: &ToolDemand, here: f64, own: &Item, behind: &[Item]) -> f64 {
        let piping = self.piping;
        if let Some(set) = self.set(tool) {
            return here.min(piping.absolute(set));
        }
        let Some(best) = tool.best.or(tool.least) else {
            return here;
        };
        let wanted = piping.absolute(best.value);
        let reaches = |inlet: f64| {
            let items = std::iter::once(own).chain(behind);
            items
                .into_iter()
                .try_fold(inlet, |at, item| item.passing.behind(at))
        };
        if reaches(here).is_none_or(|at| at <= wanted) {
            return here;
        }
        // Losses of squared pressures hardly change with the pressure.
        lowest(wanted.min(here), here, |inlet| {
            reaches(inlet).is_some_and(|at| at >= wanted)
        })
    }

    /// What the regulator of a tool's side is said to be set to.
    fn set(&self, tool: &ToolDemand) -> Option<Pressure> {
        let outlet = &self.job.outlets[tool.outlet];
        let kind = outlet.drop.map(|drop| &self.job.drops[drop]);
        let side = kind.and_then(|kind| kind.sides.get(tool.side));
        outlet.set_for(side.map_or(&[], Vec::as_slice))
    }
}

/// The lowest pressure from which on it is enough, to a pascal.
fn lowest(mut low: f64, mut high: f64, enough: impl Fn(f64) -> bool) -> f64 {
    while high - low > 1.0 {
        let middle = low.midpoint(high);
        if enough(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}
