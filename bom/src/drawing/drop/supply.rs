//! How a tank is connected: from its port, one device behind the other, to the pipe.

use super::super::shape::{Fill, Shape, Stroke};
use super::super::tags::tags;
use super::super::{Anchor, At, Layer, Scene, Text, TextSize};
use super::built::{Built, built};
use super::chain::Chain;
use super::ink::{Ink, RIGHT, UP, Way};
use super::listed::Listed;
use crate::Plan;
use crate::job::Direction;
use crate::library::Library;
use crate::network::{End, NodeId, Owner, Spot};

/// The tank: half across, and down.
const TANK: (f64, f64) = (15.0, 15.0);
/// The longest row of devices that is drawn upright.
const TALLEST: f64 = 110.0;
/// Pipe behind the last device.
const PIPE: f64 = 14.0;

/// The connection of one tank.
pub(super) struct Supply<'a> {
    plan: &'a Plan,
    library: &'a Library,
    pub(super) name: &'a str,
    pub(super) built: Built,
    devices: Vec<NodeId>,
    /// Where it goes on as pipe.
    out: Option<End>,
    /// The width of the sheet.
    across: f64,
}

impl<'a> Supply<'a> {
    /// Every supply, in the file's order.
    pub(super) fn all(scene: &Scene<'a>) -> Vec<Self> {
        let (plan, library) = (scene.plan, scene.library);
        let supplies = plan.network.supplies.iter().zip(plan.network.ports());
        supplies
            .enumerate()
            .map(|(number, ((name, _), port))| {
                let built = built(plan, Owner::Supply(number), port, None);
                let devices = (1..).map_while(|item| built.spot(plan, Spot::Connection(item)));
                let devices: Vec<NodeId> = devices.collect();
                let last = devices.last().copied().unwrap_or(port);
                let mut ends = plan.network.ends(last);
                Self {
                    plan,
                    library,
                    name,
                    out: ends.find(|end| plan.network.link(end.link).pipe.is_some()),
                    built,
                    devices,
                    across: scene.field.width,
                }
            })
            .collect()
    }

