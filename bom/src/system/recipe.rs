//! What may stand in for a part.

use super::System;
use crate::quantity::{PartSize, Size};

/// A way to make a part of others.
#[derive(Debug, Clone)]
pub(super) struct Recipe {
    pub(super) part: String,
    pub(super) reducing: bool,
    pub(super) gives: Vec<String>,
}

impl System {
    /// The ways to make a part of others, each as the parts that it takes.
    #[must_use]
    pub fn stand_ins(&self, part: &str, size: PartSize) -> Vec<Vec<(String, PartSize)>> {
        let Some(largest) = size.largest() else {
            return Vec::new();
        };
        let reducing = size.ports().count() > 1;
        self.recipes
            .iter()
            .filter(|recipe| recipe.part == part && recipe.reducing == reducing)
            .flat_map(|recipe| self.made(recipe, size, largest))
            .collect()
    }

    fn made(&self, recipe: &Recipe, size: PartSize, largest: Size) -> Vec<Way> {
        let mut ways = vec![Way::new()];
        for give in &recipe.gives {
            let choices: Vec<Way> = match give.as_str() {
                "bushings" => self.bushings_to_ports(size, largest).into_iter().collect(),
                "steps" => self.two_steps(size, largest),
                part => vec![vec![(part.to_owned(), PartSize::one(largest))]],
            };
            ways = ways
                .iter()
                .flat_map(|way| {
                    choices
                        .iter()
                        .map(move |choice| [&way[..], choice].concat())
                })
                .collect();
        }
        ways
    }

    /// Bushings from the largest port to each smaller one.
    fn bushings_to_ports(&self, size: PartSize, largest: Size) -> Option<Way> {
        let mut way = Way::new();
        for port in size.ports().filter(|port| *port < largest) {
            way.extend(self.bushings(largest, port)?.into_iter().map(bushing));
        }
        Some(way)
    }

    /// Every two bushings that do what one does.
    fn two_steps(&self, size: PartSize, outside: Size) -> Vec<Way> {
        let Some(inside) = size.ports().min() else {
            return Vec::new();
        };
        let middles = self.bushings.get(&outside).into_iter().flatten();
        middles
            .filter(|middle| {
                **middle > inside
                    && self
                        .bushings
                        .get(middle)
                        .is_some_and(|on| on.contains(&inside))
            })
            .map(|middle| vec![bushing((outside, *middle)), bushing((*middle, inside))])
            .collect()
    }
}

/// The parts of one way to make another part.
type Way = Vec<(String, PartSize)>;

fn bushing((outside, inside): (Size, Size)) -> (String, PartSize) {
    ("bushing".to_owned(), PartSize::two(outside, inside))
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::quantity::PartSize;

    fn said(part: &str, size: &str) -> Vec<String> {
        let library = Library::shipped().unwrap();
        let size = PartSize::parse(size, false).unwrap();
        library.systems()[0]
            .stand_ins(part, size)
            .into_iter()
            .map(|parts| {
                let parts: Vec<String> = parts
                    .iter()
                    .map(|(part, size)| format!("{part} {size}"))
                    .collect();
                parts.join(" + ")
            })
            .collect()
    }

    #[test]
    fn parts_are_made_of_others() {
        let cases = [
            ("tee", "1in x 1in x 3/4in", "tee 1in + bushing 1in x 3/4in"),
            (
                "tee",
                "1in x 3/4in x 1/2in",
                "tee 1in + bushing 1in x 3/4in + bushing 1in x 1/2in",
            ),
            (
                "elbow-90",
                "3/4in x 1/2in",
                "elbow-90 3/4in + bushing 3/4in x 1/2in",
            ),
            (
                "elbow-90",
                "1in",
                "elbow-45 1in + close-nipple 1in + elbow-45 1in",
            ),
            (
                "cross",
                "3/4in",
                "tee 3/4in + close-nipple 3/4in + tee 3/4in",
            ),
            (
                "reducer",
                "3/4in x 1/2in",
                "coupling 3/4in + bushing 3/4in x 1/2in",
            ),
        ];
        for (part, size, wanted) in cases {
            assert_eq!(said(part, size), [wanted], "{part} {size}");
        }
        assert_eq!(
            said("bushing", "3/4in x 1/4in"),
            [
                "bushing 3/4in x 1/2in + bushing 1/2in x 1/4in",
                "bushing 3/4in x 3/8in + bushing 3/8in x 1/4in"
            ]
        );
        assert!(said("tee", "1in").is_empty());
        assert!(said("union", "1in").is_empty());
        assert!(said("bushing", "1/2in x 3/8in").is_empty());
    }
}
