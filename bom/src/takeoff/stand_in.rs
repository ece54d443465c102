//! Parts made of others, where the price list lacks them.

use super::tally::line_of;
use super::{Because, JointCount, PartKey, PartLine, Seat, Takeoff, Why};
use crate::library::{Gender, Library, PartEnd};
use crate::network::Network;
use crate::quantity::{PartSize, Size};
use crate::system::Joint;
use std::collections::BTreeMap;

impl Takeoff {
    /// The same count with every part of one line made of `parts` instead:
    /// their joints are counted, what was done is an assumption, and all
    /// proofs are taken again. None if the line is not there or a proof fails.
    #[must_use]
    pub fn with_stand_in(
        &self,
        network: &Network,
        library: &Library,
        key: &PartKey,
        parts: &[(String, PartSize)],
    ) -> Option<Self> {
        let mut changed = self.clone();
        let at = changed.lines.iter().position(|line| line.key == *key)?;
        let replaced = changed.lines.remove(at);
        let system = library
            .systems()
            .iter()
            .position(|system| system.name == key.system)?;
        let mut joints: BTreeMap<(Joint, Size), i64> = BTreeMap::new();
        count_males(library, key, -1, &mut joints);
        for (number, (part, size)) in parts.iter().enumerate() {
            let because = replaced.because.iter().map(|because| Because {
                at: because.at,
                // The first of the parts stands for the one that it replaces.
                why: if number == 0 {
                    because.why
                } else {
                    Why::StandsIn
                },
            });
            let line = line_of(library, system, part, *size, because.collect())?;
            count_males(library, &line.key, 1, &mut joints);
            add(&mut changed.lines, line);
        }
        let places: Vec<Seat> = replaced.because.iter().map(|because| because.at).collect();
        for ((joint, size), more) in &joints {
            let joints = joints_of(&mut changed.joints, &key.system, *joint, *size);
            for place in &places {
                add_joints(joints, *place, *more)?;
            }
        }
        sort(library, &mut changed.lines);
        changed
            .joints
            .sort_by_key(|joints| (joints.joint, std::cmp::Reverse(joints.size)));
        changed
            .assumptions
            .push(sentence(&replaced, parts, joints.values().sum()));
        changed.prove(network, library);
        let holds = changed.proofs.iter().all(|proof| proof.failure.is_none());
        holds.then_some(changed)
    }
}

/// Every male end is a joint, so the difference of male ends is the joints
/// that a stand-in adds.
fn count_males(
    library: &Library,
    key: &PartKey,
    sign: i64,
    joints: &mut BTreeMap<(Joint, Size), i64>,
) {
    let part = library.parts().iter().find(|part| part.name == key.part);
    let own = library
        .systems()
        .iter()
        .find(|system| system.name == key.system);
    for (number, end) in part.iter().flat_map(|part| part.ends.iter().enumerate()) {
        let joint = match end {
            Some(PartEnd::Own(Gender::Male)) => own.map_or(Joint::Threaded, |own| own.joint),
            Some(PartEnd::Thread(Gender::Male)) => Joint::Threaded,
            _ => continue,
        };
        if let Some(size) = key.size.port(number) {
            *joints.entry((joint, size)).or_default() += sign;
        }
    }
}

fn add(lines: &mut Vec<PartLine>, line: PartLine) {
    match lines.iter_mut().find(|known| known.key == line.key) {
        Some(known) => {
            known.quantity += line.quantity;
            known.because.extend(line.because);
            known.because.sort_unstable();
        }
        None => lines.push(line),
    }
}

/// The joints of a kind, of which there may be none yet.
fn joints_of<'a>(
    joints: &'a mut Vec<JointCount>,
    system: &str,
    joint: Joint,
    size: Size,
) -> &'a mut JointCount {
    let known =
        |known: &JointCount| known.size == size && known.joint == joint && known.system == system;
    let at = match joints.iter().position(known) {
        Some(at) => at,
        None => {
            joints.push(JointCount {
                system: system.to_owned(),
                joint,
                size,
                count: 0,
                places: Vec::new(),
            });
            joints.len() - 1
        }
    };
    &mut joints[at]
}

