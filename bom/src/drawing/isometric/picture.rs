//! The lines and signs of one sheet.

use super::Set;
use super::axes::{Solid, along, unit};
use super::frame::Frame;
use super::limb::{corners, sign};
use super::pieces::On;
use super::pipe::{Line, visible};
use super::stretch::{Limb, Stretch};
use crate::drawing::{At, Shape, Stroke};
use crate::job::State;
use crate::network::{End, LinkId, NodeId};
use std::collections::{BTreeMap, BTreeSet};

/// Main that goes on on another sheet is drawn this far.
const STUB: f64 = 11.0;

/// What is drawn of some stretches, and where.
pub(super) struct Picture<'a> {
    pub(super) set: &'a Set<'a>,
    pub(super) stretches: &'a [Stretch],
    pub(super) frame: Frame,
    /// From the drawn space to the sheet.
    pub(super) moved: (f64, f64),
    /// The limbs by their links.
    limbs: BTreeMap<LinkId, &'a Limb>,
    main: BTreeSet<LinkId>,
    /// The places that are drawn here.
    pub(super) own: BTreeSet<NodeId>,
}

/// Where main goes on: the end of what is drawn here, and the stretch that has the rest.
pub(super) struct Onwards {
    pub(super) at: At,
    pub(super) way: (f64, f64),
    pub(super) stretch: usize,
    /// The place there, which is drawn elsewhere; none at a stub.
    pub(super) place: Option<NodeId>,
}

impl<'a> Picture<'a> {
    pub(super) fn new(
        set: &'a Set<'a>,
        stretches: &'a [Stretch],
        frame: Frame,
        middle: At,
    ) -> Self {
        let limbs = || stretches.iter().flat_map(|stretch| &stretch.limbs);
        let places = stretches.iter().flat_map(|stretch| &stretch.places);
        let own = places.copied().chain(limbs().map(|limb| limb.place));
        Self {
            set,
            stretches,
            moved: frame.offset_to(middle),
            frame,
            limbs: limbs().map(|limb| (limb.link, limb)).collect(),
            main: stretches
                .iter()
                .flat_map(|one| &one.main)
                .copied()
                .collect(),
            own: own.collect(),
        }
    }

    pub(super) fn paper(&self, solid: Solid) -> At {
        solid.on_paper().by(self.moved.0, self.moved.1)
    }

    /// Where a place is on the sheet.
    pub(super) fn at(&self, place: NodeId) -> Option<At> {
        Some(self.paper(*self.frame.places.get(&place)?))
    }

    /// Where a place of a link is on the sheet, and how the link runs there; none if it
    /// is not drawn here.
    pub(super) fn on(&self, on: On) -> Option<(At, (f64, f64))> {
        let limb = self.limbs.get(&on.link).copied();
        if limb.is_none() && !self.main.contains(&on.link) {
            return None;
        }
        let network = &self.set.scene.plan.network;
        let [from, to] = network.ends_of(on.link);
        let (from, to) = (self.trimmed(from, on.link)?, self.trimmed(to, on.link)?);
        let (from, to) = (self.paper(from), self.paper(to));
        let way = unit((to.x - from.x, to.y - from.y));
        Some((from.towards(to, on.share), way))
    }

    /// The same, clear of what stands at both ends of the link.
    pub(super) fn on_clear(&self, on: On) -> Option<(At, (f64, f64))> {
        const CLEAR: f64 = 6.0;
        let ends = [0.0, 1.0].map(|share| self.on(On { share, ..on }));
        let [Some((from, _)), Some((to, _))] = ends else {
            return None;
        };
        let least = (CLEAR / from.distance(to).max(1e-9)).min(0.4);
        let share = on.share.clamp(least, 1.0 - least);
        self.on(On { share, ..on })
    }

    /// Where a link leaves the sign of a place: the place itself if it has none.
    fn trimmed(&self, place: NodeId, link: LinkId) -> Option<Solid> {
        let here = *self.frame.places.get(&place)?;
        let Some(sign) = sign(&self.set.scene, place) else {
            return Some(here);
        };
        let network = &self.set.scene.plan.network;
        let [from, to] = network.ends_of(link);
        let far = *self
            .frame
            .places
            .get(&if from == place { to } else { from })?;
        let length = here.on_paper().distance(far.on_paper());
        let ends_here = self
            .limbs
            .get(&link)
            .is_some_and(|limb| limb.place == place);
        let by = if ends_here { sign.back() } else { sign.half() };
        Some(here.towards(far, (by / length.max(1e-9)).min(0.5)))
    }

