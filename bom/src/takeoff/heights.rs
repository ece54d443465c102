//! How high above the floor the work is, for hours that grow with the height.

use super::{Group, Takeoff, supports};
use crate::job::State;
use crate::library::Library;
use crate::network::Network;
use crate::quantity::{Length, Size};

/// Where the places, the pipe and the supports of a count are.
#[derive(Debug, Clone, Default)]
pub struct Heights {
    /// Of every place, by its number in the network.
    pub places: Vec<Length>,
    /// Of every new hanger and bracket.
    pub supports: Vec<Length>,
    /// All new pipe, from place to place.
    pub pipe: Vec<Stretch>,
}

/// Pipe between two neighbouring places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    /// Its system: `black-iron`.
    pub system: String,
    /// Its size.
    pub size: Size,
    /// Its length, centre to centre.
    pub length: Length,
    /// How high its ends are.
    pub ends: [Length; 2],
}

/// What of a count stands above a height.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Above {
    /// For each of [`Takeoff::joints`], how many.
    pub joints: Vec<u64>,
    /// For each of [`Takeoff::pipe`], how much of its end-to-end length.
    pub pipe: Vec<Length>,
    /// For each of [`Takeoff::lines`], how many.
    pub lines: Vec<u64>,
    /// How many hangers and brackets.
    pub supports: u64,
}

impl Heights {
    pub(super) fn of(network: &Network, library: &Library) -> Self {
        let up = |node| network.node(node).at.up;
        let pipe = network.links().filter_map(|(id, from, to, link)| {
            (network.link_state(id) == State::New).then_some(())?;
            Some(Stretch {
                system: library.systems()[link.system].name.clone(),
                size: link.size,
                length: link.pipe?,
                ends: [up(from), up(to)],
            })
        });
        Self {
            places: network.nodes().map(|(_, node)| node.at.up).collect(),
            supports: supports::heights(network, library),
            pipe: pipe.collect(),
        }
    }
}

impl Stretch {
    /// How much of it is above a height: it runs evenly from one end to the other.
    fn above(&self, height: Length) -> Length {
        let [low, high] = match self.ends {
            [a, b] if a <= b => [a, b],
            [a, b] => [b, a],
        };
        if low >= height {
            // Level pipe at the height itself is not above it.
            return if high > height {
                self.length
            } else {
                Length::ZERO
            };
        }
        if high <= height {
            return Length::ZERO;
        }
        self.length.scaled((high - height).nm(), (high - low).nm())
    }
}

impl Takeoff {
    /// Whether any pipe stands above a height.
    #[must_use]
    pub fn reaches_above(&self, height: Length) -> bool {
        let mut ends = self.heights.pipe.iter().flat_map(|pipe| pipe.ends);
        ends.any(|end| end > height)
    }

