//! Where labels go: beside what they name, else further off with a leader, never
//! on another label or a line.

use super::shape::{Area, At, Fill, Shape, Stroke};
use super::text::{Text, TextSize, width};

/// Kept free around a label.
pub(super) const AIR: f64 = 0.6;
/// How far a leader keeps from other texts.
const CLEAR: f64 = 0.3;
/// How far from its place a label may be, tried in turn.
pub(super) const STEPS: [f64; 12] = [
    0.0, 1.5, 3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 55.0, 75.0,
];
/// From here on a leader leads to what it names.
const LEADER_FROM: f64 = 3.0;
/// A leader begins on a line, which it does not cross there.
const ON_LINE: f64 = 0.9;
/// The side of a cell in which the board looks for neighbours.
const CELL: f64 = 8.0;

/// A label to be placed.
#[derive(Debug, Clone)]
pub struct Label {
    /// What it says, line by line.
    pub lines: Vec<String>,
    /// How large.
    pub size: TextSize,
    /// Whether it is bold.
    pub bold: bool,
    /// What it names.
    pub at: At,
    /// How far it keeps from there at least.
    pub gap: f64,
    /// Where it would best be, as steps to the right and down from there.
    pub towards: (f64, f64),
    /// Whether it stands in a circle, as numbers of outlets do.
    pub ringed: bool,
}

impl Label {
    /// One line of small text beside a place.
    #[must_use]
    pub fn new(at: At, words: impl Into<String>) -> Self {
        Self {
            lines: vec![words.into()],
            size: TextSize::Small,
            bold: false,
            at,
            gap: 1.4,
            towards: (1.0, -0.3),
            ringed: false,
        }
    }

    fn room(&self) -> (f64, f64) {
        let widths = self
            .lines
            .iter()
            .map(|line| width(line, self.size, self.bold));
        let across = widths.fold(0.0, f64::max);
        let lines = self.lines.iter().map(|_| self.size.leading());
        let down = lines.sum::<f64>() - (self.size.leading() - self.size.mm());
        if self.ringed {
            // The room of a text reaches 0.585 of its size down from its middle.
            let ring = across
                .hypot(self.size.mm() * 1.17)
                .max(self.size.mm() * 1.5)
                + 0.6;
            (ring, ring)
        } else {
            (across, down)
        }
    }

    fn shapes(&self, area: &Area) -> Vec<Shape> {
        let middle = area.middle();
        if self.ringed {
            let words = self.lines.join(" ");
            let mut text = Text::centred(middle, self.size, words);
            text.bold = self.bold;
            let ring = Shape::circle(Stroke::NARROW, Fill::Open, middle, area.width() / 2.0);
            return vec![ring, Shape::Text(text)];
        }
        let mut shapes = Vec::new();
        let mut top = area.top;
        // Lines flush towards what they name.
        let right = middle.x < self.at.x - area.width() / 4.0;
        for line in &self.lines {
            let length = width(line, self.size, self.bold);
            let x = if right {
                area.right - length
            } else {
                area.left
            };
            let mut text = Text::new(At::new(x, top + 0.76 * self.size.mm()), self.size, &**line);
            text.bold = self.bold;
            shapes.push(Shape::Text(text));
            top += self.size.leading();
        }
        shapes
    }
}

/// What stands on a sheet already.
#[derive(Debug, Clone)]
pub struct Board {
    area: Area,
    across: usize,
    down: usize,
    boxes: Vec<Area>,
    lines: Vec<(At, At)>,
    /// By cell: which boxes and which lines reach into it.
    cells: Vec<(Vec<usize>, Vec<usize>)>,
}

impl Board {
    /// An empty one; labels stay within `area`.
    #[must_use]
    pub fn new(area: Area) -> Self {
        let across = cells(area.width());
        let down = cells(area.height());
        Self {
            area,
            across,
            down,
            boxes: Vec::new(),
            lines: Vec::new(),
            cells: vec![Default::default(); across * down],
        }
    }

    /// Keeps labels off an area.
    pub fn block_area(&mut self, area: Area) {
        let number = self.boxes.len();
        self.boxes.push(area);
        for cell in self.cells_of(&area) {
            self.cells[cell].0.push(number);
        }
    }

    /// Keeps labels off a line.
    pub fn block_line(&mut self, from: At, to: At) {
        let number = self.lines.len();
        self.lines.push((from, to));
        for cell in self.cells_of(&Area::of(from, to)) {
            self.cells[cell].1.push(number);
        }
    }

    /// Keeps labels off everything that is drawn.
    pub fn block(&mut self, shapes: &[Shape]) {
        for shape in shapes {
            for (from, to) in shape.segments() {
                self.block_line(from, to);
            }
            let solid = match shape {
                Shape::Text(_) => true,
                Shape::Path { fill, .. } | Shape::Disc { fill, .. } => *fill == Fill::Ink,
            };
            if let (true, Some(area)) = (solid, shape.area()) {
                self.block_area(area);
            }
        }
    }

