//! What joins two threaded ends. Nipples, bushings and couplings come from
//! here and from nowhere else.

use crate::library::Gender;
use crate::quantity::{PartSize, Size};
use crate::system::System;

/// A threaded end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Thread {
    pub(crate) gender: Gender,
    pub(crate) size: Size,
}

impl Thread {
    pub(crate) const fn male(size: Size) -> Self {
        Self {
            gender: Gender::Male,
            size,
        }
    }

    pub(crate) const fn female(size: Size) -> Self {
        Self {
            gender: Gender::Female,
            size,
        }
    }
}

/// The parts between two ends, and the joints that they make up.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Join {
    pub(crate) parts: Vec<(&'static str, PartSize)>,
    pub(crate) joints: Vec<Size>,
}

impl Join {
    fn part(mut self, part: &'static str, size: PartSize) -> Self {
        self.parts.push((part, size));
        self
    }

    fn joints(mut self, sizes: &[Size]) -> Self {
        self.joints.extend_from_slice(sizes);
        self
    }
}

/// What joins `a` and `b`; none if the system has no bushing for the step.
pub(crate) fn join(a: Thread, b: Thread, system: &System) -> Option<Join> {
    let join = Join::default();
    Some(match (a.gender, b.gender) {
        (Gender::Female, Gender::Female) => {
            let (large, small) = (a.size.max(b.size), a.size.min(b.size));
            step_down(join, large, small, system)?
                .part("close-nipple", PartSize::one(small))
                .joints(&[small, small])
        }
        (Gender::Female, Gender::Male) => into_female(a.size, b.size, system)?,
        (Gender::Male, Gender::Female) => into_female(b.size, a.size, system)?,
        (Gender::Male, Gender::Male) if a.size == b.size => join
            .part("coupling", PartSize::one(a.size))
            .joints(&[a.size, a.size]),
        (Gender::Male, Gender::Male) => join
            .part("reducer", PartSize::two(a.size, b.size))
            .joints(&[a.size, b.size]),
    })
}

/// What joins `from` to the end of a pipe where neither can be turned: a union
/// of the pipe's size.
pub(crate) fn close_loop(from: Thread, pipe: Size, system: &System) -> Option<Join> {
    let to_union = join(from, Thread::female(pipe), system)?;
    Some(to_union.part("union", PartSize::one(pipe)).joints(&[pipe]))
}

/// What joins `from` to the female end of a set that comes out in one piece:
/// a union of the set's size, with what leads to it on both sides.
pub(crate) fn serviceable(from: Thread, set: Thread, system: &System) -> Option<Join> {
    let mut whole = close_loop(from, set.size, system)?;
    // The union's far end is female where `close_loop` has the pipe's male end.
    whole.joints.pop();
    let on = join(Thread::female(set.size), set, system)?;
    whole.parts.extend(on.parts);
    whole.joints.extend(on.joints);
    Some(whole)
}

fn into_female(female: Size, male: Size, system: &System) -> Option<Join> {
    let join = Join::default();
    if male > female {
        return Some(
            join.part("reducer", PartSize::two(male, female))
                .part("close-nipple", PartSize::one(female))
                .joints(&[male, female, female]),
        );
    }
    Some(step_down(join, female, male, system)?.joints(&[male]))
}

/// Bushings from a female end of `large` to a female end of `small`.
fn step_down(mut join: Join, large: Size, small: Size, system: &System) -> Option<Join> {
    for (outside, inside) in system.bushings(large, small)? {
        join = join
            .part("bushing", PartSize::two(outside, inside))
            .joints(&[outside]);
    }
    Some(join)
}

#[cfg(test)]
mod tests {
    use super::{Thread, close_loop, join};
    use crate::library::Library;
    use crate::quantity::Size;

    /// The parts and the joints, as a fitter would say them.
    fn said(a: &str, b: &str) -> String {
        let library = Library::shipped().unwrap();
        let end = |text: &str| {
            let (gender, size) = text.split_once(' ').unwrap();
            let size = Size::parse(size).unwrap();
            match gender {
                "F" => Thread::female(size),
                _ => Thread::male(size),
            }
        };
        let join = join(end(a), end(b), &library.systems()[0]);
        join.map_or_else(
            || "nothing".to_owned(),
            |join| {
                let parts: Vec<String> = join
                    .parts
                    .iter()
                    .map(|(part, size)| format!("{part} {size}"))
                    .collect();
                format!("{}; {} joints", parts.join(", "), join.joints.len())
            },
        )
    }

    #[test]
    fn the_mating_table() {
        let cases = [
            ("F 3/4in", "F 3/4in", "close-nipple 3/4in; 2 joints"),
            (
                "F 3/4in",
                "F 1/2in",
                "bushing 3/4in x 1/2in, close-nipple 1/2in; 3 joints",
            ),
            ("F 3/4in", "M 3/4in", "; 1 joints"),
            ("F 3/4in", "M 1/4in", "bushing 3/4in x 1/4in; 2 joints"),
            (
                "M 3/4in",
                "F 1/2in",
                "reducer 3/4in x 1/2in, close-nipple 1/2in; 3 joints",
            ),
            ("M 3/4in", "M 3/4in", "coupling 3/4in; 2 joints"),
            ("M 1in", "M 3/4in", "reducer 1in x 3/4in; 2 joints"),
            (
                "F 2in",
                "M 1/4in",
                "bushing 2in x 1/2in, bushing 1/2in x 1/4in; 3 joints",
            ),
        ];
        for (a, b, wanted) in cases {
            assert_eq!(said(a, b), wanted, "{a} to {b}");
            assert_eq!(said(b, a), wanted, "{b} to {a}");
        }
    }

    #[test]
    fn a_hose_that_meets_pipe_gets_a_union() {
        let library = Library::shipped().unwrap();
        let size = |text| Size::parse(text).unwrap();
        let parts = |hose, pipe| {
            close_loop(Thread::male(size(hose)), size(pipe), &library.systems()[0])
                .unwrap()
                .parts
                .iter()
                .map(|(part, size)| format!("{part} {size}"))
                .collect::<Vec<_>>()
                .join(", ")
        };
        assert_eq!(parts("1in", "1in"), "union 1in");
        assert_eq!(
            parts("1in", "3/4in"),
            "reducer 1in x 3/4in, close-nipple 3/4in, union 3/4in"
        );
    }
}
