//! Fittings: which one the pipes that meet at a place ask for, and what joins
//! two ends. One kind per file.

mod cap;
mod cross;
mod elbow;
mod in_line;
mod mating;
mod plug;
mod saddle;
mod swan_neck;
mod tee;

pub(crate) use mating::{End, Join, MadeJoint, Mating};

use crate::job::Direction;
use crate::library::{Gender, Library};
use crate::quantity::{Length, PartSize, Size};
use crate::system::System;
use std::collections::BTreeMap;

/// A kind of fitting.
#[derive(Debug)]
pub struct Kind {
    /// Its part in the catalog; none where nothing is needed.
    pub part: Option<&'static str>,
    /// Its size if the ways that leave a place ask for it.
    matches: fn(&[Way], &System) -> Option<PartSize>,
    /// From its centre to its end, by its largest port; none where pipe is
    /// measured to its own end.
    pub(crate) reach: Option<fn(&System, Size) -> Option<Length>>,
    /// Whether a straight part of the largest size, with bushings in its
    /// ports, does the same.
    bushes: bool,
}

/// A fitting that stands somewhere.
#[derive(Debug, Clone, Copy)]
pub struct Fitting {
    /// Its kind.
    pub kind: &'static Kind,
    /// Its size.
    pub size: PartSize,
    /// Index of its system.
    pub system: usize,
}

/// Why no fitting stands somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoFitting {
    /// Nothing joins ways like these.
    NoSuch,
    /// This system does not make it.
    NotMade {
        part: &'static str,
        size: PartSize,
        system: usize,
    },
}

/// A way in which pipe leaves a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Way {
    pub(crate) direction: Direction,
    pub(crate) size: Size,
    /// The system of its pipe.
    pub(crate) system: usize,
    /// Whether it is part of the main.
    pub(crate) main: bool,
}

/// Every kind. Of two that fit a set of ways the first is taken.
pub(crate) static KINDS: [&Kind; 9] = [
    &cap::CAP,
    &cross::CROSS,
    &elbow::ELBOW_45,
    &elbow::ELBOW_90,
    &in_line::PLAIN,
    &in_line::REDUCER,
    &saddle::SADDLE,
    &swan_neck::SWAN_NECK,
    &tee::TEE,
];

impl Fitting {
    /// What closes the port of a fitting for this way: a plug, or a cap on a short piece
    /// of tube.
    pub(crate) fn closing(way: Way, library: &Library) -> Result<Self, NoFitting> {
        match library.systems()[way.system].is_threaded() {
            true => Ok(Self {
                kind: &plug::PLUG,
                size: PartSize::one(way.size),
                system: way.system,
            }),
            false => Self::joining(&[way], library),
        }
    }

    /// The same where pipe of one state ends and pipe of another begins: what runs
    /// straight on is joined there.
    pub(crate) fn with_joint(self) -> Self {
        match self.is_plain() {
            true => Self {
                kind: &in_line::CHANGE,
                size: self.size.largest().map_or(self.size, PartSize::one),
                ..self
            },
            false => self,
        }
    }

    /// The fitting that joins these ways. It is of the system that most of
    /// them are of, and of equally many that of the first.
    pub(crate) fn joining(ways: &[Way], library: &Library) -> Result<Self, NoFitting> {
        let Some(system) = home(ways) else {
            return Err(NoFitting::NoSuch);
        };
        if let [a, b] = ways
            && a.system != b.system
            && in_line::are(a, b)
        {
            return Ok(Self {
                kind: &in_line::CHANGE,
                size: PartSize::one(library.size_in(system, a.system, a.size)),
                system,
            });
        }
        let own = &library.systems()[system];
        let ways: Vec<Way> = ways
            .iter()
            .map(|way| Way {
                size: library.size_in(system, way.system, way.size),
                system,
                ..*way
            })
            .collect();
        let (kind, size) = KINDS
            .iter()
            .find_map(|kind| (kind.matches)(&ways, own).map(|size| (*kind, size)))
            .ok_or(NoFitting::NoSuch)?;
        let straight = size.largest().map(PartSize::one);
        let size = match (kind.part, straight) {
            (Some(part), Some(straight)) if !own.makes(part, size) => {
                if !kind.bushes || !own.makes(part, straight) {
                    return Err(NoFitting::NotMade { part, size, system });
                }
                straight
            }
            _ => size,
        };
        Ok(Self { kind, size, system })
    }

    /// The size of its port for a pipe of `pipe`: that of the pipe where the
    /// fitting is made so, else its largest.
    pub(crate) fn port(&self, pipe: Size) -> Size {
        if self.size.has_port(pipe) {
            return pipe;
        }
        self.size.largest().unwrap_or(pipe)
    }

    /// From its centre to the end of its ports.
    pub(crate) fn reach(&self, library: &Library) -> Option<Length> {
        let reach = self.kind.reach?;
        reach(&library.systems()[self.system], self.size.largest()?)
    }

    /// The gender of its port for a link: an end of tube where it goes into
    /// another fitting, else a socket.
    pub(crate) fn gender(&self, into_fitting: bool) -> Gender {
        let is_plug = std::ptr::eq(self.kind, &plug::PLUG);
        if into_fitting && (self.is_swan_neck() || is_plug) {
            Gender::Male
        } else {
            Gender::Female
        }
    }

    /// Whether the pipe of two systems meets here end to end.
    #[must_use]
    pub fn is_change(&self) -> bool {
        std::ptr::eq(self.kind, &in_line::CHANGE)
    }

    /// Whether it is clamped on a main that runs on uncut.
    #[must_use]
    pub fn is_saddle(&self) -> bool {
        std::ptr::eq(self.kind, &saddle::SADDLE)
    }

    /// Whether it is the bend between a saddle and its drop.
    #[must_use]
    pub fn is_swan_neck(&self) -> bool {
        std::ptr::eq(self.kind, &swan_neck::SWAN_NECK)
    }

    /// Whether pipe runs straight through without any part.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        std::ptr::eq(self.kind, &in_line::PLAIN)
    }
}

/// The system that most ways are of, and of equally many that of the first.
fn home(ways: &[Way]) -> Option<usize> {
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    for way in ways {
        *counts.entry(way.system).or_default() += 1;
    }
    let most = counts.values().max().copied()?;
    ways.iter()
        .map(|way| way.system)
        .find(|system| counts[system] == most)
}

#[cfg(test)]
mod tests {
    use super::{Fitting, KINDS, Way};
    use crate::job::Direction;
    use crate::library::Library;
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
                system: 0,
                main: true,
            })
            .collect();
        let library = Library::shipped().unwrap();
        let iron = &library.systems()[0];
        let matching = KINDS
            .iter()
            .filter(|kind| (kind.matches)(&ways, iron).is_some())
            .count();
        assert!(matching <= 1, "{ways:?} fit {matching} kinds");
        Fitting::joining(&ways, &library)
            .ok()
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
