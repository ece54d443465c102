//! Devices one behind the other, with what joins them.

use super::super::shape::Shape;
use super::super::symbol::symbol;
use super::super::{Area, At, Layer, Text, TextSize};
use super::built::{Built, Placed};
use super::ink::{Ink, Item, RIGHT, Way};
use crate::Plan;
use crate::library::Library;
use crate::network::{NodeId, NodeKind};
use crate::takeoff::Why;

/// The room of a part that joins, so that the numbers beside it do not meet.
const JOIN: f64 = 5.6;
/// From the pipe to the middle of the numbers.
const ROW: f64 = 7.6;
/// From a row to the next, and the room for what is said at the end of one.
pub(super) const PITCH: f64 = 23.0;
const GOES_ON: f64 = 24.0;
/// Before, between and behind devices.
const BARE: f64 = 2.4;

/// From a middle to the edge of a sign.
fn edge(area: &Area, middle: At, way: Way) -> f64 {
    let across = if way.0 < 0.0 {
        middle.x - area.left
    } else {
        area.right - middle.x
    };
    let down = if way.1 < 0.0 {
        middle.y - area.top
    } else {
        area.bottom - middle.y
    };
    (way.0.abs() * across + way.1.abs() * down).max(0.4)
}

/// Devices that are laid in a row from a place.
#[derive(Debug)]
pub(super) struct Chain<'a> {
    pub(super) plan: &'a Plan,
    pub(super) library: &'a Library,
    pub(super) built: &'a Built,
    /// Where the first of them is joined.
    pub(super) from: NodeId,
    /// The devices, outwards.
    pub(super) devices: Vec<NodeId>,
    /// Where the last of them is joined to pipe.
    pub(super) to: Option<NodeId>,
}

