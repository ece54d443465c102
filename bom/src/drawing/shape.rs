//! What a drawing is made of.

use super::text::Text;

/// A place on the sheet, in millimetres from its upper left corner.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct At {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl At {
    /// A place.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Moved to the right and down.
    #[must_use]
    pub fn by(self, x: f64, y: f64) -> Self {
        Self::new(self.x + x, self.y + y)
    }

    /// Moved a share of the way to another place.
    #[must_use]
    pub fn towards(self, other: Self, share: f64) -> Self {
        self.by((other.x - self.x) * share, (other.y - self.y) * share)
    }

    /// The distance to another place.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }
}

/// A rectangle of the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Its left edge.
    pub left: f64,
    /// Its upper edge.
    pub top: f64,
    /// Its right edge.
    pub right: f64,
    /// Its lower edge.
    pub bottom: f64,
}

impl Area {
    /// By two corners, in any order.
    #[must_use]
    pub const fn of(a: At, b: At) -> Self {
        Self {
            left: a.x.min(b.x),
            top: a.y.min(b.y),
            right: a.x.max(b.x),
            bottom: a.y.max(b.y),
        }
    }

    /// Across.
    #[must_use]
    pub const fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Down.
    #[must_use]
    pub const fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Its middle.
    #[must_use]
    pub const fn middle(&self) -> At {
        At::new(
            f64::midpoint(self.left, self.right),
            f64::midpoint(self.top, self.bottom),
        )
    }

    /// Wider by `by` on every side.
    #[must_use]
    pub const fn grown(&self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Whether two of them overlap; a common edge is no overlap.
    #[must_use]
    pub const fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether the other lies within it.
    #[must_use]
    pub const fn holds(&self, other: &Self) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// The smallest that holds both.
    #[must_use]
    pub const fn with(&self, other: &Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Whether the line from `a` to `b` has a point inside of it.
    #[must_use]
    pub fn is_crossed(&self, a: At, b: At) -> bool {
        // The share of the line that lies between both pairs of edges.
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (start, step, low, high) in [
            (a.x, b.x - a.x, self.left, self.right),
            (a.y, b.y - a.y, self.top, self.bottom),
        ] {
            if step.abs() < 1e-9 {
                if start <= low || start >= high {
                    return false;
                }
                continue;
            }
            let (enter, leave) = ((low - start) / step, (high - start) / step);
            from = from.max(enter.min(leave));
            to = to.min(enter.max(leave));
        }
        from + 1e-9 < to
    }
}

/// How wide a line is: the narrow and the wide line of technical drawings, whose
/// widths stand 1 : 2, and one above (ISO 128, from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Dimensions, leaders, hatching, grids.
    Narrow,
    /// Pipe and symbols.
    Wide,
    /// Walls.
    Heavy,
}

impl Weight {
    /// In millimetres.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Self::Narrow => 0.25,
            Self::Wide => 0.5,
            Self::Heavy => 0.7,
        }
    }
}

/// How a line is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Dash {
    /// Not at all.
    Whole,
    /// Dashes.
    Dashed,
    /// Long dashes and dots: middles.
    Centre,
    /// Long dashes and two dots: what is not there yet.
    Later,
    /// Dots.
    Dotted,
}

/// A line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stroke {
    /// How wide.
    pub weight: Weight,
    /// How broken.
    pub dash: Dash,
}

impl Stroke {
    /// A narrow line.
    pub const NARROW: Self = Self::new(Weight::Narrow, Dash::Whole);
    /// A wide line.
    pub const WIDE: Self = Self::new(Weight::Wide, Dash::Whole);
    /// A wall.
    pub const HEAVY: Self = Self::new(Weight::Heavy, Dash::Whole);

    /// A line.
    #[must_use]
    pub const fn new(weight: Weight, dash: Dash) -> Self {
        Self { weight, dash }
    }

    /// Its dashes and gaps in turn, in millimetres; empty if it is whole. By its
    /// width: a dash of 12, a long one of 24, a dot of 0.5, gaps of 3 (ISO 128,
    /// from memory), the long ones halved, since pipe runs are short on paper.
    #[must_use]
    pub fn dashes(self) -> Vec<f64> {
        let of: &[f64] = match self.dash {
            Dash::Whole => &[],
            Dash::Dashed => &[6.0, 3.0],
            Dash::Centre => &[12.0, 3.0, 0.5, 3.0],
            Dash::Later => &[12.0, 3.0, 0.5, 3.0, 0.5, 3.0],
            Dash::Dotted => &[0.5, 3.0],
        };
        of.iter().map(|one| one * self.weight.mm()).collect()
    }
}