    /// Whether nothing stands in an area, which lies on the board.
    #[must_use]
    pub fn is_free(&self, area: &Area) -> bool {
        self.area.holds(area) && !self.touches(area, true)
    }

    fn touches(&self, area: &Area, lines_too: bool) -> bool {
        self.cells_of(area).any(|cell| {
            let (boxes, lines) = &self.cells[cell];
            boxes.iter().any(|one| self.boxes[*one].overlaps(area))
                || lines_too
                    && lines.iter().any(|one| {
                        let (from, to) = self.lines[*one];
                        area.is_crossed(from, to)
                    })
        })
    }

    /// Finds the best free place for a label, takes it, and gives what is drawn
    /// there; none if the sheet is full.
    pub fn place(&mut self, label: &Label) -> Option<Vec<Shape>> {
        let (area, leader) = self.find(label, label.room())?;
        let mut shapes = Vec::new();
        if let Some((from, to)) = leader {
            shapes.push(Shape::line(Stroke::NARROW, vec![from, to]));
        }
        shapes.extend(label.shapes(&area));
        self.block(&shapes);
        self.block_area(area);
        Some(shapes)
    }

    /// The best free place for something that takes so much room where a label would
    /// stand, no further than `most` from it, with its leader, which crosses nothing. It
    /// is not taken yet.
    pub(super) fn near(
        &self,
        label: &Label,
        room: (f64, f64),
        most: f64,
    ) -> Option<(Area, Option<(At, At)>)> {
        self.within(label, room, true, most)
    }

    /// The best free place for something that takes so much room across and down
    /// where a label would stand, with its leader; it is not taken yet.
    pub(super) fn find(
        &self,
        label: &Label,
        (across, down): (f64, f64),
    ) -> Option<(Area, Option<(At, At)>)> {
        // A leader that crosses lines is better than no label.
        [true, false]
            .into_iter()
            .find_map(|strict| self.spot(label, (across, down), strict))
    }

    /// Whether a line meets no text nor anything else that keeps labels off and, if
    /// `strict`, no other line either.
    #[must_use]
    pub fn is_clear(&self, from: At, to: At, strict: bool) -> bool {
        !self.cells_of(&Area::of(from, to)).any(|cell| {
            let (boxes, lines) = &self.cells[cell];
            let mut boxes = boxes.iter();
            let mut lines = lines.iter();
            boxes.any(|one| self.boxes[*one].grown(CLEAR).is_crossed(from, to))
                || strict
                    && lines.any(|one| {
                        let (a, b) = self.lines[*one];
                        cross(from, to, a, b)
                    })
        })
    }

    fn spot(
        &self,
        label: &Label,
        room: (f64, f64),
        strict: bool,
    ) -> Option<(Area, Option<(At, At)>)> {
        self.within(label, room, strict, f64::INFINITY)
    }

    fn within(
        &self,
        label: &Label,
        (across, down): (f64, f64),
        strict: bool,
        most: f64,
    ) -> Option<(Area, Option<(At, At)>)> {
        let ways = ways(label.towards);
        for step in STEPS.into_iter().take_while(|step| *step <= most) {
            for (x, y) in &ways {
                let reach = label.gap + step;
                let middle = label
                    .at
                    .by(x * (reach + across / 2.0), y * (reach + down / 2.0));
                let half = (across / 2.0, down / 2.0);
                let area = Area::of(middle.by(-half.0, -half.1), middle.by(half.0, half.1));
                if !self.is_free(&area.grown(AIR)) {
                    continue;
                }
                if step < LEADER_FROM {
                    return Some((area, None));
                }
                let leader = leader(label, &area);
                if self.leads(leader, strict) {
                    return Some((area, Some(leader)));
                }
            }
        }
        None
    }

    /// Whether a leader meets no text and, if `strict`, no line but the one that it
    /// begins on.
    fn leads(&self, (from, to): (At, At), strict: bool) -> bool {
        let length = from.distance(to);
        if length < ON_LINE {
            return true;
        }
        self.is_clear(from.towards(to, ON_LINE / length), to, strict)
    }

    fn cells_of(&self, area: &Area) -> impl Iterator<Item = usize> + use<> {
        let column = |x: f64| cell(x - self.area.left, self.across);
        let row = |y: f64| cell(y - self.area.top, self.down);
        let (left, right) = (column(area.left), column(area.right));
        let (top, bottom) = (row(area.top), row(area.bottom));
        let across = self.across;
        (top..=bottom).flat_map(move |row| (left..=right).map(move |column| row * across + column))
    }
}

/// From what a label names to the nearest place of its edge.
fn leader(label: &Label, area: &Area) -> (At, At) {
    let from = label.at;
    // Round a sign that keeps its labels off, a leader begins at the sign's edge.
    let off = if label.gap > 1.5 {
        label.gap - 0.6
    } else {
        0.0
    };
    let begun = |to: At| {
        (
            from.towards(to, off / from.distance(to).max(off).max(1e-9)),
            to,
        )
    };
    if label.ringed {
        let middle = area.middle();
        let far = from.distance(middle).max(1e-9);
        return begun(middle.towards(from, area.width() / 2.0 / far));
    }
    let near = area.grown(AIR / 2.0);
    let to = At::new(
        from.x.clamp(near.left, near.right),
        from.y.clamp(near.top, near.bottom),
    );
    begun(to)
}

