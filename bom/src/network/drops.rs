//! Drops and drains, expanded into the pieces that they are built of.

use super::route::{DraftKind, DraftNode, Place, Route};
use super::sizes::Auto;
use super::{Drain, Drop, Link, NodeId, Origin, Owner, Spot, ends};
use crate::finding::Finding;
use crate::job::{DeviceUse, Direction, DropKind, Foot, Job, LegEnd, Outlet, TakeOff};
use crate::library::Library;
use crate::quantity::{Length, Size};
use petgraph::graph::{NodeIndex, UnGraph};

/// The main with its sizes, to which the drops are added.
pub(super) struct Builder<'a> {
    pub(super) job: &'a Job,
    pub(super) library: &'a Library,
    pub(super) auto: Auto,
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
            let main = self.main_size(place.node);
            let size = drain.size.unwrap_or(main);
            let owner = Owner::Drain(index);
            let length = self.offset(drain.drip_leg, size, [Some(main), None]);
            self.drip_leg(place.node, owner, size, length, LegEnd::Drain(drain.valve));
            built.push(Drain {
                name: drain.name.value.clone(),
                line: drain.line,
                at: NodeId(place.node),
                valve: self.device_size(drain.valve, size),
            });
        }
        built
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
        let main_size = self.main_size(place.node);
        let size = self.auto.drop_size(kind, main_size);
        let from_main = [Some(main_size), Some(size)];
        let between_elbows = [Some(size), Some(size)];
        let (rise, reach_length) = match kind.take_off {
            TakeOff::Top => (
                self.offset(kind.rise, size, from_main),
                self.offset(kind.reach, size, between_elbows),
            ),
            TakeOff::Side => (Length::ZERO, self.offset(kind.reach, size, from_main)),
            TakeOff::Bottom => (Length::ZERO, Length::ZERO),
        };
        let drip_leg = self.offset(kind.drip_leg, size, [Some(size), None]);
        let down = main + rise - outlet.height.value;
        if !self.fits_below(outlet, kind, main, down, drip_leg) {
            return None;
        }
        let owner = Owner::Outlet(index);
        let reach = self.free_side(place.node, main_direction);
        let elbow = match kind.take_off {
            TakeOff::Top => {
                let upper = self.pipe(
                    place.node,
                    Direction::Up,
                    rise,
                    size,
                    owner,
                    Spot::UpperElbow,
                );
                self.pipe(upper, reach, reach_length, size, owner, Spot::DropElbow)
            }
            TakeOff::Side => self.pipe(
                place.node,
                reach,
                reach_length,
                size,
                owner,
                Spot::DropElbow,
            ),
            TakeOff::Bottom => place.node,
        };
        let foot = self.pipe(elbow, Direction::Down, down, size, owner, Spot::Foot);
        let directions = match kind.foot {
            Foot::Cross => vec![main_direction, main_direction.opposite()],
            Foot::Tee | Foot::Elbow => vec![reach],
        };
        let mut sides = Vec::new();
        for (side, (devices, direction)) in kind.sides.iter().zip(directions).enumerate() {
            let mut here = foot;
            let mut line = size;
            let mut words = Vec::new();
            for (number, used) in devices.iter().enumerate() {
                line = self.device_size(used.value, line);
                let spot = Spot::Side(side + 1, number + 1);
                here = self.device(here, direction, used.value, line, owner, spot);
                let device = &self.library.devices()[used.value.device];
                words.push(format!("{} {line}", device.name));
            }
            sides.push(words.join(", "));
        }
        if kind.foot != Foot::Elbow {
            self.drip_leg(foot, owner, size, drip_leg, kind.drain);
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
            down,
            height: outlet.height.value,
            sides,
            drain: self.drain_words(kind, size),
        })
    }

    /// Whether the outlet lies between the floor and the main.
    fn fits_below(
        &mut self,
        outlet: &Outlet,
        kind: &DropKind,
        main: Length,
        down: Length,
        drip_leg: Length,
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
            Foot::Cross | Foot::Tee => drip_leg,
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

    /// An offset made of the nearest ready-made nipple, where one is near: it
    /// is then as long as the nipple and what the fittings at its ends take
    /// out. `ends` are the largest ports of those fittings.
    fn offset(&self, wanted: Length, pipe: Size, ends: [Option<Size>; 2]) -> Length {
        let system = &self.library.systems()[self.job.system];
        let Some(row) = system.row(pipe) else {
            return wanted;
        };
        let take_outs: Length = ends
            .into_iter()
            .flatten()
            .filter_map(|size| system.row(size.max(pipe)))
            .map(|fitting| fitting.centre_to_end - row.make_up)
            .sum();
        system
            .nearest_nipple(pipe, wanted - take_outs)
            .map_or(wanted, |nipple| nipple + take_outs)
    }

    fn drip_leg(&mut self, from: NodeIndex, owner: Owner, size: Size, length: Length, end: LegEnd) {
        let at = self.graph[from]
            .at
            .moved(Direction::Down.displacement(length));
        let kind = match end {
            LegEnd::Cap => DraftKind::Place,
            LegEnd::Drain(used) => DraftKind::Device {
                device: used.device,
                size: self.device_size(used, size),
                length: None,
            },
        };
        let origin = Origin {
            owner,
            spot: Spot::DripLeg,
        };
        let node = self.graph.add_node(DraftNode { at, kind, origin });
        self.link(from, node, Some(length), size, Direction::Down);
    }

    fn pipe(
        &mut self,
        from: NodeIndex,
        direction: Direction,
        length: Length,
        size: Size,
        owner: Owner,
        spot: Spot,
    ) -> NodeIndex {
        let at = self.graph[from].at.moved(direction.displacement(length));
        let node = self.graph.add_node(DraftNode {
            at,
            kind: DraftKind::Place,
            origin: Origin { owner, spot },
        });
        self.link(from, node, Some(length), size, direction);
        node
    }

    fn device(
        &mut self,
        from: NodeIndex,
        direction: Direction,
        used: DeviceUse,
        size: Size,
        owner: Owner,
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
            origin: Origin { owner, spot },
        });
        // The foot's port has the drop's size; devices pass theirs on.
        let port = match self.graph[from].kind {
            DraftKind::Device { size, .. } => size,
            DraftKind::Place | DraftKind::Port { .. } => self.main_size(from),
        };
        self.link(from, node, None, port, direction);
        node
    }

    fn link(
        &mut self,
        from: NodeIndex,
        to: NodeIndex,
        pipe: Option<Length>,
        size: Size,
        direction: Direction,
    ) {
        self.graph.add_edge(
            from,
            to,
            Link {
                pipe,
                size,
                direction,
                main: false,
            },
        );
    }

    fn device_size(&self, used: DeviceUse, line: Size) -> Size {
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

    /// The largest pipe that meets at a node.
    fn main_size(&self, node: NodeIndex) -> Size {
        self.graph
            .edges(node)
            .filter(|edge| edge.weight().pipe.is_some())
            .map(|edge| edge.weight().size)
            .max()
            .unwrap_or(self.job.supply.port)
    }

    /// The direction of the level main at a node, as it was walked.
    fn level_direction(&self, node: NodeIndex) -> Option<Direction> {
        ends(&self.graph, node)
            .filter(|end| end.direction.is_level() && self.graph[end.link.0].main)
            .min_by_key(|end| end.link)
            .map(|end| end.direction.opposite())
    }

    /// The side of the main on which nothing leaves yet; the right if both are
    /// free.
    fn free_side(&self, node: NodeIndex, main: Direction) -> Direction {
        let right = main.right();
        if ends(&self.graph, node).any(|end| end.direction == right) {
            right.opposite()
        } else {
            right
        }
    }
}