/// So many more joints at a place, or fewer.
fn add_joints(joints: &mut JointCount, at: Seat, more: i64) -> Option<()> {
    joints.count = joints.count.checked_add_signed(more)?;
    for _ in 0..more {
        joints.places.push(at);
    }
    for _ in more..0 {
        let place = joints.places.iter().position(|place| *place == at);
        joints.places.remove(place.unwrap_or(0));
    }
    Some(())
}

fn sort(library: &Library, lines: &mut [PartLine]) {
    let place = |line: &PartLine| {
        library
            .parts()
            .iter()
            .position(|part| part.name == line.key.part)
    };
    lines.sort_by_key(|line| (place(line), line.key.size));
}

fn sentence(replaced: &PartLine, parts: &[(String, PartSize)], joints: i64) -> String {
    let parts: Vec<String> = parts
        .iter()
        .map(|(part, size)| format!("{part} {size}"))
        .collect();
    let joints = match joints {
        1 => "1 more joint".to_owned(),
        joints => format!("{joints} more joints"),
    };
    let each = match replaced.quantity {
        1 => "it is".to_owned(),
        count => format!("each of the {count} is"),
    };
    format!(
        "The price list lacks {} {}: {each} made of {}, with {joints}.",
        replaced.words,
        replaced.key.size,
        parts.join(" + ")
    )
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::quantity::{PartSize, Size};
    use crate::source::Source;
    use crate::takeoff::{PartKey, Takeoff};

    fn key(part: &str, size: &str) -> PartKey {
        PartKey {
            part: part.to_owned(),
            system: "black-iron".to_owned(),
            size: PartSize::parse(size, false).unwrap(),
        }
    }

    fn quantity(takeoff: &Takeoff, part: &str, size: &str) -> u64 {
        let key = key(part, size);
        let line = takeoff.lines.iter().find(|line| line.key == key);
        line.map_or(0, |line| line.quantity)
    }

    fn joints(takeoff: &Takeoff, size: &str) -> u64 {
        let size = Size::parse(size).unwrap();
        let joints = takeoff.joints.iter().find(|joints| joints.size == size);
        joints.map_or(0, |joints| joints.count)
    }

    // Millrace has 4 crosses, 10 tees and 11 close nipples of 3/4 in, and 112
    // joints. Two tees and a nipple for a cross: 4 x 2 tees, 4 nipples, 4 x 2
    // joints more.
    #[test]
    fn a_cross_becomes_two_tees_and_a_nipple() {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../../catalogs-demo/millrace.toml");
        let plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
        let cross = key("cross", "3/4in");
        let way = &library.systems()[0].stand_ins("cross", cross.size)[0];
        let before = &plan.takeoff;
        let after = before
            .with_stand_in(&plan.network, &library, &cross, way)
            .unwrap();
        assert_eq!(quantity(before, "cross", "3/4in"), 4);
        assert_eq!(quantity(&after, "cross", "3/4in"), 0);
        assert_eq!(quantity(&after, "tee", "3/4in"), 10 + 8);
        assert_eq!(quantity(&after, "close-nipple", "3/4in"), 11 + 4);
        assert_eq!(joints(before, "3/4in"), 112);
        assert_eq!(joints(&after, "3/4in"), 112 + 8);
        assert_eq!(
            after.assumptions.last().unwrap(),
            "The price list lacks black iron cross female 3/4in: each of the 4 is made of tee 3/4in + close-nipple 3/4in + tee 3/4in, with 2 more joints."
        );
    }

    #[test]
    fn a_stand_in_that_does_not_balance_is_refused() {
        let library = Library::shipped().unwrap();
        let job = include_str!("../../../catalogs-demo/millrace.toml");
        let plan = crate::plan(&Source::new("job", job), &library).0.unwrap();
        let cross = key("cross", "3/4in");
        let tee = [("tee".to_owned(), cross.size)];
        let refused = plan
            .takeoff
            .with_stand_in(&plan.network, &library, &cross, &tee);
        assert!(refused.is_none());
    }
}
