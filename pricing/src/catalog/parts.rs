use bom::finding::did_you_mean;
use bom::library::Part;
use std::collections::BTreeMap;

/// The parts that a row may name, by their names.
pub(super) struct Parts<'a> {
    by_name: BTreeMap<&'a str, &'a Part>,
    in_order: &'a [Part],
}

impl<'a> Parts<'a> {
    pub(super) fn new(parts: &'a [Part]) -> Self {
        let by_name = parts.iter().map(|part| (part.name.as_str(), part));
        Self {
            by_name: by_name.collect(),
            in_order: parts,
        }
    }

    /// The part of this name, which may be written with blanks and capitals:
    /// `Ball valve`.
    pub(super) fn named(&self, written: &str) -> Option<&'a Part> {
        let exact = self.by_name.get(written);
        exact
            .or_else(|| self.by_name.get(hyphened(written).as_str()))
            .copied()
    }

    /// The name that a mistyped one probably means.
    pub(super) fn near(&self, written: &str) -> Option<&'a str> {
        let names = self.in_order.iter().map(|part| part.name.as_str());
        did_you_mean(&hyphened(written), names)
    }

    /// All names.
    pub(super) fn list(&self) -> String {
        let names: Vec<&str> = self
            .in_order
            .iter()
            .map(|part| part.name.as_str())
            .collect();
        names.join(", ")
    }
}

/// `Ball valve` as `ball-valve`.
fn hyphened(written: &str) -> String {
    let words = written.split(|c: char| c.is_whitespace() || c == '-' || c == '_');
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    words.join("-").to_lowercase()
}
