//! One drop, seen along the main: up or sideways off it, over, down to the foot, its
//! sides turned into the plane, and the drip leg above the floor.

use super::super::shape::Shape;
use super::super::{At, Layer, Text, TextSize};
use super::built::Built;
use super::chain::Chain;
use super::foot::SIDE;
use super::ink::Ink;
use crate::Plan;
use crate::library::Library;
use crate::network::{Drop, NodeKind, Spot};
use crate::quantity::Length;

/// The longest and the shortest that an offset is drawn.
const OFFSET: (f64, f64) = (17.0, 19.0);

/// What an elevation draws.
pub(super) struct Elevation<'a> {
    pub(super) plan: &'a Plan,
    pub(super) library: &'a Library,
    pub(super) drop: &'a Drop,
    pub(super) built: &'a Built,
    /// The down pipe and the outlet's height in figures, or as letters of the table.
    pub(super) down: String,
    pub(super) height: String,
    pub(super) main: String,
    /// The width of the sheet.
    pub(super) across: f64,
}

impl Elevation<'_> {
    /// Where the drop comes down, from the left edge of the sheet.
    pub(super) fn foot_x(&self) -> f64 {
        let reach = self.drawn(self.reach());
        (self.room().0 + 16.0).max(reach + 22.0)
    }

    /// How far its sides reach to the left and right of the foot.
    pub(super) fn room(&self) -> (f64, f64) {
        let (left, right) = self.sides();
        if self.is_wide() {
            let stub = |side: Option<Chain<'_>>| side.map_or(0.0, |_| SIDE + 4.0);
            return (stub(left), stub(right));
        }
        let room = |side: Option<Chain<'_>>| side.map_or(0.0, |side| SIDE + side.length());
        (room(left), room(right))
    }

    /// Whether its sides are too long to stand beside the foot: they stand below.
    pub(super) fn is_wide(&self) -> bool {
        let (left, right) = self.sides();
        let room = |side: Option<Chain<'_>>| side.map_or(0.0, |side| SIDE + side.length());
        let foot = (room(left) + 16.0).max(self.drawn(self.reach()) + 22.0);
        foot + room(right) > self.across - 1.0
    }

    /// The highest that its foot may be drawn.
    pub(super) fn foot_y(&self) -> f64 {
        let neck = if self.is_neck() {
            self.drawn(self.reach()) / 2.0
        } else {
            0.0
        };
        12.0 + neck + self.drawn(self.rise()) + 42.0
    }

    /// Draws it with its foot at this height; how far down it reaches.
    pub(super) fn draw(&self, ink: &mut Ink, foot_y: f64) -> f64 {
        let foot = At::new(self.foot_x(), foot_y);
        let top = self.take_off(ink, foot);
        self.down_pipe(ink, top, foot);
        let bottom = self.foot(ink, foot);
        let floor = (bottom + 3.6).max(foot_y + 30.0);
        ink.upright(5.0, foot_y, floor, &self.height);
        let (left, right) = self.room();
        ink.thin(vec![
            At::new(3.5, foot_y),
            At::new(foot.x - left - 2.0, foot_y),
        ]);
        ink.floor(floor, 1.0, foot.x + right.clamp(30.0, 46.0));
        let words = At::new(foot.x + 6.0, floor - 1.4);
        ink.add(
            Layer::Label,
            Shape::Text(Text::new(words, TextSize::Small, "floor")),
        );
        if self.is_wide() {
            return self.sides_below(ink, floor + 3.0);
        }
        floor + 2.4
    }

    pub(super) fn rise(&self) -> Length {
        match self.neck() {
            Some(neck) => neck.rise,
            None => self.pipe_to(Spot::UpperElbow),
        }
    }

    pub(super) fn reach(&self) -> Length {
        match self.neck() {
            Some(neck) => neck.reach,
            None => self.pipe_to(Spot::DropElbow),
        }
    }

    fn neck(&self) -> Option<crate::system::SwanNeck> {
        let upper = self.built.spot(self.plan, Spot::UpperElbow)?;
        let NodeKind::Fitting(fitting) = &self.plan.network.node(upper).kind else {
            return None;
        };
        let system = &self.library.systems()[self.drop.system];
        fitting
            .is_swan_neck()
            .then(|| system.swan_neck(self.drop.size))?
    }

    pub(super) fn is_neck(&self) -> bool {
        self.neck().is_some()
    }

    pub(super) fn pipe_to(&self, spot: Spot) -> Length {
        let to = self.built.spot(self.plan, spot);
        to.and_then(|to| Built::pipe_to(self.plan, to))
            .unwrap_or_default()
    }

    /// An offset as long as it is drawn: to one scale, unless it is far longer or
    /// shorter than the others.
    pub(super) fn drawn(&self, length: Length) -> f64 {
        let longest = [self.rise(), self.reach(), self.pipe_to(Spot::DripLeg)];
        let longest = longest.into_iter().max().unwrap_or_default().mm().max(1.0);
        if length == Length::ZERO {
            return 0.0;
        }
        (length.mm() / longest * OFFSET.1).clamp(OFFSET.0, OFFSET.1)
    }

    pub(super) fn place(&self, ink: &mut Ink, spot: Spot, at: At) {
        if let Some(node) = self.built.spot(self.plan, spot) {
            ink.places.insert(node, at);
        }
    }

    pub(super) fn show(&self, length: Length) -> String {
        length.show(self.plan.network.units)
    }
}
