//! The steps from the tank to one tool.

use super::cases::Case;
use super::piping::{Flowing, Piping, through};
use crate::air::demand::{Demand, ToolDemand};
use crate::air::resistance::hose_of;
use crate::air::solve::Element;
use crate::job::{Hose, Job};
use crate::network::{LinkId, NodeId, NodeKind, Owner, Spot};
use crate::quantity::{Length, Pressure, Size};

/// What takes pressure, and what it leaves.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What it is, in words.
    pub item: String,
    /// Where on the way it stands.
    pub part: Part,
    /// The device that it is, by its number in the library; none for pipe and
    /// for a tool's own hose.
    pub device: Option<usize>,
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
pub(super) type Passed = (LinkId, NodeId, NodeId);

/// The links from behind the feed to a drop's foot, by the way that most of the
/// air comes.
pub(super) fn way(piping: &Piping<'_>, flowing: &Flowing, drop: usize) -> Vec<Passed> {
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
pub(super) fn to_foot(
    piping: &Piping<'_>,
    flowing: &Flowing,
    drop: usize,
    way: &[Passed],
) -> Option<Vec<Step>> {
    let network = piping.network;
    let pressure = |node: NodeId| flowing.pressures[node.index()];
    let mut steps = feed(piping, flowing)?;
    let mut last: Option<(Option<usize>, usize, Size)> = None;
    let mut length = Length::ZERO;
    for (id, from, to) in way.iter().copied() {
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

/// The devices between the tank and the main.
fn feed(piping: &Piping<'_>, flowing: &Flowing) -> Option<Vec<Step>> {
    let network = piping.network;
    let (port, _) = network.nodes().next()?;
    let mut here = flowing.pressures[port.index()]?;
    let mut steps = Vec::new();
    for (at, set) in piping.feed() {
        let behind = flowing.pressures[at.index()]?;
        let inlet = set.map_or(here, |set| here.min(set));
        steps.push(Step {
            item: device_words(piping, at),
            part: Part::Connection,
            device: device_at(piping, at),
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

/// What the air goes through from a foot to a tool.
struct Item {
    words: String,
    part: Part,
    device: Option<usize>,
    element: Element,
    kg_per_s: f64,
}

/// The side of a drop with a tool on it.
pub(super) struct Side<'a> {
    pub(super) piping: &'a Piping<'a>,
    pub(super) job: &'a Job,
    pub(super) demand: &'a Demand,
}

impl Side<'_> {
    /// The steps from the foot to a tool, and the item in which the air does not
    /// get through, if any.
    pub(super) fn steps(
        &self,
        case: &Case,
        tool: usize,
        at_foot: f64,
    ) -> (Vec<Step>, Option<String>) {
        let one = &self.demand.tools[tool];
        let on_side: f64 = (0..self.demand.tools.len())
            .filter(|other| {
                let other = &self.demand.tools[*other];
                (other.outlet, other.side) == (one.outlet, one.side)
            })
            .map(|other| case.of_tool(self.demand, other))
            .sum();
        let own = case.of_tool(self.demand, tool);
        let mut items: Vec<Item> = self
            .devices(one)
            .into_iter()
            .map(|at| Item {
                words: device_words(self.piping, at),
                part: Part::Side,
                device: device_at(self.piping, at),
                element: self.piping.device(at),
                kg_per_s: on_side,
            })
            .collect();
        if let Some(pipe) = one.hose {
            let Hose { length, bore } = pipe.value;
            let units = self.piping.network.units;
            items.push(Item {
                words: format!("hose {} x {}", length.show(units), bore.show(units)),
                part: Part::Hose,
                device: None,
                element: Element::Pipe(hose_of(bore, length)),
                kg_per_s: own,
            });
        }
        let mut here = at_foot;
        let mut steps = Vec::with_capacity(items.len());
        for (number, item) in items.iter().enumerate() {
            let inlet = if self.regulates(item.device) {
                self.let_through(one, here, item, &items[number + 1..])
            } else {
                here
            };
            let Some(left) = through(item.element, inlet, item.kg_per_s) else {
                return (steps, Some(item.words.clone()));
            };
            steps.push(Step {
                item: item.words.clone(),
                part: item.part,
                device: item.device,
                loss: Pressure::from_kpa((inlet - left) / 1e3),
                held_back: Pressure::from_kpa((here - inlet) / 1e3),
                left: self.piping.gauge(left),
            });
            here = left;
        }
        (steps, None)
    }

    /// The devices of a tool's side, outwards.
    fn devices(&self, tool: &ToolDemand) -> Vec<NodeId> {
        let mut found: Vec<(usize, NodeId)> = self
            .piping
            .network
            .nodes()
            .filter_map(|(id, node)| match (node.origin.owner, node.origin.spot) {
                (Owner::Outlet(outlet), Spot::Side(side, number))
                    if outlet == tool.outlet && side == tool.side + 1 =>
                {
                    Some((number, id))
                }
                _ => None,
            })
            .collect();
        found.sort_unstable();
        found.into_iter().map(|(_, id)| id).collect()
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
                .try_fold(inlet, |at, item| through(item.element, at, item.kg_per_s))
        };
        if reaches(here).is_none_or(|at| at <= wanted) {
            return here;
        }
        // Losses of squared pressures hardly change with the pressure.
        let (mut low, mut high) = (wanted.min(here), here);
        while high - low > 1.0 {
            let middle = low.midpoint(high);
            if reaches(middle).is_some_and(|at| at >= wanted) {
                high = middle;
            } else {
                low = middle;
            }
        }
        high
    }

    /// What the regulator of a tool's side is said to be set to.
    fn set(&self, tool: &ToolDemand) -> Option<Pressure> {
        let outlet = &self.job.outlets[tool.outlet];
        let kind = outlet.drop.map(|drop| &self.job.drops[drop]);
        let side = kind.and_then(|kind| kind.sides.get(tool.side));
        outlet.set_for(side.map_or(&[], Vec::as_slice))
    }
}
