//! What stands in level pipe, and what freezes.

use super::Map;
use super::patterns::{beside, hatched, ticks};
use crate::drawing::shape::{Area, At, Shape, Stroke};
use crate::drawing::sketch::Spot;
use crate::drawing::{Layer, Mark, TextSize};
use crate::network::{LinkId, NodeId};
use crate::water::FreezingKind;
use std::cmp::Ordering;

impl Map<'_> {
    /// Level pipe, whose water stands: a narrow line on both sides.
    pub(super) fn standing(&mut self) {
        let network = &self.scene.plan.network;
        let level: Vec<(NodeId, NodeId)> = network
            .links()
            .filter(|(id, .., link)| {
                link.is_main()
                    && link.direction.is_level()
                    && self.sketch.falls_of(*id) == Ordering::Equal
            })
            .filter(|(.., link)| link.pipe.is_some())
            .map(|(_, from, to, _)| (from, to))
            .collect();
        if level.is_empty() {
            return;
        }
        let mut shapes = Vec::new();
        for (from, to) in level {
            shapes.extend(beside(self.sketch.at(from), self.sketch.at(to)));
        }
        self.sketch.draw(Mark::new(Layer::Pipe, shapes));
        let (from, to) = (At::new(-6.0, 0.0), At::new(6.0, 0.0));
        let mut sign = vec![Shape::line(Stroke::WIDE, vec![from, to])];
        sign.extend(beside(from, to));
        self.sketch.means("LEVEL: water stands in it", sign);
        for one in &self.scene.plan.water.standing {
            let (from, to) = (self.sketch.at(one.from), self.sketch.at(one.to));
            let spot = Spot {
                at: from.towards(to, 0.5),
                gap: 2.4,
                towards: (-(to.y - from.y), to.x - from.x),
            };
            let length = one.length.show(self.scene.plan.summary.units);
            let lines = [
                ("LEVEL".to_owned(), TextSize::Small, true),
                (length, TextSize::Small, false),
            ];
            self.sketch.label(
                spot,
                &lines,
                (
                    &format!("level-{}", one.from.index()),
                    "Level: water stands",
                ),
            );
        }
    }

    /// Hatches what freezes.
    pub(super) fn hatch(&mut self) {
        let plan = self.scene.plan;
        for freezing in &plan.freezing {
            let shapes = match freezing.kind {
                FreezingKind::Level(to) => self
                    .stretch(freezing.at, to)
                    .into_iter()
                    .flat_map(|link| {
                        let [from, to] = plan.network.ends_of(link).map(|end| self.sketch.at(end));
                        ticks(from, to)
                    })
                    .collect(),
                FreezingKind::Drain(_) | FreezingKind::LowPoint => {
                    hatched(Area::of(At::default(), At::default()).grown(4.0))
                        .iter()
                        .map(|shape| {
                            let at = self.sketch.at(self.on_main(freezing.at));
                            shape.moved(at.x, at.y)
                        })
                        .collect::<Vec<_>>()
                }
            };
            self.sketch.draw(Mark::new(Layer::Room, shapes));
            let at = match freezing.kind {
                FreezingKind::Level(to) => {
                    self.sketch.at(freezing.at).towards(self.sketch.at(to), 0.4)
                }
                FreezingKind::Drain(_) | FreezingKind::LowPoint => {
                    self.sketch.at(self.on_main(freezing.at))
                }
            };
            let spot = Spot {
                at,
                gap: 4.6,
                towards: (1.0, 0.4),
            };
            let words = format!("FREEZES {}", freezing.coldest.show(plan.summary.units));
            let id = format!("freezes-{}", freezing.at.index());
            self.sketch
                .label(spot, &[(words, TextSize::Small, true)], (&id, "Freezes"));
            self.sketch.means(
                "FREEZES when its room is coldest",
                hatched(Area::of(At::default(), At::default()).grown(2.4)),
            );
        }
    }

    /// The main of a level stretch.
    fn stretch(&self, from: NodeId, to: NodeId) -> Vec<LinkId> {
        let links = self.scene.plan.network.links();
        let mut stretch = Vec::new();
        for (id, here, there, _) in links.skip_while(|(_, here, ..)| *here != from) {
            if here == to && !stretch.is_empty() {
                break;
            }
            stretch.push(id);
            if there == to {
                break;
            }
        }
        stretch
    }
}