    /// Which way a link runs on paper from a place; the way it would where it is drawn
    /// elsewhere.
    pub(super) fn way_from(&self, place: NodeId, end: &End) -> (f64, f64) {
        let network = &self.set.scene.plan.network;
        let limb = self.limbs.get(&end.link).copied();
        let drawn = limb.is_some() || self.main.contains(&end.link);
        let corners = corners(network, &self.frame, end.link, limb).filter(|_| drawn);
        let Some(mut corners) = corners else {
            return along(end.direction);
        };
        let begins = limb.map_or(network.ends_of(end.link)[0], |limb| limb.on);
        if begins != place {
            corners.reverse();
        }
        let ends = corners.iter().take(2).map(|one| one.on_paper());
        match ends.collect::<Vec<_>>()[..] {
            [from, to] => unit((to.x - from.x, to.y - from.y)),
            _ => along(end.direction),
        }
    }

    /// The places where main goes on on other sheets.
    pub(super) fn onwards(&self) -> Vec<Onwards> {
        let network = &self.set.scene.plan.network;
        let mut onwards = Vec::new();
        for stretch in self.stretches {
            for place in &stretch.places {
                for end in network.ends(*place) {
                    let elsewhere = self.set.stretch_of_link.get(&end.link);
                    let Some(other) = elsewhere.filter(|_| !self.main.contains(&end.link)) else {
                        continue;
                    };
                    let way = along(end.direction);
                    onwards.extend(self.at(*place).map(|at| Onwards {
                        at: at.by(way.0 * STUB, way.1 * STUB),
                        way,
                        stretch: *other,
                        place: None,
                    }));
                }
            }
            for link in &stretch.main {
                let ends = network.ends_of(*link);
                for (place, from) in [(ends[0], ends[1]), (ends[1], ends[0])] {
                    if self.own.contains(&place) {
                        continue;
                    }
                    if let (Some(at), Some(from), Some(stretch)) = (
                        self.at(place),
                        self.at(from),
                        self.set.stretch_of_place.get(&place),
                    ) {
                        onwards.push(Onwards {
                            at,
                            way: unit((at.x - from.x, at.y - from.y)),
                            stretch: *stretch,
                            place: Some(place),
                        });
                    }
                }
            }
        }
        onwards
    }

    /// All pipe, line by line.
    fn lines(&self) -> Vec<Line> {
        let network = &self.set.scene.plan.network;
        let mut lines: Vec<Line> = Vec::new();
        let stands = |link| network.link_state(link) == State::Existing;
        let drawn = self.main.iter().map(|link| (*link, None));
        let limbs = self.limbs.iter().map(|(link, limb)| (*link, Some(*limb)));
        for (link, limb) in drawn.chain(limbs) {
            let Some(mut corners) = corners(network, &self.frame, link, limb) else {
                continue;
            };
            let ends = limb.map_or(network.ends_of(link), |limb| [limb.on, limb.place]);
            let last = corners.len() - 1;
            for (corner, place) in [(0, ends[0]), (last, ends[1])] {
                if let Some(trimmed) = self.trimmed(place, link) {
                    corners[corner] = trimmed;
                }
            }
            lines.extend(corners.windows(2).map(|pair| Line {
                from: pair[0],
                to: pair[1],
                stands: stands(link),
            }));
        }
        for stretch in self.stretches {
            for place in &stretch.places {
                let Some(from) = self.frame.places.get(place) else {
                    continue;
                };
                let elsewhere = network.ends(*place).filter(|end| {
                    network.link(end.link).is_main() && !self.main.contains(&end.link)
                });
                lines.extend(elsewhere.map(|end| Line {
                    from: *from,
                    to: from.moved(end.direction, STUB),
                    stands: stands(end.link),
                }));
            }
        }
        lines
    }

    /// Whether any pipe passes behind other pipe.
    pub(super) fn passes_behind(&self) -> bool {
        visible(&self.lines()).iter().any(|left| left.len() != 1)
    }

    /// All pipe as it is drawn.
    pub(super) fn pipe(&self) -> Vec<Shape> {
        let lines = self.lines();
        let left = lines.iter().zip(visible(&lines));
        let at = |one: At| one.by(self.moved.0, self.moved.1);
        left.flat_map(|(line, left)| {
            let stroke = match line.stands {
                true => Stroke::NARROW,
                false => Stroke::WIDE,
            };
            let shape = move |(from, to)| Shape::line(stroke, vec![at(from), at(to)]);
            left.into_iter().map(shape).collect::<Vec<_>>()
        })
        .collect()
    }
}
