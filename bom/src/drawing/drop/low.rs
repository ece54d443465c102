//! How the main is drained: a tee, the drip leg and its valve.

use super::super::shape::Shape;
use super::super::table::Column;
use super::super::tags::Tags;
use super::super::{Anchor, At, Layer, Scene, Text, TextSize};
use super::super::{List, Row};
use super::built::{Built, Likeness, built};
use super::chain::Chain;
use super::ink::{DOWN, Ink, LEFT, RIGHT, UP};
use super::listed::Listed;
use crate::Plan;
use crate::job::Direction;
use crate::library::Library;
use crate::network::{Drain, NodeId, Owner};

/// How long the drip leg is drawn.
const DRIP: f64 = 20.0;

/// Drains of the main that are built alike.
pub(super) struct Drains<'a> {
    plan: &'a Plan,
    library: &'a Library,
    pub(super) members: Vec<(&'a Drain, Built, NodeId)>,
}

impl<'a> Drains<'a> {
    /// Every drain of the main, by how they are built, in walking order.
    pub(super) fn all(plan: &'a Plan, library: &'a Library, tags: &Tags) -> Vec<Self> {
        let mut groups: Vec<(Likeness, Self)> = Vec::new();
        for (at, _, name) in &tags.drains {
            let mut drains = plan.network.drains.iter();
            let Some(drain) = drains.find(|drain| drain.name == *name) else {
                continue;
            };
            let mut ends = plan.network.ends(*at).map(|end| end.far);
            let own = ends.find(|far| {
                let owner = plan.network.node(*far).origin.owner;
                matches!(owner, Owner::Drain(_)) && plan.network.place(*far).contains(name)
            });
            let Some(valve) = own else { continue };
            let built = built(plan, plan.network.node(valve).origin.owner, *at, None);
            let likeness = built.likeness(plan);
            match groups.iter_mut().find(|(known, _)| *known == likeness) {
                Some((_, group)) => group.members.push((drain, built, valve)),
                None => groups.push((
                    likeness,
                    Self {
                        plan,
                        library,
                        members: vec![(drain, built, valve)],
                    },
                )),
            }
        }
        groups.into_iter().map(|(_, group)| group).collect()
    }

    /// The drawing of one with its list, from this height down.
    pub(super) fn listed(&self, scene: &Scene<'_>, top: f64) -> Listed {
        let members: Vec<&Built> = self.members.iter().map(|(_, built, _)| built).collect();
        let draw = |ink: &mut Ink| self.draw(ink, top);
        Listed::new(scene, &members, (58.0, top), &draw)
    }

    /// Draws one from this height down; how far down it reaches.
    fn draw(&self, ink: &mut Ink, top: f64) -> f64 {
        let Some((drain, built, valve)) = self.members.first() else {
            return top;
        };
        let network = &self.plan.network;
        let at = At::new(30.0, top + 9.0);
        let main = || {
            network
                .ends(drain.at)
                .filter(|end| network.link(end.link).is_main())
        };
        let level = main().filter(|end| end.direction.is_level()).count();
        let upright = main().any(|end| end.direction == Direction::Up);
        let mut ends = vec![DOWN];
        for (number, way, there) in [(0, LEFT, true), (1, RIGHT, true), (0, UP, upright)] {
            if level > number && there {
                let reach = if way == UP { 7.0 } else { 18.0 };
                ink.pipe(vec![at, at.by(way.0 * reach, way.1 * reach)]);
                ends.push(way);
            }
        }
        ink.fitting(at, &ends);
        let size = main().map(|end| network.link(end.link).size).max();
        let words = size.map_or_else(String::new, |size| format!("main {size}"));
        let words = Text::new(at.by(-8.0, -3.0), TextSize::Small, words).anchored(Anchor::End);
        ink.add(Layer::Label, Shape::Text(words));
        let end = at.by(0.0, DRIP);
        ink.pipe(vec![at, end]);
        ink.places.insert(drain.at, at);
        ink.places.insert(*valve, end);
        let length = Built::pipe_to(self.plan, *valve).unwrap_or_default();
        ink.upright(at.x + 9.0, at.y, end.y, &length.show(network.units));
        if level < 2 {
            ink.thin(vec![at.by(3.5, 0.0), at.by(10.5, 0.0)]);
        }
        ink.thin(vec![end.by(1.8, 0.0), end.by(10.5, 0.0)]);
        let chain = Chain {
            plan: self.plan,
            library: self.library,
            built,
            from: drain.at,
            devices: vec![*valve],
            to: None,
        };
        chain.draw(ink, end, DOWN).y + 4.0
    }

    /// The table of them.
    pub(super) fn table(&self, tags: &Tags) -> List {
        let network = &self.plan.network;
        let up = |node: NodeId| network.node(node).at.up.show(network.units);
        let rows = self.members.iter().map(|(drain, _, valve)| {
            let tag = tags.drain_at(drain.at).unwrap_or_default();
            Row {
                named: Some((
                    format!("drain-{tag}"),
                    format!("Drain {tag}, {}", drain.name),
                )),
                cells: vec![
                    tag.to_owned(),
                    drain.name.clone(),
                    up(drain.at),
                    up(*valve),
                    drain.valve.to_string(),
                ],
            }
        });
        List {
            columns: vec![
                (Column::words("Tag"), 12.0),
                (Column::words("Drain"), 40.0),
                (Column::figures("Main at"), 20.0),
                (Column::figures("Valve at"), 20.0),
                (Column::figures("Valve"), 20.0),
            ],
            rows: rows.collect(),
        }
    }
}