/// One thing of the row, with the half of its room.
enum Link<'a> {
    Join(&'a Placed),
    Device(NodeId),
    Plug(&'a Placed),
}

impl Chain<'_> {
    /// How long it is.
    pub(super) fn length(&self) -> f64 {
        let links = self.links();
        let room = links.iter().map(|link| 2.0 * self.half(link) + BARE);
        room.sum::<f64>() + BARE
    }

    /// Draws it from a place; where it ends.
    pub(super) fn draw(&self, ink: &mut Ink, at: At, way: Way) -> At {
        self.draw_within(ink, at, way, f64::INFINITY)
    }

    /// Draws it to the right, in rows below each other where it does not fit above the
    /// edge on the right; where it ends.
    pub(super) fn draw_in_rows(&self, ink: &mut Ink, at: At, right: f64) -> At {
        self.draw_within(ink, at, RIGHT, right)
    }

    fn draw_within(&self, ink: &mut Ink, at: At, way: Way, right: f64) -> At {
        let mut here = at;
        let on = |here: At, by: f64| here.by(way.0 * by, way.1 * by);
        // Numbers of devices on one side, those of what joins them on the other.
        let side = |sign: f64| (-way.1 * sign, way.0 * sign);
        let above = if way.0 < 0.0 { 1.0 } else { -1.0 };
        let links = self.links();
        for link in &links {
            let half = self.half(link);
            if here.x + BARE + 2.0 * half > right - GOES_ON {
                let words = Text::new(here.by(1.5, 1.0), TextSize::Small, "goes on below");
                ink.add(Layer::Label, Shape::Text(words));
                here = At::new(at.x, here.y + PITCH);
            }
            let middle = on(here, BARE + half);
            let end = on(middle, half);
            match link {
                Link::Join(part) => {
                    ink.pipe(vec![here, end]);
                    ink.said.push(**part);
                    let area = self.join(ink, part, middle, way);
                    let from = edge(&area, middle, side(-above));
                    ink.in_row(Item::Part(part.line), middle, side(-above), ROW, from);
                }
                Link::Device(node) => {
                    ink.pipe(vec![here, end]);
                    ink.places.entry(*node).or_insert(middle);
                    let name = self.name(*node).unwrap_or_default();
                    let area = ink.sign(name, middle, way);
                    let from = edge(&area, middle, side(above));
                    for part in self.stands(*node) {
                        ink.said.push(*part);
                        ink.in_row(Item::Part(part.line), middle, side(above), ROW, from);
                    }
                }
                Link::Plug(part) => {
                    ink.said.push(**part);
                    let begins = on(middle, -1.2);
                    ink.thin(vec![begins, end]);
                    ink.sign("plug", begins, way);
                    ink.in_row(Item::Part(part.line), begins, side(-above), ROW, 1.6);
                }
            }
            here = end;
        }
        here
    }

    fn links(&self) -> Vec<Link<'_>> {
        let mut links = Vec::new();
        let mut before = self.from;
        for device in &self.devices {
            let joins = self.joins(*device, before);
            links.extend(joins.into_iter().map(Link::Join));
            links.push(Link::Device(*device));
            let plugs = self.built.parts.iter();
            let plugs = plugs.filter(|part| part.at == *device && part.why == Why::FitsCoupler);
            links.extend(plugs.map(Link::Plug));
            before = *device;
        }
        if let Some(to) = self.to {
            links.extend(self.joins(before, to).into_iter().map(Link::Join));
        }
        links
    }

    /// What joins two places, counted at the first, in the order of the air: from
    /// large to small, a union between the nipples on its two sides.
    fn joins(&self, at: NodeId, far: NodeId) -> Vec<&Placed> {
        let parts = self.built.parts.iter();
        let mut joins: Vec<&Placed> = parts
            .filter(|part| part.at == at && part.far == far && part.far != part.at)
            .filter(|part| part.why != Why::Spans)
            .collect();
        let keys = &self.plan.takeoff.lines;
        let key = |part: &&Placed| &keys[part.line].key;
        let rank = |part: &&Placed| {
            let part = key(part).part.as_str();
            1 + usize::from(part.contains("nipple")) + 2 * usize::from(part.contains("union"))
        };
        joins.sort_by_key(|part| (std::cmp::Reverse(key(part).size.largest()), rank(part)));
        let small_first = |first: &Placed| {
            let size = |node: NodeId| match self.plan.network.node(node).kind {
                NodeKind::Device { size, .. } | NodeKind::Port { size, .. } => Some(size),
                NodeKind::Fitting(_) => key(&first).size.largest(),
            };
            let ways = if self.to == Some(far) {
                (at, far)
            } else {
                (far, at)
            };
            size(ways.0) < size(ways.1)
        };
        if joins.first().is_some_and(|first| small_first(first)) {
            joins.sort_by_key(|part| (key(part).size.largest(), rank(part)));
        }
        // A set comes out behind its union, by the nipple after it; unlike metals meet
        // in the middle of what leads to them.
        let union = joins.iter().position(|part| rank(part) > 2);
        let within =
            |part: &Placed| part.why == Why::ServicesSet || key(&part).part == "insulating-union";
        if let Some(at) = union.filter(|at| *at > 0 && *at + 1 == joins.len() && within(joins[*at]))
        {
            joins.swap(at - 1, at);
        }
        joins
    }

    /// The sign of what joins two ends; a nipple is the pipe between them.
    fn join(&self, ink: &mut Ink, part: &Placed, at: At, way: Way) -> Area {
        let part = self.plan.takeoff.lines[part.line].key.part.as_str();
        let sign = match part {
            "union" | "insulating-union" => "union",
            "bushing" | "reducer" | "adapter-male" | "adapter-female" => "reducer",
            other => other,
        };
        ink.sign(sign, at, way)
    }

    fn stands(&self, node: NodeId) -> impl Iterator<Item = &Placed> {
        let parts = self.built.parts.iter();
        parts.filter(move |part| part.at == node && part.why == Why::Stands)
    }

    fn name(&self, node: NodeId) -> Option<&str> {
        match self.plan.network.node(node).kind {
            NodeKind::Device { device, .. } => Some(&self.library.devices()[device].name),
            NodeKind::Fitting(_) | NodeKind::Port { .. } => None,
        }
    }

    fn half(&self, link: &Link<'_>) -> f64 {
        match link {
            Link::Join(_) => (JOIN - BARE) / 2.0,
            Link::Plug(_) => 1.6,
            Link::Device(node) => {
                let sign = self.name(*node).and_then(symbol);
                sign.map_or(2.0, |sign| sign.half().max(2.0))
            }
        }
    }
}
