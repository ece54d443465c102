//! The pressure that is left, as stairs beside the items.

use super::{BEST, LINE, Ladder, NEEDS, SIZE, WORN};
use crate::air::ladder::ToolAir;
use crate::drawing::shape::{At, Fill, Shape, Stroke};
use crate::drawing::text::{Anchor, Text, width};
use crate::quantity::Pressure;

/// The stairs: pressures to the right, items down.
pub(super) struct Stairs {
    left: f64,
    right: f64,
    /// The pressures at its edges, kPa.
    from: f64,
    to: f64,
}

impl Stairs {
    pub(super) fn of(ladder: &Ladder<'_>, left: f64) -> Self {
        let tool = &ladder.air.demand.tools[ladder.tool];
        let wants = tool
            .least
            .iter()
            .chain(&tool.best)
            .map(|one| one.value.kpa());
        let ways = ladder.ways.iter().flat_map(|(_, way)| &way.steps);
        let all = ways.map(|step| step.left.kpa()).chain(wants);
        let low = all.fold(ladder.air.cut_in.kpa(), f64::min);
        let high = tool
            .best
            .map_or(0.0, |best| best.value.kpa())
            .max(tool.least.map_or(0.0, |least| least.value.kpa()));
        let high = high.max(ladder.air.cut_in.kpa());
        let room = ((high - low) * 0.06).max(2.0);
        Self {
            left,
            right: ladder.across - 3.0,
            from: low - room,
            to: high,
        }
    }

    fn x(&self, pressure: Pressure) -> f64 {
        let share = (pressure.kpa() - self.from) / (self.to - self.from).max(1e-9);
        self.left + share.clamp(0.0, 1.0) * (self.right - self.left)
    }

    /// The lines, and the figures above and below them.
    pub(super) fn drawn(&self, ladder: &Ladder<'_>, tops: &[f64]) -> (Vec<Shape>, Vec<Shape>) {
        let (Some(top), Some(bottom)) = (tops.first().copied(), tops.last().copied()) else {
            return (Vec::new(), Vec::new());
        };
        let tool = &ladder.air.demand.tools[ladder.tool];
        let mut lines = vec![Shape::line(
            Stroke::NARROW,
            vec![At::new(self.left, bottom), At::new(self.right, bottom)],
        )];
        let wants = [
            (tool.least.map(|one| one.value), NEEDS, "least"),
            (tool.best.map(|one| one.value), BEST, "best"),
        ];
        let mut texts = Vec::new();
        let mut taken: Vec<(f64, f64)> = Vec::new();
        for (pressure, stroke, word) in wants {
            let Some(pressure) = pressure else { continue };
            let x = self.x(pressure);
            lines.push(Shape::line(
                stroke,
                vec![At::new(x, top), At::new(x, bottom)],
            ));
            let words = format!("{word} {}", ladder.figure(pressure, 1));
            texts.push((x, words));
        }
        let tank = format!("tank {}", ladder.figure(ladder.air.cut_in, 1));
        let x = self
            .x(ladder.air.cut_in)
            .min(self.right + 3.0 - width(&tank, SIZE, false) / 2.0);
        let tank = Text::new(At::new(x, top - 1.2), SIZE, tank).anchored(Anchor::Middle);
        let mut labels = vec![Shape::Text(tank)];
        for (x, words) in texts {
            let wide = width(&words, SIZE, false);
            let mut left = (x - wide / 2.0).clamp(self.left - 6.0, self.right + 3.0 - wide);
            for (from, to) in &taken {
                if left < to + 2.0 && left + wide > from - 2.0 {
                    left = match to + 2.0 + wide <= self.right + 3.0 {
                        true => to + 2.0,
                        false => from - 2.0 - wide,
                    };
                }
            }
            taken.push((left, left + wide));
            labels.push(Shape::Text(Text::new(
                At::new(left, bottom + LINE - 0.4),
                SIZE,
                words,
            )));
        }
        for ((_, way), stroke) in ladder.ways.iter().zip(self.strokes(ladder)) {
            let mut points = vec![At::new(self.x(ladder.air.cut_in), top)];
            for (number, step) in way.steps.iter().enumerate() {
                let (Some(from), Some(to)) = (tops.get(number + 1), tops.get(number + 2)) else {
                    continue;
                };
                let last = points.last().map_or(self.right, |last| last.x);
                points.extend([
                    At::new(last, *from),
                    At::new(self.x(step.left), *from),
                    At::new(self.x(step.left), *to),
                ]);
            }
            if points.len() == 1 {
                points.push(At::new(self.x(ladder.air.cut_in), bottom));
            }
            let end = points.last().copied().unwrap_or_default();
            lines.push(Shape::line(stroke, points));
            lines.push(Shape::circle(Stroke::NARROW, Fill::Ink, end, 0.6));
        }
        (lines, labels)
    }

    fn strokes(&self, ladder: &Ladder<'_>) -> Vec<Stroke> {
        let stroke = |(word, _): &(&str, &ToolAir)| match *word {
            "new" => Stroke::WIDE,
            _ => WORN,
        };
        ladder.ways.iter().map(stroke).collect()
    }
}
