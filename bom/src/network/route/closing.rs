//! Where legs meet what has been walked: rings that close, and parts that come together.

use super::{CLOSURE, Place, Walker};
use crate::finding::Finding;
use crate::job::{Direction, Leg};
use crate::network::{Owner, Point};
use crate::quantity::Length;
use crate::source::Spanned;
use petgraph::graph::NodeIndex;
use std::collections::BTreeSet;

impl Walker<'_> {
    /// Whether a leg meets another part at a place: one of the two ends there.
    pub(super) fn meets(
        &self,
        leg: &Leg,
        here: NodeIndex,
        name: &Spanned<String>,
        place: Place,
    ) -> bool {
        let other = place.leg.map(|leg| &self.job.legs[leg]);
        let mut ends = [Some(leg), other].into_iter().flatten();
        self.part_of[here.index()] != self.part_of[place.node.index()]
            && ends.any(|leg| leg.to.as_ref().is_some_and(|to| to.value == name.value))
    }

    /// The leg comes to a place of another part: the part that does not hold the
    /// first supply is moved to where both agree. Heights are known from the floor,
    /// and must agree by themselves.
    pub(super) fn meet(
        &mut self,
        name: &Spanned<String>,
        here: NodeIndex,
        place: Place,
        at: Point,
    ) {
        let stands = self.route.draft[place.node].at;
        let (part, other) = (self.part_of[here.index()], self.part_of[place.node.index()]);
        let by = (stands.east - at.east, stands.north - at.north);
        let (moves, stays, by) = match part {
            0 => (other, part, (-by.0, -by.1)),
            _ => (part, other, by),
        };
        // What ends at a supply itself is said otherwise.
        if (at.up - stands.up).abs() > CLOSURE && place.leg.is_some() {
            let supply = &self.job.supplies[moves];
            self.findings.push(
                Finding::unreadable(
                    "supply-height",
                    name.span,
                    format!(
                        "the pipe comes to `{}` at {} from `{}` and at {} from `{}`",
                        name.value,
                        at.up.show(self.job.units),
                        self.job.supplies[part].name.value,
                        stands.up.show(self.job.units),
                        self.job.supplies[other].name.value,
                    ),
                    "measure the risers, the ports' heights or that place's height again",
                )
                .related(place.span, "the place to come to")
                .related(supply.height.span, "the port"),
            );
        }
        for node in self.route.draft.node_indices() {
            if self.part_of[node.index()] == moves {
                self.part_of[node.index()] = stays;
                let at = &mut self.route.draft[node].at;
                *at = at.moved((by.0, by.1, Length::ZERO));
            }
        }
    }

    /// The leg's end is a place that stands already: it must be where the
    /// walk comes out.
    pub(super) fn close(&mut self, index: usize, leg: &Leg, place: Place, at: Point) -> NodeIndex {
        let stands = self.route.draft[place.node].at;
        let units = self.job.units;
        let misses = [
            ("east-west", at.east - stands.east, "east", "west"),
            ("north-south", at.north - stands.north, "north", "south"),
            ("in height", at.up - stands.up, "up", "down"),
        ];
        for (axis, miss, forward, backward) in misses {
            if miss.abs() <= CLOSURE {
                continue;
            }
            let too_far = if miss > Length::ZERO {
                forward
            } else {
                backward
            };
            let to = leg.to.as_ref();
            let mut finding = Finding::unreadable(
                "misclosure",
                to.map_or(leg.span, |to| to.span),
                format!(
                    "the walk comes back to `{}` {} off, {axis}: it ends too far {too_far}",
                    to.map_or("", |to| &to.value),
                    miss.abs().show(units),
                ),
                format!("measure again what runs {forward} or {backward} on the way round"),
            )
            .related(place.span, "the place to come back to");
            for around in self.legs_around(index, place) {
                let steps = |direction: Direction| {
                    let (east, north, up) = direction.steps();
                    match axis {
                        "east-west" => east,
                        "north-south" => north,
                        _ => up,
                    }
                };
                let leg = &self.job.legs[around];
                for straight in &leg.straights {
                    if steps(straight.value.direction) != 0 {
                        finding = finding.related(
                            straight.span,
                            format!("{} runs {}", leg.label(), straight.value.direction.word()),
                        );
                    }
                }
            }
            self.findings.push(finding);
        }
        place.node
    }

    /// The legs of the way round that `closing` closes, in the file's order.
    pub(super) fn legs_around(&self, closing: usize, place: Place) -> BTreeSet<usize> {
        let chain = |leg: Option<usize>| {
            let mut legs = BTreeSet::new();
            let mut at = leg;
            while let Some(leg) = at {
                if !legs.insert(leg) {
                    break;
                }
                at =
                    self.starts[leg].and_then(|start| match self.route.draft[start].origin.owner {
                        Owner::Leg(before) => Some(before),
                        _ => None,
                    });
            }
            legs
        };
        let (there, back) = (chain(place.leg), chain(Some(closing)));
        &there ^ &back
    }
}
