//! The layout graph: every place where something happens, and the pipe
//! between. Built once, then only read.
//!
//! **Invariant:** every node's fitting follows from the directions and sizes
//! of the links that meet there; nothing else decides it.

mod build;
mod connection;
mod drops;
mod falls;
mod growth;
mod lay;
mod loss;
mod plugs;
mod rooms;
mod route;
mod shut;
mod sizes;
mod states;
mod summary;
mod valves;
mod walls;

pub use build::build;
pub(crate) use falls::between;
pub use growth::Straight;
pub use lay::{Lay, lay};
pub(crate) use rooms::Rooms;
pub use shut::Section;
pub use sizes::Open;
pub use states::{Plugged, TieIn};
pub(crate) use walls::SLACK;
pub use walls::{Extent, Walls};

use crate::fitting::Fitting;
use crate::job::{Direction, Foot, TakeOff, Threading, Unions, UnlikeMetals};
use crate::library::Gender;
use crate::quantity::{Length, Size, Units};
use crate::source::Span;
use petgraph::graph::{EdgeIndex, NodeIndex, UnGraph};
use petgraph::visit::{EdgeRef, IntoNodeReferences};
use plugs::DraftStates;
use states::States;

/// A node of the network; the first one where nothing else is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct NodeId(NodeIndex);

/// A link of the network.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LinkId(EdgeIndex);

impl NodeId {
    /// Its number, from 0 in walking order.
    #[must_use]
    pub fn index(self) -> usize {
        self.0.index()
    }
}

impl LinkId {
    /// Its number, from 0 in walking order.
    #[must_use]
    pub fn index(self) -> usize {
        self.0.index()
    }
}

/// A place east, north and above the tank's foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Point {
    /// Towards the east.
    pub east: Length,
    /// Towards the north.
    pub north: Length,
    /// Above the floor.
    pub up: Length,
}

/// A place where something happens.
#[derive(Debug, Clone)]
pub struct Node {
    /// Where it is.
    pub at: Point,
    /// What stands there.
    pub kind: NodeKind,
    /// Which line of the job it comes from.
    pub origin: Origin,
    /// Where the user wrote it.
    pub span: Span,
}

/// What stands at a node.
#[derive(Debug, Clone)]
pub enum NodeKind {
    /// The tank's port.
    Port {
        /// Its size.
        size: Size,
        /// Its thread.
        gender: Gender,
    },
    /// Whatever joins the pipes that meet here.
    Fitting(Fitting),
    /// A device.
    Device {
        /// Index into the library's devices.
        device: usize,
        /// Its size.
        size: Size,
        /// Its length, for hoses.
        length: Option<Length>,
    },
}

/// What lies between two nodes.
#[derive(Debug, Clone, Copy)]
pub struct Link {
    /// Pipe of this length, centre to centre; or nothing but the joint itself.
    pub pipe: Option<Length>,
    /// The size of the pipe, or of the larger end.
    pub size: Size,
    /// Index into the library's systems.
    pub system: usize,
    /// Its direction from its first node.
    pub direction: Direction,
    /// The leg that it is walked on, by its index; none if it is no part of one.
    pub leg: Option<usize>,
}

impl Link {
    /// Whether it is part of the main: a leg, not a drop or a drain.
    #[must_use]
    pub const fn is_main(&self) -> bool {
        self.leg.is_some()
    }
}

/// Which line of the job a node comes from, and which piece of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Origin {
    /// The thing in the job.
    pub owner: Owner,
    /// Which piece of it.
    pub spot: Spot,
}

/// A thing in the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A supply, by its index.
    Supply(usize),
    /// A leg, by its index.
    Leg(usize),
    /// A drain of the main, by its index.
    Drain(usize),
    /// An outlet, by its index.
    Outlet(usize),
}

