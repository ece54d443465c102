//! How much the pipe grows by heat.

use super::{Network, NodeId};
use crate::library::Library;
use crate::quantity::Length;

/// Main in one line, from turn to turn.
#[derive(Debug, Clone, Copy)]
pub struct Straight {
    /// A place on it.
    pub at: NodeId,
    /// Its length.
    pub length: Length,
    /// By how much it grows where it gets 100 F (56 K) warmer.
    pub growth: Length,
}

impl Network {
    /// The straight of the main that grows most: its length, and by how much
    /// it grows where it gets 100 F (56 K) warmer.
    #[must_use]
    pub fn growth(&self, library: &Library) -> Option<(Length, Length)> {
        let straights = self.straights(library).into_iter();
        let most = straights.reduce(|most, one| if one.growth > most.growth { one } else { most });
        most.map(|straight| (straight.length, straight.growth))
    }

    /// Every straight of the main, from turn to turn, in walking order.
    #[must_use]
    pub fn straights(&self, library: &Library) -> Vec<Straight> {
        let mut seen = vec![false; self.link_count()];
        let mut straights = Vec::new();
        for (id, from, to, link) in self.links() {
            let (true, Some(length)) = (link.is_main(), link.pipe) else {
                continue;
            };
            if std::mem::replace(&mut seen[id.index()], true) {
                continue;
            }
            let mut whole = (length, by_heat(library, link.system, length));
            for (at, onward) in [(from, link.direction.opposite()), (to, link.direction)] {
                self.follow_main(library, &mut seen, (at, onward), &mut whole);
            }
            straights.push(Straight {
                at: to,
                length: whole.0,
                growth: whole.1,
            });
        }
        straights
    }

    /// Adds what of the main goes on in line from a place, whatever its size.
    fn follow_main(
        &self,
        library: &Library,
        seen: &mut [bool],
        (mut at, onward): (NodeId, crate::job::Direction),
        whole: &mut (Length, Length),
    ) {
        let next = |at: NodeId, seen: &[bool]| {
            self.ends(at).find(|end| {
                end.direction == onward && self.link(end.link).is_main() && !seen[end.link.index()]
            })
        };
        while let Some(end) = next(at, seen) {
            seen[end.link.index()] = true;
            let link = self.link(end.link);
            let length = link.pipe.unwrap_or_default();
            whole.0 += length;
            whole.1 += by_heat(library, link.system, length);
            at = end.far;
        }
    }
}

/// By how much a length of a system's pipe grows over 100 F.
fn by_heat(library: &Library, system: usize, length: Length) -> Length {
    let per_million = library.systems()[system].growth_per_million_per_f.value;
    // Hundredths of a millionth are exact enough: the data has tenths.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a coefficient is a few dozen millionths"
    )]
    let hundredths = (per_million * 100.0).round() as i64;
    length.scaled(hundredths, 1_000_000)
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::quantity::Length;
    use crate::source::Source;

    // Carbon steel grows 0.78 in on 100 ft over 100 F: 0.3744 in on 48 ft.
    // Copper 1.116 in, aluminium 1.536 in (public reference table of linear
    // expansion).
    #[test]
    fn the_longest_wall_grows_by_the_table() {
        let library = Library::shipped().unwrap();
        let job = Source::new("job", include_str!("../../../catalogs-demo/millrace.toml"));
        for (name, per_100_ft) in [
            ("black-iron", 0.78),
            ("copper-l-soldered", 1.116),
            ("aluminium-push-fit", 1.536),
        ] {
            let mut systems = library.systems().iter();
            let system = systems.position(|system| system.name == name).unwrap();
            let network = crate::plan_by(&job, &library, Some(system), None)
                .0
                .unwrap()
                .network;
            let (straight, growth) = network.growth(&library).unwrap();
            assert_eq!(straight, Length::from_feet(48));
            let wanted = per_100_ft * 0.48 * 25.4;
            assert!(
                (growth.mm() - wanted).abs() < 1e-5,
                "{name}: {}",
                growth.mm()
            );
        }
    }
}
