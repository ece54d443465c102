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
            .filter_map(|recipe| self.made(recipe, size, largest))
            .collect()
    }

    fn made(
        &self,
        recipe: &Recipe,
        size: PartSize,
        largest: Size,
    ) -> Option<Vec<(String, PartSize)>> {
        let bushing = |(outside, inside)| ("bushing".to_owned(), PartSize::two(outside, inside));
        let mut parts = Vec::new();
        for give in &recipe.gives {
            match give.as_str() {
                "bushings" => {
                    for port in size.ports().filter(|port| *port < largest) {
                        parts.extend(self.bushings(largest, port)?.into_iter().map(bushing));
                    }
                }
                "steps" => {
                    let smallest = size.ports().min()?;
                    let steps = self.steps_between(largest, smallest)?;
                    parts.extend(steps.into_iter().map(bushing));
                }
                part => parts.push((part.to_owned(), PartSize::one(largest))),
            }
        }
        Some(parts)
    }

    /// Two bushings that do what one does: the largest first step that leaves
    /// a second.
    fn steps_between(&self, outside: Size, inside: Size) -> Option<Vec<(Size, Size)>> {
        let middle = self
            .bushings
            .get(&outside)?
            .iter()
            .copied()
            .filter(|middle| *middle > inside)
            .filter(|middle| {
                self.bushings
                    .get(middle)
                    .is_some_and(|on| on.contains(&inside))
            })
            .min()?;
        Some(vec![(outside, middle), (middle, inside)])
    }
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
            (
                "bushing",
                "3/4in x 1/4in",
                "bushing 3/4in x 3/8in + bushing 3/8in x 1/4in",
            ),
        ];
        for (part, size, wanted) in cases {
            assert_eq!(said(part, size), [wanted], "{part} {size}");
        }
        assert!(said("tee", "1in").is_empty());
        assert!(said("union", "1in").is_empty());
        assert!(said("bushing", "1/2in x 3/8in").is_empty());
    }
}
