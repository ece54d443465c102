//! A system's rows, to be shown rather than walked.

use super::{SwanNeck, System};
use crate::quantity::{PartSize, Size};
use std::collections::BTreeMap;

/// Who says a row of the data file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowSource {
    /// The list that the row stands in: `fitting`.
    pub table: String,
    /// What the row is of: a size, a part, the words of a rating; empty where
    /// the list is a single row.
    pub row: String,
    /// Who says it.
    pub source: String,
}

impl System {
    /// Who says each row, list by list.
    #[must_use]
    pub fn sources(&self) -> &[RowSource] {
        &self.sources
    }

    /// Each size with the sizes that a bushing leads to from it.
    pub fn bushing_rows(&self) -> impl Iterator<Item = (Size, &[Size])> {
        let rows = self.bushings.iter();
        rows.map(|(outside, inside)| (*outside, inside.as_slice()))
    }

    /// Each size of tube with the male and the female threads that it has
    /// adapters for.
    pub fn adapter_rows(&self) -> impl Iterator<Item = (Size, &[Size], &[Size])> {
        let rows = self.adapters.iter();
        rows.map(|(tube, threads)| (*tube, threads.male.as_slice(), threads.female.as_slice()))
    }

    /// Each size of main with the branches that can be clamped on it.
    #[must_use]
    pub fn saddle_rows(&self) -> BTreeMap<Size, Vec<Size>> {
        let mut rows: BTreeMap<Size, Vec<Size>> = BTreeMap::new();
        for (main, branch) in &self.saddles {
            rows.entry(*main).or_default().push(*branch);
        }
        rows
    }

    /// The bends for drops, by size.
    pub fn swan_neck_rows(&self) -> impl Iterator<Item = (Size, SwanNeck)> {
        self.swan_necks.iter().map(|(size, neck)| (*size, *neck))
    }

    /// Each part that is made in listed reducing sizes only, with those.
    pub fn reducing_rows(&self) -> impl Iterator<Item = (&str, impl Iterator<Item = PartSize>)> {
        let rows = self.reducing.iter();
        rows.map(|(part, sizes)| (part.as_str(), sizes.iter().copied()))
    }

    /// The fittings that are not made.
    pub fn lacks(&self) -> impl Iterator<Item = &str> {
        self.lacks.iter().map(String::as_str)
    }
}

/// Who says each row of a data file, whatever its lists are.
pub(super) fn sources(text: &str) -> Vec<RowSource> {
    let Ok(file) = toml::from_str::<toml::Table>(text) else {
        return Vec::new();
    };
    let mut sources = Vec::new();
    for (table, value) in &file {
        let rows = match value {
            toml::Value::Array(rows) => rows.as_slice(),
            single => std::slice::from_ref(single),
        };
        for row in rows {
            let text = |key| row.get(key).and_then(toml::Value::as_str);
            if let Some(source) = text("source") {
                let name = ["size", "outside", "tube", "main", "part", "words"];
                sources.push(RowSource {
                    table: table.clone(),
                    row: name
                        .into_iter()
                        .find_map(text)
                        .unwrap_or_default()
                        .to_owned(),
                    source: match text("made_for_air") {
                        Some(stated) => format!("{source}; {stated}"),
                        None => source.to_owned(),
                    },
                });
            }
        }
    }
    sources
}

#[cfg(test)]
mod tests {
    use crate::library::Library;

    #[test]
    fn every_row_keeps_its_source() {
        let library = Library::shipped().unwrap();
        for system in library.systems() {
            let of = |table: &str| {
                let sources = system.sources().iter();
                sources.filter(|source| source.table == table).count()
            };
            for table in ["pipe", "fitting", "support"] {
                assert_eq!(of(table), system.sizes().count(), "{} {table}", system.name);
            }
            assert_eq!(of("bushing"), system.bushing_rows().count());
            assert_eq!(of("roughness"), 1);
        }
    }
}
