//! What is written into rooms, and where the parts of a plan meet.

use super::super::shape::{Area, At, Dash, Shape, Stroke, Weight};
use super::super::text::{Anchor, Text, TextSize, width};
use super::super::{Label, Layer, Mark};
use super::draft::Draft;
use super::layout::Layout;

impl Draft<'_> {
    /// The name of every room in the middle of what is shown of it, with its size where
    /// no dimension says it.
    pub(super) fn room_names(&mut self, measured: &[bool]) {
        let units = self.scene.plan.network.units;
        for (room, measured) in self.level.rooms.iter().zip(measured) {
            let area = self.view.area(&room.inside);
            let window = &self.view.window;
            let shown = Area {
                left: area.left.max(window.left),
                top: area.top.max(window.top),
                right: area.right.min(window.right),
                bottom: area.bottom.min(window.bottom),
            };
            if shown.width() < 10.0 || shown.height() < 6.0 {
                if self.view.owns(area.middle()) {
                    let label = Label::new(area.middle(), &*room.name);
                    let shapes = self.must(&label);
                    self.marks.push(Mark::new(Layer::Label, shapes));
                }
                continue;
            }
            let inside = &room.inside;
            let size = format!(
                "{} x {}",
                (inside.east - inside.west).show(units),
                (inside.north - inside.south).show(units)
            );
            let mut lines = vec![(TextSize::Large, true, room.name.clone())];
            if !measured {
                lines.push((TextSize::Small, false, size));
            }
            let across = lines
                .iter()
                .map(|(size, bold, words)| width(words, *size, *bold));
            let across = across.fold(0.0, f64::max);
            let down = TextSize::Large.leading() + TextSize::Small.mm();
            match self.spot(&shown, (across, down)) {
                Some(area) => self.titled(&area, &lines),
                None if self.view.owns(shown.middle()) => {
                    let shapes = self.must(&Label::new(shown.middle(), &*room.name));
                    self.marks.push(Mark::new(Layer::Label, shapes));
                }
                None => {}
            }
        }
    }

    /// The lines at which parts of a plan meet, each with the parts beyond it.
    pub(super) fn matches(&mut self, layout: &Layout) {
        let mut views = layout.views.iter();
        let here = views.position(|view| view.origin == self.view.origin);
        let (Some(here), true) = (here, layout.views.len() > 1) else {
            return;
        };
        let window = self.view.window;
        let (row, column) = (here / layout.columns, here % layout.columns);
        let rows = layout.views.len() / layout.columns;
        let stroke = Stroke::new(Weight::Narrow, Dash::Centre);
        let corner = At::new;
        let corners = [
            corner(window.left, window.top),
            corner(window.right, window.top),
            corner(window.right, window.bottom),
            corner(window.left, window.bottom),
        ];
        // The part beyond each side, from the upper one on.
        let columns = layout.columns;
        let beyond = [
            (row > 0).then(|| here - columns),
            (column + 1 < columns).then(|| here + 1),
            (row + 1 < rows).then(|| here + columns),
            (column > 0).then(|| here - 1),
        ];
        let size = TextSize::Small;
        for (side, part) in beyond.into_iter().enumerate() {
            let Some(part) = part else { continue };
            let (from, to) = (corners[side], corners[(side + 1) % 4]);
            self.put(Mark::new(
                Layer::Note,
                vec![Shape::line(stroke, vec![from, to])],
            ));
            let words = format!("goes on in part {}", part + 1);
            let text = |share: f64| {
                let at = from.towards(to, share);
                // Inside of the line, above it or read upwards beside it.
                let text = match side {
                    0 => Text::new(at.by(0.0, 3.4), size, &*words),
                    1 => Text::new(at.by(-1.4, 0.0), size, &*words).turned(),
                    2 => Text::new(at.by(0.0, -1.4), size, &*words),
                    _ => Text::new(at.by(3.4, 0.0), size, &*words).turned(),
                };
                text.anchored(Anchor::Middle)
            };
            let shares = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.15, 0.85];
            let free = |text: &Text| self.board.is_free(&text.area().grown(0.6));
            match shares.into_iter().map(text).find(free) {
                Some(text) => self.put(Mark::new(Layer::Note, vec![Shape::Text(text)])),
                None => self.lacking += 1,
            }
        }
    }
}