/// A piece of a thing in the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// The tank's port.
    Port,
    /// A device of the connection, from 1.
    Connection(usize),
    /// A corner of a leg.
    Corner,
    /// A mark of a leg, by its index.
    Mark(usize),
    /// The end of a leg.
    End,
    /// Where pipe of a leg is highest and falls both ways.
    Crest,
    /// The elbow above the main.
    UpperElbow,
    /// The elbow above the drop.
    DropElbow,
    /// The foot of a drop.
    Foot,
    /// The lower tee of a foot for which no cross is made.
    LowerFoot,
    /// A device on a side, both from 1.
    Side(usize, usize),
    /// The end of a drip leg.
    DripLeg,
    /// The valve at the head of a drop on pipe that stands.
    Shut,
    /// What closes a branch.
    Plug,
}

/// A leg as reasons name it.
#[derive(Debug, Clone)]
pub struct LegName {
    /// `leg 3 (north wall)`.
    pub label: String,
    /// The line of its table.
    pub line: usize,
    /// The names of its marks, in the file's order.
    pub marks: Vec<String>,
    /// The name of its end; empty if it has none.
    pub end: String,
}

/// A built drop: its facts and its foot.
#[derive(Debug, Clone)]
pub struct Drop {
    /// The outlet's name.
    pub name: String,
    /// The line of its table.
    pub line: usize,
    /// Its place on the main.
    pub take_off_at: NodeId,
    /// Its foot.
    pub foot_at: NodeId,
    /// The kind of drop.
    pub kind: String,
    /// How it leaves the main.
    pub take_off: TakeOff,
    /// What its foot is.
    pub foot: Foot,
    /// The drop pipe.
    pub size: Size,
    /// Index of its system.
    pub system: usize,
    /// Length of the down pipe, centre to centre.
    pub down: Length,
    /// Outlet height above the floor.
    pub height: Length,
    /// What hangs on each side, in words.
    pub sides: Vec<String>,
    /// What drains it, in words; none if nothing does.
    pub drain: Option<String>,
}

/// A built drain of the main.
#[derive(Debug, Clone)]
pub struct Drain {
    /// Its name.
    pub name: String,
    /// The line of its table.
    pub line: usize,
    /// Its place on the main.
    pub at: NodeId,
    /// The size of its valve.
    pub valve: Size,
}

/// A line valve, as it stands in the main.
#[derive(Debug, Clone)]
pub struct LineValve {
    /// Its name.
    pub name: String,
    /// The line of its table.
    pub line: usize,
    /// Its place on the main.
    pub at: NodeId,
    /// Its size.
    pub size: Size,
    /// The pipe by which the air comes to it the shortest way.
    pub upstream: LinkId,
}

/// The layout of a whole job.
#[derive(Debug, Clone)]
pub struct Network {
    graph: UnGraph<Node, Link>,
    /// The main's system: an index into the library's.
    pub system: usize,
    /// How results print.
    pub units: Units,
    /// Where unions stand.
    pub unions: Unions,
    /// Where the threads of the pipe come from.
    pub threading: Threading,
    /// What stands between unlike metals.
    pub unlike: UnlikeMetals,
    /// The drops, in the file's order.
    pub drops: Vec<Drop>,
    /// The drains of the main, in the file's order.
    pub drains: Vec<Drain>,
    /// The line valves, in the file's order.
    pub valves: Vec<LineValve>,
    /// Branches that are plugged, in walking order.
    pub plugged: Vec<Plugged>,
    /// What is new and what stands.
    states: States,
    /// The legs' names, in the file's order.
    pub legs: Vec<LegName>,
    /// The rooms that have a size, with their places.
    pub walls: Vec<Walls>,
    /// The supplies' names and the lines of their tables, in the file's order.
    pub supplies: Vec<(String, usize)>,
    /// The names of the devices that connect each supply, outwards.
    pub(crate) connections: Vec<Vec<String>>,
    /// What was taken because the job does not say it.
    pub assumptions: Vec<String>,
    /// Those of them that are of heights.
    pub heights: Vec<String>,
}

/// One end of a link as seen from a node.
#[derive(Debug, Clone, Copy)]
pub struct End {
    /// The link.
    pub link: LinkId,
    /// The node at the other end.
    pub far: NodeId,
    /// The direction in which the link leaves.
    pub direction: Direction,
}

