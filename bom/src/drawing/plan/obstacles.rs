//! What stands in the pipe's way: hatched boxes with their names.

use super::super::shape::{Area, At, Fill, Shape, Stroke};
use super::super::{Hatch, Label, Layer, Mark, hatch};
use super::draft::Draft;

impl Draft<'_> {
    /// The boxes of this level's rooms, as far as they are shown: each with where its name
    /// belongs.
    pub(super) fn obstacles(&mut self) -> Vec<Label> {
        let plan = self.scene.plan;
        let mut names = Vec::new();
        for (obstacle, number) in plan.job.obstacles.iter().zip(1_usize..) {
            let mut rooms = self.level.rooms.iter();
            let here = rooms.any(|room| Some(room.room) == obstacle.room);
            if !here && !self.level.rooms.is_empty() {
                continue;
            }
            let [low, high] = plan.network.placed(obstacle).map(|at| self.view.at(at));
            let window = self.view.window;
            let area = Area::of(
                At::new(low.x.max(window.left), high.y.max(window.top)),
                At::new(high.x.min(window.right), low.y.min(window.bottom)),
            );
            if low.x > window.right
                || high.x < window.left
                || high.y > window.bottom
                || low.y < window.top
            {
                continue;
            }
            let corners = vec![
                At::new(area.left, area.top),
                At::new(area.right, area.top),
                At::new(area.right, area.bottom),
                At::new(area.left, area.bottom),
            ];
            let mut shapes = vec![Shape::outline(Stroke::NARROW, Fill::Open, corners)];
            shapes.extend(hatch(area, Hatch::Falling));
            let id = format!("obstacle-{number}");
            self.put(Mark::named(Layer::Room, &id, &obstacle.what, shapes));
            if self.view.owns(area.middle()) {
                names.push(Label::new(area.middle(), &*obstacle.what));
            }
        }
        names
    }

    /// The names of the boxes.
    pub(super) fn obstacle_names(&mut self, names: Vec<Label>) {
        for label in names {
            let shapes = self.must(&label);
            self.marks.push(Mark::new(Layer::Label, shapes));
        }
    }
}