    fn chain(&self) -> Chain<'_> {
        Chain {
            plan: self.plan,
            library: self.library,
            built: &self.built,
            from: self.built.root,
            devices: self.devices.clone(),
            to: self.out.map(|out| out.far),
        }
    }

    /// Whether it is drawn upwards, as it stands, unless it is too long for that.
    fn is_upright(&self) -> bool {
        let up = self.out.is_none_or(|out| out.direction == Direction::Up);
        up && self.chain().length() <= TALLEST
    }

    /// The drawing with its list, from this height down.
    pub(super) fn listed(&self, scene: &Scene<'_>, top: f64) -> Listed {
        let draw = |ink: &mut Ink| self.draw(ink, top);
        Listed::new(scene, &[&self.built], (self.across(), top), &draw)
    }

    /// How far to the right it reaches.
    fn across(&self) -> f64 {
        match self.is_upright() {
            true => 68.0,
            // The list stands below.
            false => f64::INFINITY,
        }
    }

    /// Draws it from this height down; how far down it reaches.
    fn draw(&self, ink: &mut Ink, top: f64) -> f64 {
        let length = self.chain().length();
        let (way, port, tank) = if self.is_upright() {
            let port = At::new(30.0, top + 5.0 + PIPE + length);
            (UP, port, port.by(0.0, TANK.1 / 2.0 + 2.0))
        } else {
            let tank = At::new(14.0 + TANK.0, top + 14.0 + TANK.1 / 2.0);
            (RIGHT, tank.by(TANK.0 + 2.0, 0.0), tank)
        };
        ink.places.insert(self.built.root, port);
        self.tank(ink, tank);
        ink.pipe(vec![port.by(-way.0 * 2.0, -way.1 * 2.0), port]);
        ink.tick(port, way);
        let end = match way == UP {
            true => self.chain().draw(ink, port, way),
            false => self
                .chain()
                .draw_in_rows(ink, port, self.across - PIPE - 30.0),
        };
        self.tag(ink, way);
        let out = end.by(way.0 * PIPE, way.1 * PIPE);
        ink.pipe(vec![end, out]);
        ink.sign("flow", end.towards(out, 0.6), way);
        if let Some(to) = self.out {
            ink.places.insert(to.far, end);
        }
        self.goes_on(ink, out, way);
        let floor = tank.y + TANK.1 / 2.0 + 6.0;
        for x in [-0.6, 0.6] {
            let foot = tank.by(x * TANK.0, TANK.1 / 2.0);
            ink.thin(vec![foot, At::new(foot.x, floor)]);
        }
        ink.floor(floor, 1.0, tank.x + TANK.0 + 6.0);
        let height = self.plan.network.node(self.built.root).at.up;
        let mark = if way == UP {
            port.by(-1.8, 0.0)
        } else {
            tank.by(-TANK.0 - 1.0, 0.0)
        };
        ink.thin(vec![At::new(3.5, port.y), mark]);
        ink.upright(5.0, port.y, floor, &height.show(self.plan.network.units));
        (floor + 3.0).max(end.y + 11.0)
    }

    /// The tags of its valves, as on all drawings.
    fn tag(&self, ink: &mut Ink, way: Way) {
        let tags = tags(self.plan);
        for device in &self.devices {
            let Some(tag) = tags.valve_at(*device) else {
                continue;
            };
            let at = ink.place_of(*device);
            let at = match way == UP {
                true => at.by(3.0, 1.0),
                false => at.by(-1.8, 5.0),
            };
            let text = Text::new(at, TextSize::Small, tag).bold();
            ink.add(Layer::Label, Shape::Text(text));
        }
    }

    fn tank(&self, ink: &mut Ink, at: At) {
        let (x, y) = (TANK.0, TANK.1 / 2.0);
        let corners = [
            (-1.0, -0.6),
            (-0.9, -0.9),
            (-0.75, -1.0),
            (0.75, -1.0),
            (0.9, -0.9),
            (1.0, -0.6),
        ];
        let upper = corners.iter().map(|(a, b)| at.by(a * x, b * y));
        let lower = corners.iter().rev().map(|(a, b)| at.by(a * x, -b * y));
        let tank = Shape::outline(Stroke::WIDE, Fill::Paper, upper.chain(lower).collect());
        ink.add(Layer::Part, tank);
        let text = Text::centred(at.by(0.0, -1.8), TextSize::Small, "air tank");
        ink.add(Layer::Label, Shape::Text(text));
        let port = self.plan.job.supplies.iter();
        let port = port.filter(|supply| supply.name.value == self.name);
        for supply in port {
            let words = format!("port {}", supply.port);
            let text = Text::centred(at.by(0.0, 2.4), TextSize::Small, words);
            ink.add(Layer::Label, Shape::Text(text));
        }
    }

    /// Where the pipe leads to.
    fn goes_on(&self, ink: &mut Ink, at: At, way: Way) {
        let Some(out) = self.out else { return };
        let network = &self.plan.network;
        let height = network.node(out.far).at.up.show(network.units);
        let size = network.link(out.link).size;
        let lines = match out.direction {
            Direction::Up => [
                format!("main {size}, up to"),
                format!("{height} above floor"),
            ],
            other => [format!("main {size}"), format!("goes {}", other.word())],
        };
        for (line, y) in lines.into_iter().zip([2.0, 5.6]) {
            let text = if way == UP {
                Text::new(at.by(2.5, y), TextSize::Small, line)
            } else {
                Text::new(at.by(2.0, y - 3.0), TextSize::Small, line).anchored(Anchor::Start)
            };
            ink.add(Layer::Label, Shape::Text(text));
        }
    }
}
