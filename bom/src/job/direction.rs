//! The directions that pipe runs in. What meets at a place is decided on
//! these, never on angles computed from positions.

use crate::quantity::Length;

/// A principal direction, or a level one at 45°.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// Towards the north wall.
    North,
    /// Between north and east.
    Northeast,
    /// Towards the east wall.
    East,
    /// Between south and east.
    Southeast,
    /// Towards the south wall.
    South,
    /// Between south and west.
    Southwest,
    /// Towards the west wall.
    West,
    /// Between north and west.
    Northwest,
    /// Upright, away from the floor.
    Up,
    /// Upright, towards the floor.
    Down,
}

/// How two directions stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Angle {
    /// The same way.
    Same,
    /// 45° apart: pipes that leave a place like this meet in no fitting.
    Acute,
    /// Square.
    Square,
    /// 135° apart: the pipe bends by 45°.
    Bend45,
    /// In line, opposite ways.
    Opposite,
}

impl Direction {
    /// Every direction and its word in job files.
    pub(crate) const WORDS: [(&'static str, Self); 10] = [
        ("north", Self::North),
        ("northeast", Self::Northeast),
        ("east", Self::East),
        ("southeast", Self::Southeast),
        ("south", Self::South),
        ("southwest", Self::Southwest),
        ("west", Self::West),
        ("northwest", Self::Northwest),
        ("up", Self::Up),
        ("down", Self::Down),
    ];

    /// All of their words in job files.
    pub fn words() -> impl Iterator<Item = &'static str> {
        Self::WORDS.iter().map(|(word, _)| *word)
    }

    /// The word in job files.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS
            .iter()
            .find(|(_, direction)| *direction == self)
            .map_or("", |(word, _)| word)
    }

    /// East, north and up, in units of one step along each axis.
    pub(crate) const fn steps(self) -> (i64, i64, i64) {
        match self {
            Self::North => (0, 1, 0),
            Self::Northeast => (1, 1, 0),
            Self::East => (1, 0, 0),
            Self::Southeast => (1, -1, 0),
            Self::South => (0, -1, 0),
            Self::Southwest => (-1, -1, 0),
            Self::West => (-1, 0, 0),
            Self::Northwest => (-1, 1, 0),
            Self::Up => (0, 0, 1),
            Self::Down => (0, 0, -1),
        }
    }

    /// Whether it is neither up nor down.
    #[must_use]
    pub const fn is_level(self) -> bool {
        !matches!(self, Self::Up | Self::Down)
    }

    /// Whether it runs at 45° to the walls.
    pub(crate) const fn is_diagonal(self) -> bool {
        let (east, north, _) = self.steps();
        east != 0 && north != 0
    }

    /// The other way along the same line.
    pub(crate) const fn opposite(self) -> Self {
        match self {
            Self::North => Self::South,
            Self::Northeast => Self::Southwest,
            Self::East => Self::West,
            Self::Southeast => Self::Northwest,
            Self::South => Self::North,
            Self::Southwest => Self::Northeast,
            Self::West => Self::East,
            Self::Northwest => Self::Southeast,
            Self::Up => Self::Down,
            Self::Down => Self::Up,
        }
    }

    /// A quarter turn to the right, seen from above; upright ones stay.
    pub(crate) const fn right(self) -> Self {
        match self {
            Self::North => Self::East,
            Self::Northeast => Self::Southeast,
            Self::East => Self::South,
            Self::Southeast => Self::Southwest,
            Self::South => Self::West,
            Self::Southwest => Self::Northwest,
            Self::West => Self::North,
            Self::Northwest => Self::Northeast,
            Self::Up | Self::Down => self,
        }
    }

    pub(crate) fn angle(self, other: Self) -> Angle {
        let (a, b) = (self.steps(), other.steps());
        let dot = a.0 * b.0 + a.1 * b.1 + a.2 * b.2;
        if self == other {
            Angle::Same
        } else if self.opposite() == other {
            Angle::Opposite
        } else if dot == 0 {
            Angle::Square
        } else if dot > 0 {
            Angle::Acute
        } else {
            Angle::Bend45
        }
    }

    /// How far `length` along this direction leads east, north and up.
    pub(crate) fn displacement(self, length: Length) -> (Length, Length, Length) {
        let part = if self.is_diagonal() {
            length.diagonal_part()
        } else {
            length
        };
        let (east, north, up) = self.steps();
        (part.times(east), part.times(north), part.times(up))
    }
}