/// Sixteen directions, the one towards which a label would best stand first.
pub(super) fn ways(towards: (f64, f64)) -> Vec<(f64, f64)> {
    let wanted = towards.1.atan2(towards.0);
    let mut turns: Vec<f64> = (0..16_u8)
        .map(|step| std::f64::consts::TAU * f64::from(step) / 16.0)
        .collect();
    let off = |turn: &f64| {
        let off = (turn - wanted).rem_euclid(std::f64::consts::TAU);
        off.min(std::f64::consts::TAU - off)
    };
    turns.sort_by(|a, b| off(a).total_cmp(&off(b)));
    turns
        .iter()
        .map(|turn| corner(turn.cos(), turn.sin()))
        .collect()
}

/// A direction stretched to the edge of a square, so that boxes beside a place
/// stand flush with it.
fn corner(x: f64, y: f64) -> (f64, f64) {
    let most = x.abs().max(y.abs());
    (x / most, y / most)
}

/// Whether two lines cross.
pub(super) fn cross(a: At, b: At, c: At, d: At) -> bool {
    let side = |p: At, q: At, r: At| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let apart = |p: f64, q: f64| (p > 1e-9 && q > 1e-9) || (p < -1e-9 && q < -1e-9);
    let level = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
    if level.iter().all(|one| one.abs() <= 1e-9) {
        // On one line: they cross if they overlap.
        let along = |p: At| (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y);
        let (low, high) = (along(c).min(along(d)), along(c).max(along(d)));
        return high > 0.0 && low < along(b);
    }
    !apart(level[0], level[1]) && !apart(level[2], level[3])
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a sheet of paper has some dozens of cells"
)]
fn cells(length: f64) -> usize {
    (length / CELL).ceil().clamp(1.0, 500.0) as usize
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the board's cells"
)]
fn cell(offset: f64, count: usize) -> usize {
    ((offset / CELL).max(0.0) as usize).min(count - 1)
}

#[cfg(test)]
mod tests {
    use super::{Board, Label, cross};
    use crate::drawing::{Area, At, Shape, Stroke};

    fn board() -> Board {
        Board::new(Area::of(At::new(0.0, 0.0), At::new(100.0, 60.0)))
    }

    fn texts(shapes: &[Shape]) -> Vec<Area> {
        let texts = shapes
            .iter()
            .filter(|shape| matches!(shape, Shape::Text(_)));
        texts.filter_map(Shape::area).collect()
    }

    #[test]
    fn a_label_stands_beside_its_place_without_a_leader() {
        let shapes = board()
            .place(&Label::new(At::new(50.0, 30.0), "3/4 in"))
            .unwrap();
        assert_eq!(shapes.len(), 1);
        let area = texts(&shapes)[0];
        assert!(area.left > 51.0 && area.left < 53.0, "{area:?}");
    }

    #[test]
    fn labels_of_one_place_stand_apart_and_the_further_ones_have_leaders() {
        let mut board = board();
        board.block(&[Shape::line(
            Stroke::WIDE,
            vec![At::new(0.0, 30.0), At::new(100.0, 30.0)],
        )]);
        let mut areas: Vec<Area> = Vec::new();
        let mut leaders = 0;
        for number in 0..8 {
            let label = Label::new(At::new(50.0, 30.0), format!("label {number}"));
            let shapes = board.place(&label).unwrap();
            leaders += shapes.len() - 1;
            let area = texts(&shapes)[0];
            assert!(areas.iter().all(|other| !other.overlaps(&area)), "{number}");
            assert!(area.bottom < 30.0 || area.top > 30.0, "{number}");
            areas.push(area);
        }
        assert!(leaders > 0, "{leaders}");
    }

    #[test]
    fn a_full_sheet_takes_no_label() {
        let mut board = board();
        board.block_area(Area::of(At::new(-1.0, -1.0), At::new(101.0, 61.0)));
        assert!(board.place(&Label::new(At::new(50.0, 30.0), "x")).is_none());
    }

    #[test]
    fn lines_cross_touch_or_miss() {
        let at = At::new;
        assert!(cross(
            at(0.0, 0.0),
            at(2.0, 2.0),
            at(0.0, 2.0),
            at(2.0, 0.0)
        ));
        assert!(cross(
            at(0.0, 0.0),
            at(2.0, 0.0),
            at(1.0, 0.0),
            at(1.0, 5.0)
        ));
        assert!(cross(
            at(0.0, 0.0),
            at(2.0, 0.0),
            at(1.0, 0.0),
            at(3.0, 0.0)
        ));
        assert!(!cross(
            at(0.0, 0.0),
            at(2.0, 0.0),
            at(3.0, 0.0),
            at(4.0, 0.0)
        ));
        assert!(!cross(
            at(0.0, 0.0),
            at(2.0, 0.0),
            at(0.0, 1.0),
            at(2.0, 1.0)
        ));
    }
}
