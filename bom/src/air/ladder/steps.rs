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

/// The steps of the pipework, from the tank to a drop's foot.
pub(in crate::air) fn to_foot(
    piping: &Piping<'_>,
    flowing: &Flowing,
    drop: usize,
) -> Option<Vec<Step>> {
    let network = piping.network;
    let pressure = |node: NodeId| flowing.pressures[node.index()];
    let mut way: Vec<(LinkId, NodeId, NodeId)> = Vec::new();
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
    let mut steps = feed(piping, flowing)?;
    let mut last: Option<(Option<usize>, usize, Size)> = None;
    let mut length = Length::ZERO;
    for (id, from, to) in way.into_iter().rev() {
        let link = network.link(id);
        let key = (link.leg, link.system, link.size);
        let (before, after) = (pressure(from)?, pressure(to)?);
        if last != Some(key) {
            length = Length::ZERO;
            steps.push(Step {
                item: String::new(),
                part: link.leg.map_or(Part::Drop, |_| Part::Main),
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
            loss: Pressure::from_kpa((inlet - behind) / 1e3),
            held_back: Pressure::from_kpa((here - inlet) / 1e3),
            left: piping.gauge(behind),
        });
        here = behind;
    }
    Some(steps)
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

/// The side of a drop with a tool on it.
pub(in crate::air) struct Side<'a> {
    pub(in crate::air) piping: &'a Piping<'a>,
    pub(in crate::air) job: &'a Job,
    pub(in crate::air) demand: &'a Demand,
}

impl Side<'_> {
    /// The steps from the foot to a tool; none where the air does not get
    /// through.
    pub(in crate::air) fn steps(
        &self,
        case: &Case,
        tool: usize,
        at_foot: f64,
    ) -> Option<Vec<Step>> {
        let one = &self.demand.tools[tool];
        let on_side: f64 = (0..self.demand.tools.len())
            .filter(|other| {
                let other = &self.demand.tools[*other];
                (other.outlet, other.side) == (one.outlet, one.side)
            })
            .map(|other| case.of_tool(self.demand, other))
            .sum();
        let own = case.of_tool(self.demand, tool);
        let mut items: Vec<(String, Part, Element, f64, bool)> = self
            .devices(one)
            .into_iter()
            .map(|at| {
                let regulates = self.regulates(at);
                let words = device_words(self.piping, at);
                (
                    words,
                    Part::Side,
                    self.piping.device(at),
                    on_side,
                    regulates,
                )
            })
            .collect();
        if let Some(pipe) = one.hose {
            let Hose { length, bore } = pipe.value;
            let units = self.piping.network.units;
            let words = format!("hose {} x {}", length.show(units), bore.show(units));
            items.push((
                words,
                Part::Hose,
                Element::Pipe(hose_of(bore, length)),
                own,
                false,
            ));
        }
        let mut here = at_foot;
        let mut steps = Vec::with_capacity(items.len());
        for (number, (item, part, element, flow, regulates)) in items.iter().enumerate() {
            let behind: Vec<(Element, f64)> = items[number + 1..]
                .iter()
                .map(|(_, _, element, flow, _)| (*element, *flow))
                .collect();
            let inlet = if *regulates {
                self.let_through(one, here, (*element, *flow), &behind)?
            } else {
                here
            };
            let left = through(element, inlet, *flow)?;
            steps.push(Step {
                item: item.clone(),
                part: *part,
                loss: Pressure::from_kpa((inlet - left) / 1e3),
                held_back: Pressure::from_kpa((here - inlet) / 1e3),
                left: self.piping.gauge(left),
            });
            here = left;
        }
        Some(steps)
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

    fn regulates(&self, at: NodeId) -> bool {
        let device = match self.piping.network.node(at).kind {
            NodeKind::Device { device, .. } => device,
            NodeKind::Fitting(_) | NodeKind::Port { .. } => return false,
        };
        self.piping.library.devices()[device].name == "regulator"
    }

    /// What a regulator lets through: what it is said to be set to; else what
    /// gives its tool the pressure that it works best at; never more than there
    /// is.
    fn let_through(
        &self,
        tool: &ToolDemand,
        here: f64,
        own: (Element, f64),
        behind: &[(Element, f64)],
    ) -> Option<f64> {
        let piping = self.piping;
        if let Some(set) = self.set(tool) {
            return Some(here.min(piping.absolute(set)));
        }
        let Some(best) = tool.best.or(tool.least) else {
            return Some(here);
        };
        let wanted = piping.absolute(best.value);
        let reaches = |inlet: f64| {
            let mut at = through(&own.0, inlet, own.1)?;
            for (element, flow) in behind {
                at = through(element, at, *flow)?;
            }
            Some(at)
        };
        if reaches(here).is_none_or(|at| at <= wanted) {
            return Some(here);
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
        Some(high)
    }

    /// What the regulator of a tool's side is said to be set to.
    fn set(&self, tool: &ToolDemand) -> Option<Pressure> {
        let outlet = &self.job.outlets[tool.outlet];
        let side = || {
            let kind = &self.job.drops[outlet.drop?];
            kind.sides
                .get(tool.side)?
                .iter()
                .find_map(|used| used.value.set)
        };
        outlet.set.map(|set| set.value).or_else(side)
    }
}
