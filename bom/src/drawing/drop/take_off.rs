//! The upper half of a drop: the main cut through, what leaves it, and the down pipe.

use super::super::shape::{Fill, Shape, Stroke};
use super::super::{Anchor, At, Layer, Text, TextSize};
use super::elevation::Elevation;
use super::ink::{DOWN, Ink, Item, LEFT, RIGHT, UP, Way};
use crate::job::TakeOff;
use crate::network::{NodeKind, Spot};
use crate::takeoff::Why;

/// The section of the main.
const MAIN: f64 = 3.2;

impl Elevation<'_> {
    /// The main with what leaves it, up to the top of the down pipe.
    pub(super) fn take_off(&self, ink: &mut Ink, foot: At) -> At {
        let (rise, reach) = (self.drawn(self.rise()), self.drawn(self.reach()));
        let neck = if self.is_neck() { reach / 2.0 } else { 0.0 };
        let top = At::new(foot.x, 12.0 + neck);
        let main = At::new(foot.x - reach, top.y + rise);
        let leaves = match self.drop.take_off {
            TakeOff::Top => UP,
            TakeOff::Side => RIGHT,
            TakeOff::Bottom => DOWN,
        };
        let begins = main.by(leaves.0 * MAIN, leaves.1 * MAIN);
        let over = At::new(main.x, top.y);
        match self.drop.take_off {
            TakeOff::Top if self.is_neck() => {
                ink.pipe(vec![begins, over]);
                ink.pipe(bend(over, top));
                ink.tick(top.by(0.0, 1.5), DOWN);
            }
            TakeOff::Top => {
                ink.pipe(vec![begins, over, top]);
                ink.fitting(over, &[RIGHT, DOWN]);
                ink.fitting(top, &[LEFT, DOWN]);
            }
            TakeOff::Side => {
                ink.pipe(vec![begins, top]);
                ink.fitting(top, &[LEFT, DOWN]);
            }
            TakeOff::Bottom => ink.pipe(vec![begins, begins.by(0.0, 2.0)]),
        }
        self.section(ink, main, leaves);
        if rise > 0.0 {
            ink.upright(main.x - 8.0, top.y, main.y, &self.show(self.rise()));
            ink.thin(vec![over.by(-9.5, 0.0), over.by(-1.5, 0.0)]);
            ink.thin(vec![main.by(-9.5, 0.0), main.by(-MAIN - 0.8, 0.0)]);
        }
        if reach > 0.0 {
            let line = top.y - neck - 6.0;
            ink.level(line, main.x, top.x, &self.show(self.reach()));
            for x in [main.x, top.x] {
                ink.thin(vec![At::new(x, line - 1.5), At::new(x, top.y - neck - 1.5)]);
            }
        }
        ink.places.insert(self.built.root, main);
        ink.section = MAIN;
        self.place(
            ink,
            Spot::UpperElbow,
            if self.is_neck() { top } else { over },
        );
        self.place(ink, Spot::DropElbow, top);
        if self.drop.take_off == TakeOff::Bottom {
            begins.by(0.0, 2.0)
        } else {
            top
        }
    }

    /// The main cut through, and the words beside it.
    fn section(&self, ink: &mut Ink, main: At, leaves: Way) {
        for (radius, stroke) in [(MAIN, Stroke::WIDE), (MAIN - 0.9, Stroke::NARROW)] {
            ink.add(
                Layer::Pipe,
                Shape::circle(stroke, Fill::Paper, main, radius),
            );
        }
        let saddle = matches!(
            &self.plan.network.node(self.built.root).kind,
            NodeKind::Fitting(fitting) if fitting.is_saddle()
        );
        let end = main.by(leaves.0 * (MAIN + 1.6), leaves.1 * (MAIN + 1.6));
        ink.tick(end, leaves);
        ink.signs.insert(if saddle { "saddle" } else { "fitting" });
        if saddle {
            let foot = main.by(0.0, -MAIN);
            ink.add(
                Layer::Part,
                Shape::line(
                    Stroke::WIDE,
                    vec![
                        foot.by(-3.4, 2.4),
                        foot.by(-2.4, 0.4),
                        foot.by(0.0, -0.7),
                        foot.by(2.4, 0.4),
                        foot.by(3.4, 2.4),
                    ],
                ),
            );
        }
        let below = leaves != DOWN;
        for (line, y) in ["main", &self.main].into_iter().zip([0.0, 3.6]) {
            let text = if below {
                let at = main.by(0.0, MAIN + 4.0 + y);
                Text::new(at, TextSize::Small, line).anchored(Anchor::Middle)
            } else {
                Text::new(main.by(MAIN + 2.0, y - 1.0), TextSize::Small, line)
            };
            ink.add(Layer::Label, Shape::Text(text));
        }
    }

    pub(super) fn down_pipe(&self, ink: &mut Ink, top: At, foot: At) {
        ink.broken(top, foot);
        let x = top.x - 6.0;
        if self.drop.take_off == TakeOff::Bottom {
            let main = top.y - MAIN - 2.0;
            ink.upright(x, main, foot.y, &self.down);
        } else {
            ink.upright(x, top.y, foot.y, &self.down);
        }
        let middle = top.towards(foot, 0.5);
        ink.sign("flow", top.towards(foot, 0.22), DOWN);
        ink.places.insert(self.drop.foot_at, foot);
        for part in &self.built.parts {
            let item = Item::Part(part.line);
            let (sign, at) = match part.why {
                Why::HoldsFoot => ("bracket", foot.by(0.0, -7.0)),
                Why::LongerThanStick => ("coupling", middle.by(0.0, -5.0)),
                Why::Carries => ("hanger", middle.by(0.0, 9.5)),
                Why::Spans if part.at == self.drop.foot_at => ("", middle.by(0.0, 4.5)),
                _ => continue,
            };
            ink.sign(sign, at, DOWN);
            ink.said.push(*part);
            ink.callout(item, at.by(1.0, 0.0), (1.0, 0.0));
        }
        if let Some(cut) = self.built.down.first() {
            ink.callout(Item::Down(cut.line), middle.by(0.0, 4.5), (1.0, 0.0));
        }
    }
}

/// Half round from one place to another beside it.
fn bend(from: At, to: At) -> Vec<At> {
    let radius = (to.x - from.x) / 2.0;
    let middle = from.towards(to, 0.5);
    (0..=12_u8)
        .map(|step| {
            let angle = std::f64::consts::PI * (1.0 - f64::from(step) / 12.0);
            middle.by(radius * angle.cos(), -radius * angle.sin())
        })
        .collect()
}
