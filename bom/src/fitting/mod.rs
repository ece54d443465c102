//! Fittings: which one the pipes that meet at a place ask for, and what joins
//! two ends. One kind per file.

mod cap;
mod cross;
mod elbow;
mod in_line;
mod mating;
mod tee;

pub(crate) use mating::{Join, Thread, close_loop, join, serviceable};

use crate::job::Direction;
use crate::quantity::{Length, PartSize, Size};
use crate::system::SizeRow;

/// A kind of fitting.
#[derive(Debug)]
pub struct Kind {
    /// Its part in the catalog; none where nothing is needed.
    pub part: Option<&'static str>,
    /// Its size if the ways that leave a place ask for it.
    matches: fn(&[Way]) -> Option<PartSize>,
    /// From its centre to its end, in the row of its largest port; none where
    /// pipe is measured to its own end.
    pub(crate) reach: Option<fn(&SizeRow) -> Length>,
}

/// A fitting that stands somewhere.
#[derive(Debug, Clone, Copy)]
pub struct Fitting {
    /// Its kind.
    pub kind: &'static Kind,
    /// Its size.
    pub size: PartSize,
}

/// A way in which pipe leaves a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Way {
    pub(crate) direction: Direction,
    pub(crate) size: Size,
}

/// Every kind. At most one of them fits any set of ways.
static KINDS: [&Kind; 7] = [
    &cap::CAP,
    &cross::CROSS,
    &elbow::ELBOW_45,
    &elbow::ELBOW_90,
    &in_line::PLAIN,
    &in_line::REDUCER,
    &tee::TEE,
];

impl Fitting {
    /// The fitting that joins these ways, if there is one.
    pub(crate) fn joining(ways: &[Way]) -> Option<Self> {
        KINDS
            .iter()
            .find_map(|kind| (kind.matches)(ways).map(|size| Self { kind, size }))
    }

    /// The size of its port for a pipe of `pipe`: that of the pipe where the
    /// fitting is made so, else its largest.
    pub(crate) fn port(&self, pipe: Size) -> Size {
        if self.size.has_port(pipe) {
            return pipe;
        }
        self.size.largest().unwrap_or(pipe)
    }

    /// Whether pipe runs straight through without any part.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.kind.part.is_none()
    }
}

#[cfg(test)]
mod tests {
    use super::{Fitting, KINDS, Way};
    use crate::job::Direction;
    use crate::quantity::Size;

    const INCH: Size = Size::Nominal(8);
    const HALF: Size = Size::Nominal(4);

    /// The part (empty for none) and size that join these ways.
    fn fitting(ways: &[(Direction, Size)]) -> Option<String> {
        let ways: Vec<Way> = ways
            .iter()
            .map(|(direction, size)| Way {
                direction: *direction,
                size: *size,
            })
            .collect();
        let matching = KINDS
            .iter()
            .filter(|kind| (kind.matches)(&ways).is_some())
            .count();
        assert!(matching <= 1, "{ways:?} fit {matching} kinds");
        Fitting::joining(&ways)
            .map(|fitting| format!("{} {}", fitting.kind.part.unwrap_or("-"), fitting.size))
    }

    #[test]
    fn directions_and_sizes_decide_the_fitting() {
        type Case<'a> = (&'a [(Direction, Size)], Option<&'a str>);
        use Direction::{Down, East, North, Northeast, Up, West};
        let cases: [Case<'_>; 11] = [
            (&[(East, INCH)], Some("cap 1in")),
            (&[(East, INCH), (West, INCH)], Some("- 1in")),
            (&[(East, INCH), (West, HALF)], Some("reducer 1in x 1/2in")),
            (&[(East, INCH), (Up, INCH)], Some("elbow-90 1in")),
            (&[(East, HALF), (Up, INCH)], Some("elbow-90 1in x 1/2in")),
            (&[(West, INCH), (Northeast, INCH)], Some("elbow-45 1in")),
            (
                &[(East, INCH), (West, INCH), (Up, HALF)],
                Some("tee 1in x 1in x 1/2in"),
            ),
            (
                &[(Up, HALF), (Down, INCH), (West, INCH)],
                Some("tee 1in x 1/2in x 1in"),
            ),
            (
                &[(East, INCH), (West, INCH), (Up, HALF), (Down, HALF)],
                Some("cross 1in"),
            ),
            (&[(East, INCH), (North, INCH), (Up, INCH)], None),
            (&[(East, INCH), (Northeast, INCH)], None),
        ];
        for (ways, wanted) in cases {
            assert_eq!(fitting(ways).as_deref(), wanted, "{ways:?}");
        }
    }
}