/// What is inside of a shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies below shows.
    Open,
    /// The paper: what lies below is hidden.
    Paper,
    /// Ink.
    Ink,
}

/// One thing that is drawn.
#[derive(Debug, Clone)]
pub enum Shape {
    /// Straight lines from point to point.
    Path {
        /// Its corners.
        points: Vec<At>,
        /// Whether it comes back to its first point.
        closed: bool,
        /// Its line; none for an area without outline.
        stroke: Option<Stroke>,
        /// What is inside.
        fill: Fill,
    },
    /// A disc or a circle.
    Disc {
        /// Its middle.
        centre: At,
        /// Its radius.
        radius: f64,
        /// Its line.
        stroke: Option<Stroke>,
        /// What is inside.
        fill: Fill,
    },
    /// One line of text.
    Text(Text),
}

impl Shape {
    /// A line from point to point.
    #[must_use]
    pub const fn line(stroke: Stroke, points: Vec<At>) -> Self {
        Self::Path {
            points,
            closed: false,
            stroke: Some(stroke),
            fill: Fill::Open,
        }
    }

    /// A closed outline.
    #[must_use]
    pub const fn outline(stroke: Stroke, fill: Fill, points: Vec<At>) -> Self {
        Self::Path {
            points,
            closed: true,
            stroke: Some(stroke),
            fill,
        }
    }

    /// A rectangle.
    #[must_use]
    pub fn rectangle(stroke: Stroke, fill: Fill, area: Area) -> Self {
        let points = vec![
            At::new(area.left, area.top),
            At::new(area.right, area.top),
            At::new(area.right, area.bottom),
            At::new(area.left, area.bottom),
        ];
        Self::outline(stroke, fill, points)
    }

    /// A circle.
    #[must_use]
    pub const fn circle(stroke: Stroke, fill: Fill, centre: At, radius: f64) -> Self {
        Self::Disc {
            centre,
            radius,
            stroke: Some(stroke),
            fill,
        }
    }

    /// The same, to the right and down of there.
    #[must_use]
    pub fn moved(&self, x: f64, y: f64) -> Self {
        let mut moved = self.clone();
        match &mut moved {
            Self::Path { points, .. } => {
                for point in points {
                    *point = point.by(x, y);
                }
            }
            Self::Disc { centre, .. } => *centre = centre.by(x, y),
            Self::Text(text) => text.at = text.at.by(x, y),
        }
        moved
    }

    /// Its straight lines, circles as polygons; none for texts.
    #[must_use]
    pub fn segments(&self) -> Vec<(At, At)> {
        match self {
            Self::Path { points, closed, .. } => {
                let mut segments: Vec<(At, At)> =
                    points.windows(2).map(|pair| (pair[0], pair[1])).collect();
                if let (true, Some(first), Some(last)) = (*closed, points.first(), points.last()) {
                    segments.push((*last, *first));
                }
                segments
            }
            Self::Disc { centre, radius, .. } => {
                let points = round(*centre, *radius);
                let next = points.iter().cycle().skip(1);
                points.iter().copied().zip(next.copied()).collect()
            }
            Self::Text(_) => Vec::new(),
        }
    }

    /// The rectangle around it, its line's width left out.
    #[must_use]
    pub fn area(&self) -> Option<Area> {
        match self {
            Self::Text(text) => Some(text.area()),
            Self::Path { points, .. } => {
                let mut areas = points.iter().map(|at| Area::of(*at, *at));
                let first = areas.next()?;
                Some(areas.fold(first, |all, one| all.with(&one)))
            }
            Self::Disc { centre, radius, .. } => Some(Area::of(
                centre.by(-radius, -radius),
                centre.by(*radius, *radius),
            )),
        }
    }
}

/// The corners of a polygon that looks like a circle.
pub(super) fn round(centre: At, radius: f64) -> Vec<At> {
    (0..24_u8)
        .map(|step| {
            let angle = std::f64::consts::TAU * f64::from(step) / 24.0;
            centre.by(radius * angle.cos(), radius * angle.sin())
        })
        .collect()
}
