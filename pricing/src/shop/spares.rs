//! How many spares are bought, by rule.

use serde::Deserialize;

/// The rules, one for each kind of part; a part without one gets no spare.
#[derive(Debug, Clone)]
pub struct Spares {
    rules: Vec<Rule>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Rule {
    part: String,
    /// One spare for each so many, the last of them begun.
    one_per: u64,
    /// Never more of one line.
    at_most: u64,
    returnable: String,
    source: String,
}

/// The spares of one line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spare {
    /// How many.
    pub count: u64,
    /// Whether the store takes back what was not needed.
    pub returnable: bool,
}

impl Spare {
    /// No spare.
    pub const NONE: Self = Self {
        count: 0,
        returnable: false,
    };
}

impl Spares {
    /// Reads the shipped rules.
    ///
    /// # Errors
    /// What is wrong with the file; the crate's tests hold that nothing is.
    pub fn shipped() -> Result<Self, String> {
        Self::read(include_str!("../../data/spares.csv"))
    }

    fn read(text: &str) -> Result<Self, String> {
        let rules: Vec<Rule> = csv::Reader::from_reader(text.as_bytes())
            .deserialize()
            .collect::<Result<_, _>>()
            .map_err(|error| format!("spares.csv: {error}"))?;
        for rule in &rules {
            if rule.one_per == 0 || rule.source.trim().is_empty() {
                return Err(format!(
                    "spares.csv: {} needs one_per and a source",
                    rule.part
                ));
            }
        }
        Ok(Self { rules })
    }

    /// The spares for so many of a part.
    #[must_use]
    pub fn of(&self, part: &str, quantity: u64) -> Spare {
        let Some(rule) = self.rules.iter().find(|rule| rule.part == part) else {
            return Spare::NONE;
        };
        let count = quantity.div_ceil(rule.one_per).min(rule.at_most);
        Spare {
            count,
            returnable: count > 0 && rule.returnable == "yes",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Spare, Spares};
    use bom::library::Library;

    #[test]
    fn every_part_has_its_rule_and_every_rule_its_part() {
        let spares = Spares::shipped().unwrap();
        let library = Library::shipped().unwrap();
        let ruled: Vec<&str> = spares.rules.iter().map(|rule| rule.part.as_str()).collect();
        let parts: Vec<&str> = library.parts().iter().map(|p| p.name.as_str()).collect();
        assert_eq!(ruled, parts);
    }

    #[test]
    fn cheap_parts_get_spares_and_dear_ones_none() {
        let spares = Spares::shipped().unwrap();
        for (part, quantity, count, returnable) in [
            ("elbow-90", 0, 0, false),
            ("elbow-90", 1, 1, true),
            ("elbow-90", 10, 1, true),
            ("elbow-90", 11, 2, true),
            ("elbow-90", 900, 3, true),
            ("close-nipple", 40, 1, true),
            ("bushing", 2, 1, true),
            ("quick-coupler", 10, 1, true),
            ("thread-tape", 3, 1, false),
            // The count holds one spare plug already.
            ("coupler-plug", 11, 0, false),
            ("ball-valve", 10, 0, false),
            ("filter", 5, 0, false),
            ("regulator", 5, 0, false),
            ("connector-hose", 1, 0, false),
            ("unheard-of", 5, 0, false),
        ] {
            assert_eq!(
                spares.of(part, quantity),
                Spare { count, returnable },
                "{quantity} {part}"
            );
        }
    }

    #[test]
    fn a_rule_that_says_nothing_is_refused() {
        let head = "part,one_per,at_most,returnable,source\n";
        assert!(Spares::read(&format!("{head}tee,0,1,yes,x\n")).is_err());
        assert!(Spares::read(&format!("{head}tee,10,1,yes,\n")).is_err());
        assert!(Spares::read(&format!("{head}tee,ten,1,yes,x\n")).is_err());
    }
}
