//! Drains and tanks with what they empty.

use super::Map;
use crate::drawing::shape::{Area, Shape, Stroke};
use crate::drawing::sketch::{Line, Spot};
use crate::drawing::{Layer, Mark, TextSize};
use crate::network::NodeId;
use crate::water::{Drained, volume};

impl Map<'_> {
    /// Every drain of the main with what it empties.
    pub(super) fn drains(&mut self) {
        let drains = self.sketch.tags.drains.clone();
        let mut hung = Vec::new();
        for (at, ..) in &drains {
            let (x, y) = self.hangs(*at);
            hung.push((x, y));
            let here = self.sketch.at(*at);
            let mut shapes = vec![Shape::line(
                Stroke::WIDE,
                vec![here, here.by(2.0 * x, 2.0 * y)],
            )];
            shapes.extend(
                self.sketch
                    .sign("drain-valve", here.by(4.0 * x, 4.0 * y), (x, y)),
            );
            self.sketch.draw(Mark::new(Layer::Part, shapes));
        }
        for ((at, tag, name), (x, y)) in drains.into_iter().zip(hung) {
            let spot = Spot {
                at: self.sketch.at(at).by(5.0 * x, 5.0 * y),
                gap: 3.2,
                towards: (x, y),
            };
            let mut lines = vec![(format!("{tag} {name}"), TextSize::Plain, true)];
            let mut drains = self.scene.plan.network.drains.iter();
            let what = drains.position(|drain| drain.at == at).map(Drained::Main);
            lines.extend(what.map(|what| self.empties(what)).unwrap_or_default());
            self.sketch.label(
                spot,
                &lines,
                (&format!("drain-{tag}"), &format!("Drain {tag}, {name}")),
            );
        }
    }

    /// To which side of the main a drain is drawn: outwards, or where it is free.
    fn hangs(&self, at: NodeId) -> (f64, f64) {
        let (x, y) = self.sketch.outwards(at);
        let here = self.sketch.at(at);
        let free = |(x, y): &(f64, f64)| {
            let room = Area::of(here.by(1.0 * x, 1.0 * y), here.by(7.2 * x, 7.2 * y));
            self.sketch.is_free(&room.grown(1.3 * 0.5).with(&Area::of(
                here.by(2.0 * x - 1.3 * y, 2.0 * y - 1.3 * x),
                here.by(7.0 * x + 1.3 * y, 7.0 * y + 1.3 * x),
            )))
        };
        let ways = [(x, y), (-x, -y), (-y, x), (y, -x)];
        ways.into_iter().find(free).unwrap_or((x, y))
    }

    /// What a stop of the drain round empties, line by line.
    fn empties(&self, what: Drained) -> Vec<Line> {
        let plan = self.scene.plan;
        let units = plan.summary.units;
        let Some(stop) = self.round.iter().find(|stop| stop.what == what) else {
            return Vec::new();
        };
        let end = stop.end.and_then(|end| plan.water.ends.get(end));
        let pipe = end.map(|end| format!("empties {} of pipe", end.pipe.show_total(units)));
        let day = plan
            .amounts
            .as_ref()
            .and_then(|amounts| amounts.mean.at_stop(stop));
        let day = day.map(|litres| format!("{} a day", volume(litres, units)));
        let lines = pipe.into_iter().chain(day);
        lines.map(|line| (line, TextSize::Small, false)).collect()
    }

    /// Tanks with what runs back to them.
    pub(super) fn tanks(&mut self) {
        let network = &self.scene.plan.network;
        let ports: Vec<NodeId> = network.ports().collect();
        for (supply, port) in ports.into_iter().enumerate() {
            let name = network.supplies[supply].0.clone();
            let mut lines = vec![(format!("tank {name}"), TextSize::Plain, true)];
            lines.extend(self.empties(Drained::Tank(supply)));
            lines.push(("drain it daily".to_owned(), TextSize::Small, false));
            let spot = Spot {
                at: self.sketch.tank(port),
                gap: 3.6,
                towards: (-0.2, 1.0),
            };
            let id = format!("tank-{}", supply + 1);
            self.sketch
                .label(spot, &lines, (&id, &format!("Tank {name}")));
        }
    }
}
