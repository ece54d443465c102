//! A drawing with the list of its parts beside it.

use super::super::Pages;
use super::super::shape::Shape;
use super::super::{Area, At, Layer, Mark, Scene, Text, TextSize};
use super::super::{List, wrap};
use super::built::Built;
use super::callouts::point;
use super::ink::{Ink, Item};
use super::numbered;
use super::signs::entries;
use super::words::joints;

/// The least that a list is wide.
const LEAST: f64 = 84.0;

/// A drawing, numbered and listed.
pub(super) struct Listed {
    pub(super) ink: Ink,
    top: f64,
    bottom: f64,
    pub(super) items: Vec<Item>,
    pub(super) list: List,
    joints: Vec<String>,
    /// Where the list stands.
    at: At,
    across: f64,
    /// How far down the list may reach.
    limit: f64,
}

impl Listed {
    /// Draws from `top` down what is as wide as `left`. The first of the members, which
    /// are alike but for their down pipes, is the one that is drawn.
    pub(super) fn new(
        scene: &Scene<'_>,
        members: &[&Built],
        (left, top): (f64, f64),
        draw: &dyn Fn(&mut Ink) -> f64,
    ) -> Self {
        let mut ink = Ink::default();
        let bottom = draw(&mut ink);
        let whole = scene.field.width;
        let beside = whole - left >= LEAST;
        let at = match beside {
            true => At::new(left, top + 0.5),
            false => At::new(0.5, bottom + 3.0),
        };
        let across = whole - at.x;
        let mut said = String::new();
        if let Some(first) = members.first() {
            point(&mut ink, scene.plan, first);
            said = format!("Joints to make: {}.", joints(scene.plan, first));
        }
        ink.signs.insert("number");
        let items = numbered::items(&ink);
        Self {
            top,
            bottom,
            list: numbered::list(scene.plan, &items, members, across),
            items,
            joints: wrap(&said, TextSize::Small, false, across),
            ink,
            at,
            across,
            limit: f64::INFINITY,
        }
    }

    /// How tall the list is, with the joints below.
    pub(super) fn height(&self) -> f64 {
        let joints = self.joints.iter().map(|_| TextSize::Small.leading());
        self.list.height() + joints.sum::<f64>() + 2.0
    }

    /// How far down drawing and list reach.
    pub(super) fn down(&self) -> f64 {
        self.bottom.max(self.at.y + self.height()) + 1.0
    }

    /// The same, with a list that ends at a height and goes on elsewhere.
    pub(super) fn limited(mut self, limit: f64) -> Self {
        self.limit = limit;
        self
    }

    /// How far down the drawing reaches.
    pub(super) const fn bottom(&self) -> f64 {
        self.bottom
    }

    /// Puts it on a sheet; gives what of the list did not fit.
    pub(super) fn put(mut self, pages: &mut Pages) -> List {
        let over = self.at.y + self.height() > self.limit;
        let mut rest = self.list.clone();
        if over {
            self.list = rest.part(self.limit - (self.height() - self.list.height()) - self.at.y);
        } else {
            rest.rows.clear();
        }
        let mut notes = self.list.draw(self.at);
        let mut down = self.at.y + self.list.height() + 1.0;
        for line in &self.joints {
            down += TextSize::Small.leading();
            let text = Text::new(At::new(self.at.x, down), TextSize::Small, &**line);
            notes.push(Mark::new(Layer::Note, vec![Shape::Text(text)]));
        }
        let right = self.at.x + self.across;
        let taken = Area::of(self.at.by(-1.0, -1.0), At::new(right, down + 1.0));
        let bounds = Area::of(At::new(0.0, self.top), At::new(right, self.bottom));
        let mut marks = self.ink.marks();
        marks.extend(numbered::draw(&self.ink, &self.items, bounds, &[taken]));
        marks.extend(notes);
        pages.explain(&entries(&self.ink.signs));
        let down = self.down();
        pages.put(marks, down);
        rest
    }
}