impl Network {
    /// The nodes, in walking order.
    pub fn nodes(&self) -> impl Iterator<Item = (NodeId, &Node)> {
        self.graph
            .node_references()
            .map(|(index, node)| (NodeId(index), node))
    }

    /// The links, in walking order.
    pub fn links(&self) -> impl Iterator<Item = (LinkId, NodeId, NodeId, &Link)> {
        self.graph.edge_references().map(|edge| {
            (
                LinkId(edge.id()),
                NodeId(edge.source()),
                NodeId(edge.target()),
                edge.weight(),
            )
        })
    }

    /// A node.
    #[must_use]
    pub fn node(&self, id: NodeId) -> &Node {
        &self.graph[id.0]
    }

    /// A link.
    #[must_use]
    pub fn link(&self, id: LinkId) -> &Link {
        &self.graph[id.0]
    }

    /// Whether pipe runs straight through a place without any part.
    #[must_use]
    pub fn is_plain(&self, id: NodeId) -> bool {
        matches!(&self.node(id).kind, NodeKind::Fitting(fitting) if fitting.is_plain())
    }

    /// Whether pipe runs through a place uncut from this link: straight on, or
    /// under a saddle.
    #[must_use]
    pub fn runs_through(&self, id: NodeId, link: LinkId) -> bool {
        match &self.node(id).kind {
            NodeKind::Fitting(fitting) if fitting.is_saddle() => self.link(link).is_main(),
            NodeKind::Fitting(fitting) => fitting.is_plain(),
            NodeKind::Port { .. } | NodeKind::Device { .. } => false,
        }
    }

    /// The ports of the tanks, in the order of the supplies.
    pub fn ports(&self) -> impl Iterator<Item = NodeId> {
        let ports = self.nodes();
        let ports = ports.filter(|(_, node)| matches!(node.kind, NodeKind::Port { .. }));
        ports.map(|(id, _)| id)
    }

    /// Whether pipe is screwed into a tank itself.
    #[must_use]
    pub fn is_hard_piped(&self) -> bool {
        let mut ends = self.ports().flat_map(|port| self.ends(port));
        ends.any(|end| self.link(end.link).pipe.is_some())
    }

    /// The names of all supplies: `compressor and annex`.
    #[must_use]
    pub fn supply_names(&self) -> String {
        let names: Vec<&str> = self.supplies.iter().map(|(name, _)| &**name).collect();
        names.join(" and ")
    }

    /// The systems whose pipe is laid, the main's first.
    #[must_use]
    pub fn systems(&self) -> Vec<usize> {
        let mut systems = vec![self.system];
        for (_, _, _, link) in self.links() {
            if link.pipe.is_some() && !systems.contains(&link.system) {
                systems.push(link.system);
            }
        }
        systems
    }

    /// The same with other sizes of pipe; fittings stay as they are.
    pub(crate) fn resized(&self, size: impl Fn(&Link, NodeId) -> Size) -> Self {
        let mut resized = self.clone();
        for edge in self.graph.edge_references() {
            let size = size(edge.weight(), NodeId(edge.target()));
            resized.graph[edge.id()].size = size;
        }
        resized
    }

    /// The same with a device of another size.
    pub(crate) fn with_device(&self, at: NodeId, size: Size) -> Self {
        let mut other = self.clone();
        if let NodeKind::Device { size: its, .. } = &mut other.graph[at.0].kind {
            *its = size;
        }
        other
    }

    /// The two nodes that a link joins, in its direction.
    #[must_use]
    pub fn ends_of(&self, id: LinkId) -> [NodeId; 2] {
        let ends = self.graph.edge_endpoints(id.0);
        ends.map_or_else(Default::default, |(from, to)| [NodeId(from), NodeId(to)])
    }

    /// The ends of the links that meet at a node.
    pub fn ends(&self, id: NodeId) -> impl Iterator<Item = End> {
        ends(&self.graph, id.0)
    }

    /// How many nodes there are.
    #[must_use]
    pub fn node_count(&self) -> usize {
        self.graph.node_count()
    }

    /// How many links there are.
    #[must_use]
    pub fn link_count(&self) -> usize {
        self.graph.edge_count()
    }

