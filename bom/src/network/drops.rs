//! Drops and drains, expanded into the pieces that they are built of.

use super::route::{DraftKind, DraftNode, Place, Route};
use super::sizes::{self, Auto};
use super::{Drain, Drop, Link, NodeId, Origin, Owner, Point, Spot, ends};
use crate::finding::Finding;
use crate::job::{
    DeviceUse, Direction, DropKind, Foot, Job, LegEnd, MainDrain, Outlet, State, TakeOff,
};
use crate::library::Library;
use crate::quantity::{Length, PartSize, Size};
use crate::source::Span;
use crate::system::SwanNeck;
use petgraph::graph::{NodeIndex, UnGraph};
use petgraph::visit::EdgeRef;

/// The pipe of one thing in the job.
#[derive(Debug, Clone, Copy)]
struct Pipe {
    owner: Owner,
    size: Size,
    system: usize,
}

/// The main with its sizes, to which the drops are added.
pub(super) struct Builder<'a> {
    pub(super) job: &'a Job,
    pub(super) library: &'a Library,
    pub(super) auto: Auto<'a>,
    pub(super) graph: UnGraph<DraftNode, Link>,
    pub(super) findings: &'a mut Vec<Finding>,
}

impl Builder<'_> {
    /// Adds every drain of the main.
    pub(super) fn drains(&mut self, route: &Route) -> Vec<Drain> {
        let job = self.job;
        let mut built = Vec::new();
        for (index, drain) in job.drains.iter().enumerate() {
            let Some(place) = route.places.get(&drain.name.value) else {
                continue;
            };
            let system = self.system_at(place.node);
            let main = self.main_size(place.node, system);
            let size = drain.size.unwrap_or(main);
            self.refuse_unmade(system, size, drain.name.span);
            let pipe = Pipe {
                owner: Owner::Drain(index),
                size,
                system,
            };
            let length = self.offset(drain.drip_leg, pipe, [Some(main), None]);
            self.stays_above_floor(drain, place.node, length);
            self.drip_leg(place.node, pipe, length, LegEnd::Drain(drain.valve));
            built.push(Drain {
                name: drain.name.value.clone(),
                line: drain.line,
                at: NodeId(place.node),
                valve: self.device_size(drain.valve, self.thread_of(pipe)),
            });
        }
        built
    }

    /// A drain hangs above the floor, unless its main lies in a basement.
    fn stays_above_floor(&mut self, drain: &MainDrain, node: NodeIndex, length: Length) {
        let main = self.graph[node].at.up;
        if main <= Length::ZERO || main > length {
            return;
        }
        let units = self.job.units;
        self.findings.push(Finding::error(
            "drain-below-floor",
            drain.name.span,
            format!(
                "the main at `{}` is {} above the floor, and its drip leg needs {}",
                drain.name.value,
                main.show(units),
                length.show(units)
            ),
            "raise the main there, or shorten the drip leg",
        ));
    }

    /// Adds every drop, in the order of the job's outlets.
    pub(super) fn drops(&mut self, route: &Route) -> Vec<Drop> {
        let job = self.job;
        job.outlets
            .iter()
            .enumerate()
            .filter_map(|(index, outlet)| {
                let place = route.places.get(&outlet.name.value)?;
                self.drop(index, outlet, &job.drops[outlet.drop?], *place)
            })
            .collect()
    }

    fn drop(
        &mut self,
        index: usize,
        outlet: &Outlet,
        kind: &DropKind,
        place: Place,
    ) -> Option<Drop> {
        let Some(main_direction) = self.level_direction(place.node) else {
            self.findings.push(
                Finding::error(
                    "drop-on-upright",
                    place.span,
                    format!(
                        "`{}` is marked on an upright part of the main",
                        outlet.name.value
                    ),
                    "a drop leaves level pipe: move the mark along the leg",
                )
                .related(outlet.name.span, "the outlet"),
            );
            return None;
        };
        let main = self.graph[place.node].at.up;
        let system = self.system_at(place.node);
        let main_size = self.main_size(place.node, system);
        let size = self
            .auto
            .drop_size(index, kind, main_size, self.library, system);
        self.refuse_unmade(system, size, kind.size_span);
        let pipe = Pipe {
            owner: Owner::Outlet(index),
            size,
            system,
        };
        let neck = self
            .swan_neck(kind, main_size, pipe)
            .filter(|_| self.runs_on(place.node, main_direction));
        let (rise, reach_length) = match neck {
            Some(neck) => (neck.rise, neck.reach),
            None => self.way_over(kind, main_size, pipe),
        };
        let drip_leg = self.offset(kind.drip_leg, pipe, [Some(size), None]);
        let second = self.between_tees(kind, pipe);
        let shut = self.shut_off(outlet, place.node, pipe);
        let down = main + rise - shut.unwrap_or_default() - outlet.height.value;
        let below = second.unwrap_or_default() + drip_leg;
        if !self.fits_below(outlet, kind, main, down, below) {
            return None;
        }
        let reach = self.free_side(place.node, main_direction);
        let elbow = match (kind.take_off, neck) {
            (TakeOff::Top, Some(neck)) => self.neck(place.node, reach, neck, pipe),
            (TakeOff::Top, None) => {
                let upper = self.pipe(place.node, Direction::Up, rise, pipe, Spot::UpperElbow);
                self.pipe(upper, reach, reach_length, pipe, Spot::DropElbow)
            }
            (TakeOff::Side, _) => self.pipe(place.node, reach, reach_length, pipe, Spot::DropElbow),
            (TakeOff::Bottom, _) => place.node,
        };
        let head = match shut {
            Some(length) => self.shut_at(elbow, length, pipe),
            None => elbow,
        };
        let foot = self.pipe(head, Direction::Down, down, pipe, Spot::Foot);
        let lowest = match second {
            Some(length) => self.pipe(foot, Direction::Down, length, pipe, Spot::LowerFoot),
            None => foot,
        };
        let directions = match kind.foot {
            Foot::Cross => vec![(foot, main_direction), (lowest, main_direction.opposite())],
            Foot::Tee | Foot::Elbow => vec![(foot, reach)],
        };
        let mut sides = Vec::new();
        for (side, (devices, (start, direction))) in kind.sides.iter().zip(directions).enumerate() {
            let mut here = start;
            let mut line = self.thread_of(pipe);
            let mut words = Vec::new();
            for (number, used) in devices.iter().enumerate() {
                line = self.device_size(used.value, line);
                let spot = Spot::Side(side + 1, number + 1);
                here = self.device(here, direction, used.value, line, pipe, spot);
                let device = &self.library.devices()[used.value.device];
                words.push(format!("{} {line}", device.name));
            }
            sides.push(words.join(", "));
        }
        if kind.foot != Foot::Elbow {
            self.drip_leg(lowest, pipe, drip_leg, kind.drain);
        }
        Some(Drop {
            name: outlet.name.value.clone(),
            line: outlet.line,
            take_off_at: NodeId(place.node),
            foot_at: NodeId(foot),
            kind: kind.name.value.clone(),
            take_off: kind.take_off,
            foot: kind.foot,
            size,
            system,
            down,
            height: outlet.height.value,
            sides,
            drain: self.drain_words(kind, self.thread_of(pipe)),
        })
    }

    /// How much of a drop its isolating valve takes up, from the elbow's centre to where
    /// the down pipe begins: a new drop on main that stands has one unless the job says
    /// otherwise, so that the rest goes on while it is worked on.
    fn shut_off(&self, outlet: &Outlet, node: NodeIndex, pipe: Pipe) -> Option<Length> {
        let leg_stands = |leg: usize| {
            let leg = self.job.legs.get(leg);
            leg.is_some_and(|leg| State::of(leg.state) == State::Existing)
        };
        let mut main = self.graph.edges(node).filter_map(|edge| edge.weight().leg);
        let usual = State::of(outlet.state) == State::New && main.any(leg_stands);
        if !outlet.head.unwrap_or(usual) {
            return None;
        }
        let device = self.isolating_valve()?;
        let row = self.library.systems()[pipe.system].row(pipe.size)?;
        let valve = &self.library.devices()[device.device];
        let length = valve.length(self.device_size(device, self.thread_of(pipe)));
        let nipple = row.shortest - row.make_up.times(3);
        Some(row.centre_to_end + nipple + length.unwrap_or_default())
    }

    fn isolating_valve(&self) -> Option<DeviceUse> {
        let mut devices = self.library.devices().iter();
        let device = devices.position(|device| device.name == "valve")?;
        Some(DeviceUse {
            device,
            size: None,
            length: None,
            set: None,
        })
    }

    /// Sets the isolating valve under an elbow, or under the main itself.
    fn shut_at(&mut self, elbow: NodeIndex, length: Length, pipe: Pipe) -> NodeIndex {
        let Some(used) = self.isolating_valve() else {
            return elbow;
        };
        let size = self.device_size(used, self.thread_of(pipe));
        let at = self.graph[elbow]
            .at
            .moved(Direction::Down.displacement(length));
        let node = self.graph.add_node(DraftNode {
            at,
            kind: DraftKind::Device {
                device: used.device,
                size,
                length: None,
            },
            origin: Origin {
                owner: pipe.owner,
                spot: Spot::Shut,
            },
        });
        self.link(elbow, node, None, pipe, Direction::Down);
        node
    }

    /// Whether the outlet lies between the floor and the main.
    fn fits_below(
        &mut self,
        outlet: &Outlet,
        kind: &DropKind,
        main: Length,
        down: Length,
        needed: Length,
    ) -> bool {
        let units = self.job.units;
        let height = outlet.height;
        if down <= Length::ZERO || height.value >= main {
            self.findings.push(Finding::error(
                "outlet-above-main",
                height.span,
                format!(
                    "`{}` stands at {}, and the main there is at {}",
                    outlet.name.value,
                    height.value.show(units),
                    main.show(units)
                ),
                "lower the outlet, or raise the main",
            ));
            return false;
        }
        let below = match kind.foot {
            Foot::Elbow => Length::ZERO,
            Foot::Cross | Foot::Tee => needed,
        };
        if height.value <= below {
            self.findings.push(
                Finding::error(
                    "drop-below-floor",
                    height.span,
                    format!(
                        "`{}` stands at {}, and its drip leg needs {} below it",
                        outlet.name.value,
                        height.value.show(units),
                        below.show(units)
                    ),
                    "raise the outlet, or shorten the drip leg",
                )
                .related(kind.name.span, "the kind of drop"),
            );
            return false;
        }
        true
    }

    /// Rise and reach of a drop that is built of pipe and elbows.
    fn way_over(&self, kind: &DropKind, main: Size, pipe: Pipe) -> (Length, Length) {
        let from_main = [Some(main), Some(pipe.size)];
        let between_elbows = [Some(pipe.size), Some(pipe.size)];
        match kind.take_off {
            TakeOff::Top => (
                self.offset(kind.rise, pipe, from_main),
                self.offset(kind.reach, pipe, between_elbows),
            ),
            TakeOff::Side => (Length::ZERO, self.offset(kind.reach, pipe, from_main)),
            TakeOff::Bottom => (Length::ZERO, Length::ZERO),
        }
    }

    /// The bend of a drop from the top of a main on which a saddle fits.
    fn swan_neck(&self, kind: &DropKind, main: Size, pipe: Pipe) -> Option<SwanNeck> {
        let system = &self.library.systems()[pipe.system];
        system
            .swan_neck(pipe.size)
            .filter(|_| kind.take_off == TakeOff::Top && system.has_saddle(main, pipe.size))
    }

    /// Whether the main goes on in line on both sides of a place: a saddle needs
    /// pipe that is not cut.
    fn runs_on(&self, node: NodeIndex, main: Direction) -> bool {
        let main_to = |direction: Direction| {
            ends(&self.graph, node)
                .any(|end| end.direction == direction && self.graph[end.link.0].is_main())
        };
        main_to(main) && main_to(main.opposite())
    }

    /// Centre to centre of the two tees that do what a cross does, where the
    /// system has none.
    fn between_tees(&self, kind: &DropKind, pipe: Pipe) -> Option<Length> {
        let system = &self.library.systems()[pipe.system];
        let row = system.row(pipe.size)?;
        let made = system.makes("cross", PartSize::one(pipe.size));
        (kind.foot == Foot::Cross && !made)
            .then(|| (row.centre_to_end - row.make_up).times(2) + row.shortest)
    }

    /// An offset made of the nearest ready-made nipple, where one is near: it
    /// is then as long as the nipple and what the fittings at its ends take
    /// out. `ends` are the largest ports of those fittings.
    fn offset(&self, wanted: Length, pipe: Pipe, ends: [Option<Size>; 2]) -> Length {
        let system = &self.library.systems()[pipe.system];
        let Some(row) = system.row(pipe.size) else {
            return wanted;
        };
        let take_outs: Length = ends
            .into_iter()
            .flatten()
            .filter_map(|size| system.row(size.max(pipe.size)))
            .map(|fitting| fitting.centre_to_end - row.make_up)
            .sum();
        system
            .nearest_nipple(pipe.size, wanted - take_outs)
            .map_or(wanted, |nipple| nipple + take_outs)
    }

    fn drip_leg(&mut self, from: NodeIndex, pipe: Pipe, length: Length, end: LegEnd) {
        let at = self.graph[from]
            .at
            .moved(Direction::Down.displacement(length));
        let kind = match end {
            LegEnd::Cap => DraftKind::Place,
            LegEnd::Drain(used) => DraftKind::Device {
                device: used.device,
                size: self.device_size(used, self.thread_of(pipe)),
                length: None,
            },
        };
        let origin = Origin {
            owner: pipe.owner,
            spot: Spot::DripLeg,
        };
        let node = self.graph.add_node(DraftNode { at, kind, origin });
        self.link(from, node, Some(length), pipe, Direction::Down);
    }

    fn pipe(
        &mut self,
        from: NodeIndex,
        direction: Direction,
        length: Length,
        pipe: Pipe,
        spot: Spot,
    ) -> NodeIndex {
        let at = self.graph[from].at.moved(direction.displacement(length));
        let node = self.place(at, pipe, spot);
        self.link(from, node, Some(length), pipe, direction);
        node
    }

    /// A swan neck, which goes into the saddle without any pipe.
    fn neck(&mut self, from: NodeIndex, reach: Direction, neck: SwanNeck, pipe: Pipe) -> NodeIndex {
        let at = self.graph[from]
            .at
            .moved(Direction::Up.displacement(neck.rise))
            .moved(reach.displacement(neck.reach));
        let node = self.place(at, pipe, Spot::UpperElbow);
        self.link(from, node, None, pipe, Direction::Up);
        node
    }

    fn place(&mut self, at: Point, pipe: Pipe, spot: Spot) -> NodeIndex {
        self.graph.add_node(DraftNode {
            at,
            kind: DraftKind::Place,
            origin: Origin {
                owner: pipe.owner,
                spot,
            },
        })
    }

    fn device(
        &mut self,
        from: NodeIndex,
        direction: Direction,
        used: DeviceUse,
        size: Size,
        pipe: Pipe,
        spot: Spot,
    ) -> NodeIndex {
        let at = self.graph[from].at;
        let node = self.graph.add_node(DraftNode {
            at,
            kind: DraftKind::Device {
                device: used.device,
                size,
                length: used.length,
            },
            origin: Origin {
                owner: pipe.owner,
                spot,
            },
        });
        // The foot's port has the drop's size; devices pass theirs on.
        let port = match self.graph[from].kind {
            DraftKind::Device { size, .. } => size,
            DraftKind::Place | DraftKind::Port { .. } => self.main_size(from, pipe.system),
        };
        self.link(from, node, None, Pipe { size: port, ..pipe }, direction);
        node
    }

    fn link(
        &mut self,
        from: NodeIndex,
        to: NodeIndex,
        length: Option<Length>,
        pipe: Pipe,
        direction: Direction,
    ) {
        self.graph.add_edge(
            from,
            to,
            Link {
                pipe: length,
                size: pipe.size,
                system: pipe.system,
                direction,
                leg: None,
            },
        );
    }

    fn refuse_unmade(&mut self, system: usize, size: Size, span: Span) {
        let found = sizes::unmade(&self.library.systems()[system], size, span);
        // Several outlets of one kind say it once.
        self.findings
            .extend(found.filter(|finding| !self.findings.contains(finding)));
    }

    /// The thread of the devices on a pipe.
    fn thread_of(&self, pipe: Pipe) -> Size {
        self.library.systems()[pipe.system].thread_of(pipe.size)
    }

    /// The system of the main at a node, as it was walked first.
    pub(super) fn system_at(&self, node: NodeIndex) -> usize {
        self.graph
            .edges(node)
            .filter(|edge| edge.weight().is_main())
            .min_by_key(|edge| edge.id())
            .map_or(self.job.system, |edge| edge.weight().system)
    }

    pub(super) fn device_size(&self, used: DeviceUse, line: Size) -> Size {
        used.size
            .unwrap_or_else(|| self.library.devices()[used.device].size_on(line))
    }

    fn drain_words(&self, kind: &DropKind, size: Size) -> Option<String> {
        match (kind.foot, kind.drain) {
            (Foot::Elbow, _) | (_, LegEnd::Cap) => None,
            (Foot::Cross | Foot::Tee, LegEnd::Drain(used)) => {
                let device = &self.library.devices()[used.device];
                // Under the heading "drain" its own word would stand twice.
                let word = device
                    .name
                    .trim_end_matches("-drain")
                    .trim_start_matches("drain-");
                Some(format!("{word} {}", self.device_size(used, size)))
            }
        }
    }

    /// The largest pipe of a system that meets at a node.
    pub(super) fn main_size(&self, node: NodeIndex, system: usize) -> Size {
        self.graph
            .edges(node)
            .filter(|edge| edge.weight().pipe.is_some() && edge.weight().system == system)
            .map(|edge| edge.weight().size)
            .max()
            .unwrap_or(self.job.supplies[0].port)
    }

    /// The direction of the level main at a node, as it was walked.
    pub(super) fn level_direction(&self, node: NodeIndex) -> Option<Direction> {
        ends(&self.graph, node)
            .filter(|end| end.direction.is_level() && self.graph[end.link.0].is_main())
            .min_by_key(|end| end.link)
            .map(|end| end.direction.opposite())
    }

    /// The side of the main on which nothing leaves yet; the right if both are
    /// free.
    pub(super) fn free_side(&self, node: NodeIndex, main: Direction) -> Direction {
        let right = main.right();
        if ends(&self.graph, node).any(|end| end.direction == right) {
            right.opposite()
        } else {
            right
        }
    }
}
