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
        let mut shapes = Vec::new();
        let mut add = |ends: [At; 2], text: Text| {
            shapes.push(Shape::line(stroke, ends.to_vec()));
            shapes.push(Shape::Text(text.anchored(Anchor::Middle)));
        };
        let words = |part: usize| format!("goes on in part {}", part + 1);
        let text = |at: At, part: usize| Text::new(at, TextSize::Small, words(part));
        let (middle, centre) = (window.middle(), window);
        if column > 0 {
            let ends = [
                corner(centre.left, centre.top),
                corner(centre.left, centre.bottom),
            ];
            add(
                ends,
                text(At::new(centre.left - 2.0, middle.y), here - 1).turned(),
            );
        }
        if column + 1 < layout.columns {
            let ends = [
                corner(centre.right, centre.top),
                corner(centre.right, centre.bottom),
            ];
            add(
                ends,
                text(At::new(centre.right + 4.0, middle.y), here + 1).turned(),
            );
        }
        if row > 0 {
            let ends = [
                corner(centre.left, centre.top),
                corner(centre.right, centre.top),
            ];
            add(
                ends,
                text(At::new(middle.x, centre.top - 2.0), here - layout.columns),
            );
        }
        if row + 1 < rows {
            let ends = [
                corner(centre.left, centre.bottom),
                corner(centre.right, centre.bottom),
            ];
            add(
                ends,
                text(
                    At::new(middle.x, centre.bottom + 4.0),
                    here + layout.columns,
                ),
            );
        }
        self.put(Mark::new(Layer::Note, shapes));
    }
}