    /// What of it stands above a height. Of pipe it is the share that the layout
    /// has above it, centre to centre.
    #[must_use]
    pub fn above(&self, height: Length) -> Above {
        let is_above = |place: usize| {
            let up = self.heights.places.get(place);
            up.is_some_and(|up| *up > height)
        };
        let many = |places: &mut dyn Iterator<Item = usize>| {
            places.filter(|place| is_above(*place)).count() as u64
        };
        let joints = self.joints.iter();
        let lines = self.lines.iter();
        let supports = self.heights.supports.iter();
        Above {
            joints: joints
                .map(|joints| many(&mut joints.places.iter().map(|seat| seat.place.index())))
                .collect(),
            pipe: self
                .pipe
                .iter()
                .map(|line| {
                    let own = || {
                        let pipe = self.heights.pipe.iter();
                        pipe.filter(|pipe| pipe.size == line.size && pipe.system == line.key.system)
                    };
                    let whole: Length = own().map(|pipe| pipe.length).sum();
                    let above: Length = own().map(|pipe| pipe.above(height)).sum();
                    if whole > Length::ZERO {
                        line.end_to_end.scaled(above.nm(), whole.nm())
                    } else {
                        Length::ZERO
                    }
                })
                .collect(),
            lines: lines
                .map(|line| match line.group {
                    // No reason says where along its straight a support stands.
                    Group::Supports => 0,
                    _ => many(&mut line.because.iter().map(|because| because.at.place.index())),
                })
                .collect(),
            supports: supports.filter(|up| **up > height).count() as u64,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::quantity::{Length, Units};
    use crate::source::Source;
    use crate::takeoff::{Above, Takeoff};

    fn counted(job: &str) -> Takeoff {
        let library = Library::shipped().unwrap();
        let plan = crate::plan(&Source::new("job", job), &library).0;
        plan.unwrap().takeoff
    }

    fn feet(text: &str) -> Length {
        Length::parse(text, Units::Feet).unwrap()
    }

    fn above(takeoff: &Takeoff, height: &str) -> Above {
        takeoff.above(feet(height))
    }

    /// Everything is above the ground, and nothing above the sky.
    #[test]
    fn the_whole_count_is_above_a_pit_and_nothing_above_the_sky() {
        let takeoff = counted(include_str!("../../../catalogs-demo/millrace.toml"));
        for joints in &takeoff.joints {
            assert_eq!(joints.places.len() as u64, joints.count, "{}", joints.size);
        }
        let all = takeoff.above(Length::from_feet(-1));
        let joints: Vec<u64> = takeoff.joints.iter().map(|joints| joints.count).collect();
        assert_eq!(all.joints, joints);
        let pipe: Vec<Length> = takeoff.pipe.iter().map(|pipe| pipe.end_to_end).collect();
        assert_eq!(all.pipe, pipe);
        let supports = takeoff.lines.iter();
        let supports = supports.filter(|line| line.group == crate::takeoff::Group::Supports);
        assert_eq!(
            all.supports,
            supports.map(|line| line.quantity).sum::<u64>()
        );
        let none = takeoff.above(Length::from_feet(100));
        assert!(
            none.joints
                .iter()
                .chain(&none.lines)
                .all(|count| *count == 0)
        );
        assert!(none.pipe.iter().all(|pipe| *pipe == Length::ZERO));
        // The bench's swan neck is 6 in above a main that has fallen 30 ft at
        // 1/8 in for each.
        assert!(takeoff.reaches_above(feet("11-2 3/16")));
        assert!(!takeoff.reaches_above(feet("11-2 1/4")));
    }

    // The tank's port is at 3'-6", the main level at 11'-0": of a riser of
    // 7'-6", 5'-0" are above 6'-0"; of the drop's 6'-0" down to the outlet at
    // 5'-0", 5'-0" are; and all 20 ft of the main, with its hangers.
    #[test]
    fn a_riser_counts_by_its_share() {
        let job = "\
[job]
title = \"t\"
[room.a]
size = \"30-0 x 20-0\"
[supply.c]
port = \"3/4in female\"
height = \"3-6\"
[main]
system = \"black-iron\"
size = \"3/4in\"
height = \"11-0\"
fall = \"level\"
[[leg]]
from = \"c\"
go = [\"up 7-6\", \"east 20-0\"]
marks = { end = \"20-0\" }
[drop.d]
take_off = \"bottom\"
foot = \"elbow\"
sides = [[\"valve\", \"coupler\"]]
drain = \"none\"
size = \"3/4in\"
[outlet.end]
drop = \"d\"
height = \"5-0\"
";
        let library = Library::shipped().unwrap();
        let (plan, findings) = crate::plan(&Source::new("job", job), &library);
        let takeoff = plan.unwrap_or_else(|| panic!("{findings:?}")).takeoff;
        let of = |height: &str| {
            let pipe: Length = takeoff
                .heights
                .pipe
                .iter()
                .map(|pipe| pipe.above(feet(height)))
                .sum();
            pipe.show(Units::Feet)
        };
        assert_eq!(of("11-0"), "0\"");
        assert_eq!(of("6-0"), "30'-0\"");
        let hangers = above(&takeoff, "10-0").supports;
        assert_eq!(hangers, above(&takeoff, "8-0").supports);
        assert!(hangers > 0 && hangers < above(&takeoff, "0-1").supports);
    }
}