    /// A node in words, with the line of the job that it comes from.
    #[must_use]
    pub fn describe(&self, id: NodeId) -> String {
        let line = match self.node(id).origin.owner {
            Owner::Supply(supply) => self.supplies[supply].1,
            Owner::Leg(leg) => self
                .valve_at(id)
                .map_or(self.legs[leg].line, |valve| valve.line),
            Owner::Drain(drain) => self.drains[drain].line,
            Owner::Outlet(outlet) => self.drops[outlet].line,
        };
        format!("{} (line {line})", self.place(id))
    }

    /// A node in words, as a crew calls it: `outlet bench, foot`.
    #[must_use]
    pub fn place(&self, id: NodeId) -> String {
        if let Some(valve) = self.valve_at(id) {
            return format!("valve {}", valve.name);
        }
        let origin = self.node(id).origin;
        let thing = match origin.owner {
            Owner::Supply(supply) => self.supplies[supply].0.clone(),
            Owner::Leg(leg) => self.legs[leg].label.clone(),
            Owner::Drain(drain) => format!("drain {}", self.drains[drain].name),
            Owner::Outlet(outlet) => format!("outlet {}", self.drops[outlet].name),
        };
        let spot = match (origin.owner, origin.spot) {
            (Owner::Leg(leg), Spot::Mark(mark)) => format!("at {}", self.legs[leg].marks[mark]),
            (Owner::Leg(leg), Spot::End) if !self.legs[leg].end.is_empty() => {
                format!("its end {}", self.legs[leg].end)
            }
            (Owner::Supply(supply), Spot::Connection(number)) => {
                let devices = self.connections[supply].iter().map(String::as_str);
                let one = nth_of(&devices.collect::<Vec<_>>(), number);
                return format!("the {one} at {thing}");
            }
            (Owner::Outlet(outlet), Spot::Side(side, number)) => {
                let sides = &self.drops[outlet].sides;
                let one = nth_of(&sides[side - 1].split(", ").collect::<Vec<_>>(), number);
                match sides.len() {
                    1 => one,
                    _ => format!("{one} on side {side}"),
                }
            }
            (_, spot) => spot.words(),
        };
        format!("{thing}, {spot}")
    }
}

/// One of a row by its name, and by its number where another is called the same.
fn nth_of(row: &[&str], number: usize) -> String {
    let name = row.get(number - 1).copied().unwrap_or_default();
    match row.iter().filter(|one| **one == name).count() {
        1 => name.to_owned(),
        _ => format!("{name} (item {number})"),
    }
}

fn ends<N>(graph: &UnGraph<N, Link>, node: NodeIndex) -> impl Iterator<Item = End> {
    graph.edges(node).map(move |edge| {
        let (first, second) = (edge.source(), edge.target());
        // An undirected edge is seen with `node` as its source from either
        // side; which way it was drawn is asked of the graph itself.
        let drawn_from_here = graph
            .edge_endpoints(edge.id())
            .is_some_and(|(a, _)| a == node);
        let direction = edge.weight().direction;
        End {
            link: LinkId(edge.id()),
            far: NodeId(if first == node { second } else { first }),
            direction: if drawn_from_here {
                direction
            } else {
                direction.opposite()
            },
        }
    })
}

impl Spot {
    pub(crate) fn words(self) -> String {
        match self {
            Self::Port => "the tank's port".to_owned(),
            Self::Connection(number) => format!("item {number} of its connection"),
            Self::Corner => "a corner".to_owned(),
            Self::Mark(_) => "a mark".to_owned(),
            Self::End => "its end".to_owned(),
            Self::Crest => "its highest point".to_owned(),
            Self::UpperElbow => "upper elbow".to_owned(),
            Self::DropElbow => "elbow above the drop".to_owned(),
            Self::Foot => "foot".to_owned(),
            Self::LowerFoot => "lower tee of the foot".to_owned(),
            Self::Side(side, device) => format!("side {side}, item {device}"),
            Self::DripLeg => "drip leg".to_owned(),
            Self::Shut => "isolating valve".to_owned(),
            Self::Plug => "plugged branch".to_owned(),
        }
    }
}
