//! The lower half of a drop: its foot with the sides, and what hangs below.

use super::super::shape::Shape;
use super::super::{Anchor, At, Layer, Text, TextSize};
use super::chain::Chain;
use super::elevation::Elevation;
use super::ink::{DOWN, Ink, LEFT, RIGHT, UP};
use crate::network::{NodeId, NodeKind, Spot};

/// From the foot to the first thing on a side.
pub(super) const SIDE: f64 = 11.0;

/// The letter by which a side goes on elsewhere.
const fn letter(side: usize) -> &'static str {
    if side == 1 { "A" } else { "B" }
}

impl Elevation<'_> {
    /// The foot with its sides and what hangs below; how far down that reaches.
    pub(super) fn foot(&self, ink: &mut Ink, foot: At) -> f64 {
        let (left, right) = self.sides();
        let mut lowest = foot;
        let mut ends = vec![UP];
        let lower = self.built.spot(self.plan, Spot::LowerFoot);
        if let Some(lower) = lower {
            lowest = foot.by(0.0, 20.0);
            ink.pipe(vec![foot, lowest]);
            ink.upright(
                foot.x - 5.0,
                foot.y,
                lowest.y,
                &self.show(self.pipe_to(Spot::LowerFoot)),
            );
            ink.places.insert(lower, lowest);
        }
        let two = left.is_some() && right.is_some();
        for (number, side, at, way) in [(1, left, foot, LEFT), (2, right, lowest, RIGHT)] {
            let Some(side) = side else { continue };
            let at = if lower.is_some() && way == LEFT {
                foot
            } else {
                at
            };
            if at == foot {
                ends.push(way);
            }
            let begins = at.by(way.0 * SIDE, 0.0);
            ink.pipe(vec![at, begins]);
            if self.is_wide() {
                let letter =
                    Text::new(begins.by(way.0 * 2.4, 1.0), TextSize::Small, letter(number));
                let letter = letter.bold().anchored(Anchor::Middle);
                ink.add(Layer::Label, Shape::Text(letter));
                continue;
            }
            let end = side.draw(ink, begins, way);
            if two {
                let words = format!("side {number}");
                let below = At::new(end.x, at.y + 14.5);
                let text = Text::new(below, TextSize::Small, words);
                let anchor = if way == LEFT {
                    Anchor::Start
                } else {
                    Anchor::End
                };
                ink.add(Layer::Label, Shape::Text(text.anchored(anchor)));
            }
        }
        if lower.is_some() {
            ends.push(DOWN);
            ink.fitting(lowest, &[UP, DOWN, RIGHT]);
        }
        let drip = self.built.spot(self.plan, Spot::DripLeg);
        if drip.is_some() && lower.is_none() {
            ends.push(DOWN);
        }
        ink.fitting(foot, &ends);
        drip.map_or(foot.y + 10.0, |drip| self.drip_leg(ink, drip, lowest))
    }

    /// The sides in rows of their own, by letters; how far down they reach.
    pub(super) fn sides_below(&self, ink: &mut Ink, top: f64) -> f64 {
        let (left, right) = self.sides();
        let mut down = top;
        for (number, side) in [(1, left), (2, right)] {
            let Some(side) = side else { continue };
            let begins = At::new(8.0, down + 13.0);
            let words = Text::new(begins.by(-4.0, 1.0), TextSize::Small, letter(number)).bold();
            ink.add(Layer::Label, Shape::Text(words));
            down = side.draw_in_rows(ink, begins, self.across).y + 11.0;
        }
        down
    }

    fn drip_leg(&self, ink: &mut Ink, drip: NodeId, lowest: At) -> f64 {
        let length = self.pipe_to(Spot::DripLeg);
        let end = lowest.by(0.0, self.drawn(length));
        ink.pipe(vec![lowest, end]);
        let x = lowest.x + 8.0;
        ink.upright(x, lowest.y, end.y, &self.show(length));
        ink.thin(vec![end.by(1.8, 0.0), At::new(x + 1.5, end.y)]);
        ink.places.insert(drip, end);
        if matches!(self.plan.network.node(drip).kind, NodeKind::Fitting(_)) {
            ink.sign("cap", end, DOWN);
            return end.y + 3.0;
        }
        let lower = self.built.spot(self.plan, Spot::LowerFoot);
        let far = lower.unwrap_or(self.drop.foot_at);
        let chain = Chain {
            plan: self.plan,
            library: self.library,
            built: self.built,
            from: far,
            devices: vec![drip],
            to: None,
        };
        chain.draw(ink, end, DOWN).y
    }

    /// The devices left and right of the foot; one side alone is drawn to the right.
    pub(super) fn sides(&self) -> (Option<Chain<'_>>, Option<Chain<'_>>) {
        let sides = [self.side(1), self.side(2)];
        match sides {
            [Some(one), Some(two)] => (Some(one), Some(two)),
            [one, two] => (None, one.or(two)),
        }
    }

    fn side(&self, number: usize) -> Option<Chain<'_>> {
        let network = &self.plan.network;
        let devices = (1..).map_while(|item| self.built.spot(self.plan, Spot::Side(number, item)));
        let devices: Vec<NodeId> = devices.collect();
        let first = *devices.first()?;
        let from = network
            .ends(first)
            .map(|end| end.far)
            .filter(|far| *far < first)
            .min();
        Some(Chain {
            plan: self.plan,
            library: self.library,
            built: self.built,
            from: from?,
            devices,
            to: None,
        })
    }
}
